// What goes with what: each rule's verdict on a machine, with what is needed and what is there.
import { el, items } from "./dom.js";
import { nameOf } from "./hand.js";

const verdicts = { fits: "It goes in.", unknown: "Nobody can say yet: a fact is missing.", refused: "It does not go in." };
const standing = { fits: "What stands in the machine goes together.", unknown: "Whether all of it goes together nobody can say yet: a fact is missing.", refused: "What stands in the machine does not go together." };
const listed = (pieces) => pieces.map((one) => `${nameOf("roles", one.role)}: ${one.count > 1 ? `${one.count} x ` : ""}${one.name}`);

function clearance(rule) {
    if (rule.left !== undefined) return `: ${rule.left} against ${rule.right}`;
    if (rule.need === undefined || rule.unknown) return "";
    const unit = rule.unit ? ` ${rule.unit}` : "";
    return rule.shape === "place" ? `: ${rule.need} to be placed, ${rule.room} find a place` : Number(rule.need) === 0 ? `: none needed, ${rule.room}${unit} there` : `: ${rule.need}${unit} needed, ${rule.room}${unit} there`;
}
function ruleItem(rule) {
    if (rule.unknown) return el("li", {}, `${rule.name}: nobody has stated "${rule.unknown.fact.replaceAll("_", " ")}" of the ${nameOf("roles", rule.unknown.role)}.`);
    return el("li", {}, el("b", {}, rule.name), `${clearance(rule)}.`, rule.client && ` ${rule.client}`, rule.bench && rule.bench !== rule.client && el("small", {}, ` Bench: ${rule.bench}`));
}
// The needs of one unlock say the same sentences: once is enough.
function section(data, says, heading, folded = false) {
    const found = data.rules.filter((rule, k) => rule.verdict === says && !data.rules.slice(0, k).some((other) => other.verdict === says && JSON.stringify(other) === JSON.stringify(rule)));
    if (found.length === 0) return null;
    const list = el("ul", {}, found.map(ruleItem));
    return folded ? el("details", {}, el("summary", {}, `${heading} (${found.length})`), list) : el("div", {}, el("h4", {}, heading), list);
}

export function drawFits(data) {
    const came = data.pieces.filter((one) => !one.kept);
    return [
        el("p", {}, el("strong", {}, (came.length > 0 ? verdicts : standing)[data.verdict] ?? data.verdict)),
        data.out.length > 0 && el("div", {}, el("p", { class: "quiet" }, "Comes out to make room:"), items(listed(data.out))),
        data.tasks.length > 0 && el("div", {}, el("p", { class: "quiet" }, "With it is done:"), items(data.tasks.map((one) => one.name))),
        section(data, "refused", "In the way"), section(data, "unknown", "Not known"), section(data, "mind", "Goes, but mind"),
        section(data, "today", "Already so today"), section(data, "holds", "What was looked at, and holds", true),
        el("p", { class: "quiet" }, "What goes with what, and no more: sellers, money, days and wishes are left aside."),
    ].filter(Boolean);
}
