// Why a part is in the best bundle, or is not.
import { Answer } from "./answers.js";
import { button, el, items } from "./dom.js";
import { points, told } from "./amounts.js";
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
    if (why.entry?.intervals?.length) lines.push(`It is in the best bundle at a price of ${between(why.entry.intervals, "")} (from ${sellerName(why.entry.seller)}, now ${told(why.entry.price)}).`);
    if (why.along?.length) lines.push(`With it change: ${why.along.map((role) => nameOf("roles", role)).join(", ")}.`);
    if (why.refusal?.terms?.length) lines.push(`In the way: ${why.refusal.terms.map(termWords).join("; ")}.`);
    for (const rule of why.trial?.rules ?? [])
        if (["refused", "unknown"].includes(rule.verdict)) lines.push(`${rule.name}: ${rule.bench ?? rule.client ?? rule.verdict}`);
    return items(lines);
}

// A place that shows the answer about the part that was asked for last.
export function whyPlace() {
    let pane = null;
    const answer = new Answer("why", () => pane?.refresh());
    pane = new Pane(answer, draw, { what: "The answer" });
    const title = el("h3", { tabindex: "-1" });
    const node = el("div", { class: "why", hidden: true }, title, pane.node, el("p", {}, button("Close", () => { node.hidden = true; answer.quit(); })));
    return {
        node,
        ask(part, name) {
            title.textContent = `Why ${name}?`;
            node.hidden = false;
            title.focus();
            answer.want({ part });
        },
    };
}
