// How each number is worked out: the formulas with their inputs, today and with a part put in.
import { el, table } from "./dom.js";
import { points } from "./amounts.js";
import { nameOf } from "./hand.js";

const kinds = { stage: "Speed: each stage by itself, before it is fitted to a measured rate", sound: "Sound", looks: "Looks", rated: "Rated", measure: "Measures" };

// No more figures than such an estimate deserves.
export const few = (value) => (value === 0 ? "0" : value.toFixed(Math.abs(value) >= 100 ? 0 : Math.abs(value) >= 10 ? 1 : 2));
export const unitWords = (unit) => (!unit || unit === "1" ? "" : ` ${unit}`);
function valueWords(one, unit) {
    if (one.state !== "known") return one.state === "void" ? "nothing there" : "not known";
    const low = few(one.low), high = few(one.high);
    return `${few(one.value)}${unitWords(unit)}${low === high ? "" : ` (${low} to ${high})`}`;
}
const inputs = (one) => one.inputs.map((input) => `${input.name} = ${input.value}`).join("; ");

function line(one) {
    const now = valueWords(one, one.unit), then = one.with ? valueWords(one.with, one.unit) : null;
    const with_inputs = one.with && inputs(one.with) !== inputs(one) ? inputs(one.with) : "";
    return el("li", {}, el("b", {}, one.name), `: ${now}`, then !== null && then !== now && `, with the part ${then}`,
        el("small", { class: "formula" }, `= ${one.formula}`), inputs(one) && el("small", { class: "formula" }, inputs(one)),
        with_inputs && el("small", { class: "formula" }, `with the part: ${with_inputs}`), one.source && el("small", { class: "formula" }, `Source: ${one.source}`));
}
const section = (kind, lines) => el("details", {}, el("summary", {}, kinds[kind] ?? kind), el("ul", { class: "formulas" }, lines.map(line)));
const sections = (lines) => [...new Set(lines.map((one) => one.of))].map((kind) => section(kind, lines.filter((one) => one.of === kind)));

export function drawFormulas(data) {
    const apart = (one) => one.with && valueWords(one, one.unit) !== valueWords(one.with, one.unit);
    const moved = data.lines.filter(apart), rest = data.lines.filter((one) => !apart(one));
    if (data.part === null || data.part === undefined || data.present)
        return [data.present && el("p", {}, "It stands in the machine: these are the numbers that it has to do with."), ...sections(data.lines)];
    const gains = data.points.filter((one) => Number(one.points) !== 0);
    return [
        el("p", {}, "Put into the machine as it stands, and nothing else changed.", data.obstacle && ` The rules do not let it in like that (${data.obstacle}).`),
        gains.length > 0 ? table("Points against the machine as it stands", ["what counts", { number: "points" }, "worked out as"], gains.map((one) => [nameOf("criteria", one.criterion), { number: points(one.points) }, el("small", {}, one.formula)]))
            : el("p", {}, "By itself it brings no points."),
        moved.length > 0 && table("What it changes", ["what", "today", "with it"], moved.map((one) => [one.name, valueWords(one, one.unit), valueWords(one.with, one.unit)])),
        ...sections(moved),
        rest.length > 0 && el("details", {}, el("summary", {}, "What stays the same"), el("ul", { class: "formulas" }, rest.map(line))),
    ].filter(Boolean);
}
