// Nothing fits: which wishes, rules, musts and money cannot all be met, and what would mend it.
import { el, items } from "./dom.js";
import { points, told } from "./amounts.js";
import { changesWords } from "./bundle.js";
import { termWords } from "./why.js";

export function conflictNodes(plan) {
    const terms = plan.conflict?.terms ?? [];
    return [
        el("p", {}, el("strong", {}, "Nothing fits."), plan.needed ? ` What must be done takes ${told(plan.needed)}.` : ""),
        terms.length > 0 && el("div", {}, el("p", {}, "These cannot all be met:"), items(terms.map((term) => (term === "budget" ? "the money" : termWords(term))))),
        plan.mends?.length > 0 && el("div", {}, el("p", {}, "What would mend it:"), items(plan.mends.map((mend) =>
            `Give way in ${mend.terms.map((term) => (term === "budget" ? `the money (${told(mend.needed ?? mend.bundle?.cost)} are needed)` : termWords(term))).join(" and in ")}${mend.bundle ? `: then ${points(mend.bundle.points)} points for ${told(mend.bundle.cost)}, ${changesWords(mend.bundle)}` : ""}.`))),
    ].filter(Boolean);
}
