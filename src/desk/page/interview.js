// The interview, question by question, with the client beside: the very questions and answers of the command line.
import { button, el, field, fresh, say } from "./dom.js";
import { desk, mend } from "./hand.js";
import { refusal } from "./pane.js";
import { post } from "./server.js";

const tidy = (text) => text.trim().replace(/\n(?!\n|\s*-|\s*\d+\.?\s)/g, " ");

// What was told before the question itself: a danger that was heard, why an answer was not taken, all that is read back.
function ahead(told, question) {
    const words = question.trim().split(/\s+/).slice(0, 5).map((word) => word.replace(/[.*+?^${}()|[\]\\]/g, "\\$&")).join("\\s+");
    const at = new RegExp(words).exec(told);
    return (at ? told.slice(0, at.index) : told).replace(/\s*\d+ of \d+\s*$/, "").trim();
}
// Lines that a terminal broke are one; what is set in stays a line of its own.
const paragraphs = (text) => text.trim().split(/\n{2,}/).map((part) => el("p", { class: "said" }, part.replace(/\n(?=\S)/g, " ")));

export function interviewPlace(done) {
    const place = el("div", { class: "interview" });
    let answers = [];
    let working = false;

    const begin = button("", () => next());
    const beginWords = () => { begin.textContent = desk.job?.wishes ? "Begin the interview again" : "Begin the interview"; };
    function idle(...more) {
        answers = [];
        beginWords();
        place.replaceChildren(el("p", {}, "At most twelve questions. What nobody answers is assumed, and told as assumed. Nothing is changed without a yes."), el("p", {}, begin), ...more);
    }

    async function next() {
        if (working) return;
        working = true;
        try {
            const { data } = await post("interview", { sheet: desk.sheet, answers });
            if (data.ask === null) finished(data);
            else show(data);
        } catch (error) {
            place.querySelector(".refusal")?.remove();
            place.append(refusal(error, next));
        }
        working = false;
    }

    function show({ said, ask, needs_yes: needsYes, refused }) {
        const id = fresh("answer");
        const input = el("textarea", { id, rows: 2, maxlength: 1000, spellcheck: "false", autocomplete: "off" });
        const note = el("div", { id: fresh("note") });
        input.setAttribute("aria-describedby", note.id);
        const give = (text) => {
            answers.push(text);
            next();
        };
        input.addEventListener("keydown", (event) => {
            if (event.key !== "Enter" || event.shiftKey) return;
            event.preventDefault();
            give(input.value.trim());
        });
        const told = said.at(-1) ?? "", first = ahead(told, ask.question);
        if (refused && !/Not taken/.test(first)) note.append(el("p", { class: "care" }, `Not taken: ${refused}`));
        if (ask.items?.length > 0) note.append(el("ol", { class: "choices" }, ask.items.map((one) => el("li", { value: /^\d+$/.test(String(one.number)) ? one.number : null },
            /^\d+$/.test(String(one.number)) ? one.text : `${one.number ?? ""} ${one.text}`.trim()))));
        if (ask.write) note.append(el("p", { class: "quiet" }, `To be written: ${tidy(ask.write)}`));
        if (ask.now) note.append(el("p", { class: "quiet" }, `What stands: ${ask.now}`));
        if (ask.skipped) note.append(el("p", { class: "quiet" }, `Skipped: ${tidy(ask.skipped)}`));
        const yes = needsYes || ask.id === "sorted";
        place.replaceChildren(
            first ? el("div", { class: refused ? "refusal" : "ahead" }, paragraphs(first)) : "",
            ask.number ? el("p", { class: "quiet" }, `Question ${ask.number} of ${ask.of}`) : "",
            el("label", { for: id, class: "question" }, tidy(ask.question)), note, input,
            el("div", { class: "row" },
                yes ? button("Yes", () => give("yes")) : "", needsYes ? button("No", () => give("no")) : "",
                needsYes ? "" : button("Answer", () => give(input.value.trim())), yes ? "" : button("Skip it", () => give("")),
                answers.length > 0 ? button("Back", () => give("back")) : "",
                button("Leave the interview", () => idle())),
            ask.help ? el("details", {}, el("summary", {}, "Why is it asked?"), el("p", {}, tidy(ask.help))) : "",
            said.length > 1 ? el("details", {}, el("summary", {}, "What was said before"), said.slice(0, -1).flatMap(paragraphs)) : "");
        input.focus({ preventScroll: true });
        // The question is seen whole, not its field alone.
        if (place.getBoundingClientRect().top < 0 || input.getBoundingClientRect().bottom > innerHeight) place.scrollIntoView();
        say(`${first.replace(/\s+/g, " ")} ${tidy(ask.question)}`.trim());
    }

    function finished({ said, left }) {
        if (left) return idle();
        const title = el("input", { type: "text", maxlength: 200, value: desk.job?.title ?? "", autocomplete: "off", size: 30 });
        place.replaceChildren(...paragraphs(said.at(-1) ?? ""), el("p", {}, "The interview is at its end."),
            field("What heads every paper", title, "Name the machine or the room. Names of people do not belong there."),
            el("div", { class: "row" }, button("Take it into the job", async () => {
                try {
                    const text = title.value.trim();
                    await mend("interview", { answers, take: true, ...(text && text !== desk.job?.title ? { title: text } : {}) });
                    idle(el("p", {}, "It stands in the job now. ", el("a", { href: "#money" }, "To the money")));
                    done();
                } catch (error) {
                    place.querySelector(".refusal")?.remove();
                    place.append(refusal(error));
                }
            }), button("Drop it", () => idle())));
        title.focus();
    }
    idle();
    return { node: place, refresh: beginWords };
}
