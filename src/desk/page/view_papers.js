// The papers of the job: the same files that the command line writes.
import { card, el, field } from "./dom.js";
import { points, told } from "./amounts.js";
import { answers } from "./asked.js";
import { desk, whole } from "./hand.js";
import { handoverCard, otherHandover, refreshHandover } from "./handover.js";
import { paperDeed } from "./papers.js";

const which = el("select", {}, [1, 2, 3].map((k) => el("option", { value: k }, `option ${k}`)));
const option = () => Number(which.value);
const names = { first: "First step", middle: "Middle way", full: "Full measure" };
const made = [
    ["The proposal", "Three options on one page, with the curve, what to mind, what needs the client's word, and a place to sign.", paperDeed("Make the proposal", "proposal")],
    ["What to buy where", "Of the option that was signed: an order for each seller, with delivery, warranty and the last day to give back.", paperDeed("Make the shopping list", "shopping", option)],
    ["The work order", "Of the option that was signed: what is done before the case is opened, then step by step, and what is measured at the end.", paperDeed("Make the work order", "bench", option)],
    ["The curve", "What each sum would bring, as a picture to take along.", paperDeed("Make the curve", "curve")],
    ["The map", "Which bundle is best whichever way what counts is weighed, as a picture.", paperDeed("Make the map", "map")],
];
const trying = el("p", { class: "care", hidden: true }, "These papers are of the wishes that are being tried. Write them into the job before anybody signs.");
const empty = el("p", { class: "card" }, "First the client's wishes and money.");
const papers = el("div", { class: "papers" }, made.map(([name, words, paper]) => card(name, {}, el("p", { class: "quiet" }, words), ...paper.both)));
const handed = handoverCard(option);
which.addEventListener("change", () => { for (const [, , paper] of made) paper.place.replaceChildren(); otherHandover(); });
const choose = el("div", { class: "card" }, field("The option that was signed", which), trying);

export const view = {
    id: "papers", name: "Papers",
    node: el("div", { class: "stack" }, empty, choose, papers, handed),
    show() {
        if (whole()) answers.options.want({});
        this.refresh();
    },
    asks: () => whole() && answers.options.want({}),
    refresh() {
        empty.hidden = whole();
        choose.hidden = papers.hidden = handed.hidden = !whole();
        trying.hidden = desk.trial.size === 0;
        refreshHandover();
        const options = answers.options.now ? answers.options.data.options : null;
        if (!options?.length) return;
        const before = which.value;
        which.replaceChildren(...options.map((one, k) => el("option", { value: k + 1 }, `${k + 1}. ${names[one.option] ?? one.option}: ${told(one.bundle.cost)}, ${points(one.bundle.points)} points`)));
        if (before && Number(before) <= options.length) which.value = before;
    },
    // What was made belongs to other wishes.
    wishesChanged() {
        for (const [, , paper] of made) paper.place.replaceChildren();
        if (whole()) otherHandover();
    },
};
