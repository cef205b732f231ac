// The machine and its findings, in few words for the counter and in full for the bench.
import { el, items } from "./dom.js";
import { desk, nameOf } from "./hand.js";

export const pieceName = (piece) => piece.name ?? nameOf("parts", piece.part);
// What the client brings has its name in the job alone.
export const partName = (id) => desk.job?.given?.find((one) => one.part === id)?.name ?? nameOf("parts", id);
export const kinds = { limits: "it holds back", loud: "it is loud", "near-its-limit": "near its limit", "set-wrong": "set or mounted wrongly", worn: "worn or failing" };

export function piecesShort(job) {
    const pieces = Object.entries(job?.machine ?? {}).filter(([, list]) => list.length > 0);
    if (pieces.length === 0) return el("p", {}, "No machine yet: begin with its dumps.");
    return el("details", { class: "pieces" }, el("summary", {}, `${pieces.map(([, list]) => list).flat().length} pieces, ${pieces.length} places`),
        el("dl", {}, pieces.map(([role, list]) => el("div", {}, el("dt", {}, nameOf("roles", role)), el("dd", {}, list.map((piece) =>
            `${(piece.count ?? 1) > 1 ? `${piece.count} x ` : ""}${pieceName(piece)}${piece.condition && piece.condition !== "good" ? ` (${piece.condition})` : ""}`).join(", "))))));
}

export function findingsShort(look) {
    if (!look) return el("div");
    const musts = look.findings.filter((one) => one.must), others = look.findings.filter((one) => !one.must);
    const first = [...musts, ...others].slice(0, 5);
    const left = look.findings.length - first.length;
    return el("div", {}, el("h3", {}, "What is wrong"),
        first.length === 0 ? el("p", {}, "Nothing was found.") : el("ol", { class: "wrongs" }, first.map((one) => el("li", { class: one.must ? "must" : null },
            one.must ? el("strong", {}, "A must. ") : null, one.evidence))),
        el("p", {}, el("a", { href: "#machine" }, left > 0 ? `${left} more, and what mends them` : "What mends them")),
        look.to_ask?.length > 0 && el("p", { class: "quiet" }, `${look.to_ask.length} things nobody has looked at yet.`));
}
