// How sure the answer is of the client's weights: the map, what is sure, and what to ask next.
import { button, card, el, items, table } from "./dom.js";
import { figure, milli, points, short, told } from "./amounts.js";
import { answers } from "./asked.js";
import { bundleLines } from "./bundle.js";
import { nameOf, desk, whole } from "./hand.js";
import { deed, Pane } from "./pane.js";
import { ticket } from "./papers.js";

const share = (x) => `${Math.round(x * 100)} %`;

/* ---- the map ------------------------------------------------------------------------------------------------------- */

function drawMap(map) {
    const heads = map.axes.map((axis) => axis.name ?? nameOf("criteria", axis.criterion));
    const here = map.regions.find((one) => one.number === map.here);
    const nearest = map.nearest_change;
    return [
        el("p", {}, `The client's answer: ${map.axes.map((axis, k) => `${heads[k]} ${share(axis.at)}`).join(", ")}${map.others && Number(map.others) > 0 ? `; other things keep ${share(Number(map.others))} of all weight` : ""}.`),
        here && el("p", {}, `It lies in region ${here.number}, which has ${share(here.area)} of all weightings and ${share(here.of_likely)} of the likely ones.`),
        nearest ? el("p", {}, `The nearest change: ${share(nearest.share)} of the weight from ${nameOf("criteria", nearest.from)} to ${nameOf("criteria", nearest.to)} leads to region ${nearest.then}.`) : el("p", {}, "No other weighting of these leads to another bundle."),
        table("The regions of the map", [{ number: "region" }, { number: "sum" }, { number: "of all" }, { number: "of the likely" }, "what it does"], map.regions.map((one) => [{ number: `${one.number}${one.number === map.here ? " (here)" : ""}${one.proved === false ? ", not settled" : ""}` },
            { number: told(one.cost) }, { number: share(one.area) }, { number: share(one.of_likely) }, bundleLines(one).join("; ") || "nothing changes"])),
    ];
}
const mapPane = new Pane(answers.map, drawMap, { what: "The map", slow: "Large jobs take a minute." });
const picture = deed("Draw the map", async () => {
    answers.map.want({}, true); // the table of the same numbers
    const made = await ticket("map");
    return el("figure", {}, el("img", { src: `/paper/${made.ticket}`, alt: "Which bundle is best, whichever way the client weighs what counts. The table of the regions says the same.", class: "picture" }),
        el("figcaption", { class: "quiet" }, made.exit === 2 ? "Dashed borders were not settled." : "The numbers of the regions are those of the table."));
});

/* ---- what is sure ------------------------------------------------------------------------------------------------------ */

function thing(one) {
    const p = (text) => `${figure(String(Number(text) * 100), 0)} %`;
    return [p(one.index), one.share === null || one.share === undefined ? "-" : p(one.share), one.prices ? (one.prices[0] === one.prices[1] ? p(one.prices[0]) : `${p(one.prices[0])} to ${p(one.prices[1])}`) : "-"];
}
function drawSure(sure) {
    const rows = [];
    for (const role of sure.roles) {
        rows.push([`${nameOf("roles", role.role)}: what stands there today`, ...thing(role.as_it_is)]);
        for (const part of role.parts ?? []) rows.push([`${nameOf("parts", part.part)} (${nameOf("roles", role.role)})`, ...thing(part)]);
    }
    for (const task of sure.tasks) rows.push([nameOf("tasks", task.task), ...thing(task)]);
    const best = sure.bundles[sure.best];
    const all = rows.filter((row) => row[1] === "100 %"), some = rows.filter((row) => row[1] !== "100 %" && row[1] !== "0 %");
    return [
        el("p", {}, `${sure.bundles.length} bundles of which no other is at least as good at all weights that may be right.`),
        best && el("p", {}, short(milli(best.regret)) === short(0) ? "Wherever the weights are, no other bundle brings noticeably more than the best one." : `If the weights are elsewhere, the best bundle brings at most ${points(best.regret)} points less than what would be best there.`),
        el("h3", {}, "Whatever they prefer"), all.length > 0 ? items(all.map((row) => row[0])) : el("p", {}, "Nothing is the same in all of them."),
        some.length > 0 && table("It hangs on what they prefer", ["what", { number: "in these bundles" }, { number: "of the weightings" }, { number: `with prices ${sure.prices_percent} % either way` }], some.map(([what, ...shares]) => [what, ...shares.map((number) => ({ number }))])),
    ].filter(Boolean);
}
const surePane = new Pane(answers.sure, drawSure, { what: "What is sure", slow: "Large jobs take half a minute.", idle: [el("p", {}, button("Work out what is sure", () => answers.sure.want({}, true)))] });

/* ---- what to ask next --------------------------------------------------------------------------------------------------- */

const gain = (id) => desk.words.swings?.find((one) => one.criterion === id)?.gain ?? `${nameOf("criteria", id)} from worst to best`;
function questionWords(one) {
    if (one.is === "worth") return `If "${gain(one.other)}" is worth ${figure(one.beside, 0)} to you, is "${gain(one.criterion)}" worth ${figure(one.worth, 0)} or more?`;
    if (one.is === "twice") return `Is "${gain(one.criterion)}" worth at least twice as much to you as "${gain(one.other)}"?`;
    return `Is "${gain(one.criterion)}" worth more to you than "${gain(one.other)}"?`;
}
function drawNext(next) {
    const ask = next.ask === null || next.ask === undefined ? null : next.questions[next.ask];
    return [
        ask ? el("div", {}, el("p", { class: "headline" }, questionWords(ask)), el("p", {}, `Knowing the answer brings ${figure(ask.value, 2)} points on average.`),
            items(ask.answers.map((one) => `${one.answer === "yes" ? "After a yes" : "After a no"}: ${one.bundle === null ? "no weighting gives that answer" : bundleLines(next.bundles[one.bundle]).join("; ") || "nothing changes"}`)))
            : el("p", { class: "headline" }, "Nothing to ask: no answer about weights changes enough."),
        next.questions.length > 0 && table("All questions about weights", ["question", { number: "points it is worth" }], next.questions.map((one) => [questionWords(one), { number: figure(one.value, 2) }])),
        next.assumed?.length > 0 && el("div", {}, el("h3", {}, "What nobody answered, and may matter more"), items(next.assumed)),
    ].filter(Boolean);
}
const nextPane = new Pane(answers["ask-next"], drawNext, { what: "The question", idle: [el("p", {}, button("What to ask next", () => answers["ask-next"].want({}, true)))] });

const cards = [card("What to ask next", {}, nextPane.node), card("The map of what counts", {}, ...picture.both, mapPane.node), card("Sure, whatever they prefer", {}, surePane.node)];
const empty = el("p", { class: "card" }, "First the client's wishes.");

export const view = {
    id: "taste", name: "Taste",
    node: el("div", { class: "grid-two" }, empty, el("div", { class: "column" }, cards[0], cards[2]), el("div", { class: "column" }, cards[1])),
    show() { this.refresh(); },
    refresh() {
        empty.hidden = whole();
        for (const one of cards) one.hidden = !whole();
        for (const one of [mapPane, surePane, nextPane]) one.refresh();
    },
    wishesChanged() { picture.place.replaceChildren(); },
};
