// What-ifs that were pinned: to go back to, and to lay two beside each other, difference by difference.
import { button, card, el, fresh, items, say, table } from "./dom.js";
import { figure, minor, milli, money, plain, points, short, told } from "./amounts.js";
import { answers, hearAnswers } from "./asked.js";
import { bundleLines, partWords } from "./bundle.js";
import { belongsTo, desk, nameOf, tell } from "./hand.js";

let chosen = [];
let number = 0;
let hooks = { sum: () => 0, setSum: () => {}, go: () => {}, trialWords: () => [] };
export const usePins = (more) => { hooks = { ...hooks, ...more }; };

// What is pinned is pinned with its answer: where that is not there yet, as soon as it is.
let waiting = null;
export function pinNow() {
    const plan = answers.plan;
    waiting = plan.now ? null : plan.key;
    if (!plan.now) {
        say("It is pinned as soon as its answer is there.");
        return;
    }
    const bundle = plan.data.bundles?.[0];
    if (!bundle) {
        say("Nothing fits: there is nothing to pin.");
        return;
    }
    const words = hooks.trialWords();
    desk.pins.push({ id: fresh("pin"), number: ++number, trial: new Map(desk.trial), words, sum: hooks.sum(), own: hooks.ownSum(), bundle, job: belongsTo().split(":")[0],
        name: words.length > 0 ? words.join("; ") : "the job as it is" });
    say(`Pinned as ${number}.`);
    tell();
}

hearAnswers((name) => {
    if (name === "plan" && waiting !== null && answers.plan.now && answers.plan.key === waiting) pinNow();
});

function goBack(pin) {
    desk.trial = new Map(pin.trial);
    hooks.setSum(pin.own ? null : pin.sum);
    tell();
    hooks.go();
}

function one(pin) {
    const other = pin.job !== belongsTo().split(":")[0];
    const pick = el("input", { type: "checkbox", checked: chosen.includes(pin) || null, on: { change: (event) => {
        chosen = chosen.filter((each) => each !== pin);
        if (event.target.checked) chosen = [...chosen, pin].slice(-2);
        view.refresh(true);
    } }, id: fresh("pick") });
    return el("li", { class: "card pinned" },
        el("h3", {}, `Pin ${pin.number}`), el("p", {}, pin.name),
        el("p", {}, el("span", { class: "tag" }, money(pin.sum)), ` ${points(pin.bundle.points)} points for ${told(pin.bundle.cost)}`),
        items(bundleLines(pin.bundle)),
        other && el("p", { class: "quiet" }, "The job itself was changed since; what was tried is put on the job as it is now."),
        el("p", { class: "row" }, button(`Go back to pin ${pin.number}`, () => goBack(pin)),
            el("label", { class: "tick" }, pick, " compare"),
            button(`Take out pin ${pin.number}`, () => { desk.pins = desk.pins.filter((each) => each !== pin); chosen = chosen.filter((each) => each !== pin); view.refresh(true); })));
}

/* ---- two beside each other --------------------------------------------------------------------------------------- */

const sign = (text) => (text.startsWith("-") ? text : `+${text}`);
const roleWords = (bundle, role) => {
    const swap = bundle.swaps.find((each) => each.role === role);
    const tasks = bundle.tasks.filter((task) => task.role === role).map((task) => task.name);
    const parts = swap ? [swap.in.length > 0 ? [...swap.in, ...swap.stays].map(partWords).join(" and ") : `${swap.out.map(partWords).join(" and ")} goes out`] : [];
    return [...parts, ...tasks].join("; ") || "as today";
};

function compare([a, b]) {
    const rows = [];
    const row = (what, left, right, more) => { if (left !== right) rows.push([what, left, right, more]); };
    const A = a.bundle, B = b.bundle;
    row("sum to spend", money(a.sum), money(b.sum), sign(plain(b.sum - a.sum)));
    row("cost", told(A.cost), told(B.cost), sign(plain(minor(B.cost) - minor(A.cost))));
    row("points", points(A.points), points(B.points), sign(short(milli(B.points) - milli(A.points))));
    for (const id of Object.keys(A.criteria)) row(`points of ${nameOf("criteria", id)}`, points(A.criteria[id].points), points(B.criteria[id]?.points), sign(short(milli(B.criteria[id]?.points ?? "0") - milli(A.criteria[id].points))));
    for (const rate of A.rates) {
        const other = B.rates.find((each) => each.use === rate.use);
        const words = (each) => (each === undefined ? "-" : each.rate ? `${figure(each.rate, Number(each.rate) < 10 ? 1 : 0)} ${each.unit}` : `${figure(each.ratio, 2)} times today's rate`);
        row(nameOf("uses", rate.use), words(rate), words(other), "");
    }
    if (A.sound && B.sound) row("loudness at the seat", `${figure(A.sound.loudness_sone, 2)} sone`, `${figure(B.sound.loudness_sone, 2)} sone`, "");
    row("bench work", `${A.minutes} min`, `${B.minutes} min`, `${sign(String(B.minutes - A.minutes))} min`);
    row("days until the last part", String(A.longest_days), String(B.longest_days), sign(String(B.longest_days - A.longest_days)));
    const roles = [...new Set([...A.swaps, ...A.tasks, ...B.swaps, ...B.tasks].map((each) => each.role))].sort();
    for (const role of roles) row(nameOf("roles", role), roleWords(A, role), roleWords(B, role), "");
    return rows.length === 0 ? el("p", {}, "These two are the same in everything that is told.")
        : table(`Pin ${a.number} beside pin ${b.number}: where they differ`, ["what", `pin ${a.number}`, `pin ${b.number}`, "difference"], rows);
}

const list = el("ul", { class: "pins" });
const beside = el("div");
const empty = el("p", {}, "Nothing is pinned yet. \"Pin this\", beside the sum, keeps what is being tried together with its answer.");
let drawn = null;

export const view = {
    id: "pins", name: "Pins",
    node: el("div", { class: "stack" }, card("Pinned", {}, empty, list), card("Two beside each other", {}, beside)),
    show() { this.refresh(true); },
    refresh(again = false) {
        const now = `${desk.pins.map((pin) => pin.id).join()}|${chosen.map((pin) => pin.id).join()}|${belongsTo()}`;
        if (drawn === now && !again) return;
        drawn = now;
        const focus = document.activeElement?.closest?.(".pins") ? document.activeElement.id : null;
        empty.hidden = desk.pins.length > 0;
        list.replaceChildren(...desk.pins.map(one));
        if (focus && again) list.querySelector("input:checked")?.focus();
        beside.replaceChildren(chosen.length === 2 ? compare(chosen) : el("p", { class: "quiet" }, "Tick two pins to see difference by difference."));
    },
    wishesChanged() {},
};
