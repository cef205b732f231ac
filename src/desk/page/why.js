// A part in question: why it is in the best bundle or is not, whether it may go in, and how its numbers are worked out.
import { Answer } from "./answers.js";
import { button, el, items } from "./dom.js";
import { drawFits } from "./fits.js";
import { drawFormulas } from "./formulas.js";
import { currencyCode, points, told } from "./amounts.js";
import { nameOf, sellerName } from "./hand.js";
import { Pane } from "./pane.js";

const standings = { in: "It is in the best bundle.", beaten: "It would go in, but the best bundle is better without it.",
    dear: "It would go in if there were more money.", never: "It cannot go in.", open: "That was not settled." };
const leftOut = { "too-late": "It comes too late.", "no-stock": "Nobody has it.", avoided: "It is to be avoided.",
    unknown: "Something of it is not known, and a rule needs it.", "not-sold": "Nobody sells it." };
const termWords = (term) => {
    const [kind, name] = [term.slice(0, term.indexOf(":")), term.slice(term.indexOf(":") + 1)];
    return { rule: `the rule "${name}"`, must: `the must "${name}"`, keep: `that ${nameOf("roles", name)} is kept`, replace: `that ${nameOf("roles", name)} goes`,
        avoid: `that ${name} is avoided`, limit: `the limit on ${name.replaceAll("_", " ")}`, use: `that ${name} is used` }[kind] ?? term;
};
export { termWords };

function between(ranges, unit) {
    return ranges.map(({ from, to }) => (to === null ? `from ${from}${unit}` : from === null ? `up to ${to}${unit}` : `${from} to ${to}${unit}`)).join(", or ");
}

function draw(why) {
    const lines = [standings[why.standing] ?? why.standing];
    for (const one of why.left_out ?? []) lines.push(leftOut[one.why] ?? one.why);
    if (why.behind && why.standing !== "in") lines.push(`With it there are ${points(why.behind)} points fewer.`);
    if (why.entry?.intervals?.length) lines.push(`At a price of ${between(why.entry.intervals, ` ${currencyCode()}`)} it is in the best bundle (from ${sellerName(why.entry.seller)}, now ${told(why.entry.price)}).`);
    if (why.along?.length) lines.push(`With it change: ${why.along.map((role) => nameOf("roles", role)).join(", ")}.`);
    if (why.refusal?.terms?.length) lines.push(`In the way: ${why.refusal.terms.map(termWords).join("; ")}.`);
    for (const rule of why.trial?.rules ?? [])
        if (["refused", "unknown"].includes(rule.verdict)) lines.push(`${rule.name}: ${rule.bench ?? rule.client ?? rule.verdict}`);
    return items(lines);
}

// A place that shows the answers about the parts that were asked for last. Of several the first is asked why; all are asked whether they go in.
export function whyPlace() {
    let parts = [];
    const ask = (question, what, drawn, words, idle) => {
        let pane = null;
        const answer = new Answer(question, () => pane?.refresh());
        pane = new Pane(answer, drawn, { what, idle: [el("p", {}, button(idle, () => answer.want(words(), true)))] });
        return { answer, pane, words };
    };
    const why = ask("why", "The answer", draw, () => ({ part: parts[0] }), "Why is it in the best bundle, or not?");
    const fits = ask("fits", "Whether it goes in", drawFits, () => ({ parts }), "May it go in?");
    const formulas = ask("explain", "How it is worked out", drawFormulas, () => ({ part: parts[0] }), "How is it worked out?");
    const all = [why, fits, formulas];
    const title = el("h3", { tabindex: "-1" });
    const node = el("div", { class: "why", hidden: true }, title, el("h4", {}, "Why it is in the best bundle, or is not"), why.pane.node,
        el("h4", {}, "What goes with what"), fits.pane.node, el("h4", {}, "What it changes by itself"), formulas.pane.node,
        el("p", {}, button("Close", () => {
            node.hidden = true;
            for (const one of all) one.answer.quit();
        })));
    function askAll(list, name) {
        parts = list;
        title.textContent = `About ${name}`;
        node.hidden = false;
        title.focus();
        for (const { answer, pane } of [fits, formulas]) {
            answer.quit();
            Object.assign(answer, { data: null, dataKey: null, error: null, halted: null });
            pane.refresh();
        }
        why.answer.want(why.words());
    }
    return {
        node, askAll,
        ask: (part, name) => askAll([part], name),
        refresh() {
            if (!node.hidden) for (const one of all) one.pane.refresh();
        },
    };
}
