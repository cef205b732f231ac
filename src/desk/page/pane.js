// Where an answer is shown: being worked out, old, stopped early, refused; always in words.
import { button, el } from "./dom.js";
import { stopped } from "./server.js";

const sentence = (words) => {
    const text = String(words ?? "").trim();
    return text && text[0].toUpperCase() + text.slice(1) + (/[.!?:]$/.test(text) ? "" : ".");
};

export function refusal(error, again = null) {
    return el("div", { class: "refusal" },
        el("p", {}, el("strong", {}, sentence(error.message))),
        error.complaints?.map((one) => el("ul", {}, el("li", {}, one.place ? `${one.place} ${one.what}` : one.what, one.why && el("p", {}, sentence(one.why)), one.mend && el("p", {}, `To mend it: ${one.mend}.`)))),
        error.why && el("p", {}, sentence(error.why)),
        error.mend && el("p", {}, `To mend it: ${error.mend.replace(/\.$/, "")}.`),
        again && el("p", {}, button("Ask again", again)));
}

// A button whose work takes a while, with what came of it below. The work is not begun twice.
export function deed(words, act, how = {}) {
    const place = el("div", { class: "came" });
    const press = button(words, async () => {
        if (press.getAttribute("aria-disabled")) return;
        press.setAttribute("aria-disabled", "true");
        place.replaceChildren(el("p", { class: "quiet" }, "One moment."));
        try {
            const came = await act();
            place.replaceChildren(...[came ?? []].flat());
        } catch (error) {
            place.replaceChildren(...(stopped(error) ? [] : [refusal(error)]));
        }
        press.removeAttribute("aria-disabled");
    }, how);
    return { press, place, both: [el("p", { class: "row" }, press), place] };
}

export class Pane {
    // draw(data, exit) -> nodes. idle: what stands there before anything was asked.
    constructor(answer, draw, { idle = [], what = "This", slow = "" } = {}) {
        Object.assign(this, { answer, draw, idle, what, slow, drawn: undefined });
        this.notice = el("div", { class: "notice" });
        this.body = el("div", { class: "body" });
        this.node = el("div", { class: "pane" }, this.notice, this.body);
    }

    refresh() {
        const a = this.answer;
        if (this.drawn !== a.data) {
            this.drawn = a.data;
            this.body.replaceChildren(...[a.data === null ? this.idle : this.draw(a.data, a.exit)].flat(Infinity).filter(Boolean));
        }
        const state = a.working ? (a.old ? "anew" : "first") : a.stopped ? "stopped" : a.error && !a.now ? "refused" : a.old ? "old" : a.data && a.exit === 2 ? "early" : "there";
        this.node.classList.toggle("old", a.old);
        this.body.hidden = state === "first" || (state === "refused" && a.data === null);
        if (state === this.state && state !== "refused") return;
        this.state = state;
        const again = () => a.want(a.words, true);
        const belongs = a.old ? " What you see belongs to the wishes before." : "";
        const show = {
            anew: () => [el("p", {}, el("strong", {}, "Being worked out anew."), belongs), el("p", {}, button("Stop", () => a.stop()))],
            first: () => [el("p", {}, `${this.what} is being worked out. ${this.slow}`), el("p", {}, button("Stop", () => a.stop()))],
            stopped: () => [el("p", {}, el("strong", {}, "Stopped."), belongs), el("p", {}, button("Ask again", again))],
            old: () => [el("p", {}, el("strong", {}, "Not asked anew yet."), belongs), el("p", {}, button("Ask anew", again))],
            refused: () => [refusal(a.error, again), a.old && el("p", {}, belongs)].filter(Boolean),
            early: () => [el("p", {}, "The time ran out before all of it was settled: the best that was found is shown.")],
            there: () => [],
        }[state]();
        this.notice.replaceChildren(...show);
        this.notice.hidden = show.length === 0;
    }
}
