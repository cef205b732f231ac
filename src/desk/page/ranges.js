// Over which sums, prices and weights the best bundle stays the best.
import { button, el, table } from "./dom.js";
import { figure, minor, points, told } from "./amounts.js";
import { answers } from "./asked.js";
import { conflictNodes } from "./conflict.js";
import { nameOf, sellerName } from "./hand.js";
import { Pane } from "./pane.js";

const open = (one) => (one.settled ? "" : "; maybe further, it was not settled");
function priceSpan({ from, to }) {
    const free = minor(from) === 0;
    if (to === null) return free ? "whatever it costs" : `no less than ${told(from)}`;
    if (minor(to) === 0) return "only while it is free";
    return free ? `up to ${told(to)}` : from === to ? `at ${told(from)} alone` : `${told(from)} to ${told(to)}`;
}
function weightSpan({ from, to }) {
    return from > to ? "at no other whole percent" : from === 0 && to === 100 ? "at any weight" : `${from} to ${to} %`;
}

function draw(data) {
    if (!data.bundle) return conflictNodes(data);
    const { budget } = data;
    return [
        el("p", {}, `The best bundle, ${points(data.bundle.points)} points for ${told(data.bundle.cost)}, stays the best while one of these moves this far and all else stays as it is.`),
        el("p", {}, el("b", {}, "Money in all: "), `${budget.to === null ? `from ${told(budget.from)} on, however much it is` : `from ${told(budget.from)} to ${told(budget.to)}`}; ${told(budget.now)} now${open(budget)}.`),
        data.prices.length > 0 && table("Prices, one at a time", ["part", { number: "now" }, "it stays best at"], data.prices.map((one) => [`${one.name}, from ${sellerName(one.seller)}${one.bought ? "" : " (not bought)"}`, { number: told(one.now) }, `${priceSpan(one)}${open(one)}`])),
        data.weights.length > 0 && table("What counts, one at a time", ["what", { number: "share now" }, "it stays best at"], data.weights.map((one) => [nameOf("criteria", one.criterion), { number: `${figure(String(one.now_percent), 0)} %` }, one.settled ? weightSpan(one) : "not settled"])),
    ].filter(Boolean);
}

export const rangesPane = new Pane(answers.ranges, draw, { what: "How far it holds", slow: "Large jobs take a minute.", idle: [el("p", {}, button("How far the best holds", () => answers.ranges.want({}, true)))] });
