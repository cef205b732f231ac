// Three priced options side by side, each proved best for its rule.
import { card, el, fresh, items, button } from "./dom.js";
import { count, currencyCode, figure, minor, points, rate, told } from "./amounts.js";
import { answers } from "./asked.js";
import { bundleLines, cautions, inWords, louder, partWords, touched } from "./bundle.js";
import { rangesPane } from "./ranges.js";
import { conflictNodes } from "./conflict.js";
import { desk, entry, nameOf, whole } from "./hand.js";
import { Answer } from "./answers.js";
import { Pane } from "./pane.js";
import { paperDeed } from "./papers.js";

const names = { first: "First step", middle: "Middle way", full: "Full measure" };
const rules = { "ends-complaint": "the least money that ends what is complained of most", "keeps-money": "what costs no more than must be", "best-rate": "the most points for each sum",
    bend: "where the curve bends", "nested-bend": "between the two, so that no part bought on the way is given up", best: "the most that all the money can bring" };
const complaintName = (id) => entry("complaints", id)?.name ?? id.replaceAll("-", " ");

function hazards(ids) {
    const known = new Map((desk.words.hazards ?? []).map((one) => [one.hazard ?? one.id, one]));
    return ids.map((id) => {
        const one = known.get(id);
        return one ? el("li", {}, el("b", {}, one.danger), ` ${one.habit} ${one.limit}`) : el("li", {}, id.replaceAll("-", " "));
    });
}

function asks(ids) {
    const known = new Map((desk.words.asks ?? []).map((one) => [one.ask ?? one.id, one.words ?? one.name]));
    return ids.map((id) => known.get(id) ?? id.replaceAll("-", " "));
}

function promised(one) {
    const name = nameOf("uses", one.use);
    if (one.rate_now === undefined || one.rate_now === null) return `${name}: ${figure(one.ratio, 2) === "1.00" ? "as today" : `${figure(one.ratio, 2)} times today's rate`}`;
    const low = rate(one.low), high = rate(one.high);
    if (figure(one.ratio, 2) === "1.00") return `${name}: as today, ${rate(one.rate_now)} ${one.unit}`;
    return `${name}: ${rate(one.rate_now)} now, about ${rate(one.rate)}${low === high ? "" : ` (${low} to ${high})`} ${one.unit} then`;
}

// Each part with its seller, days, price and what is short of it.
function done(bundle) {
    const parts = touched(bundle).flatMap(({ role, swap, tasks }) => {
        const name = nameOf("roles", role), out = swap ? swap.out.map(partWords).join(" and ") : "";
        return [...(swap?.in ?? []).map((part, k) => el("li", {}, `${name}: ${partWords(part)}${out && k === 0 ? ` in place of ${out}` : ""}`, el("small", {}, ` (${inWords(part)})`))),
            swap && swap.in.length === 0 && out && el("li", {}, `${name}: ${out} goes out`), ...tasks.map((task) => el("li", {}, `${name}: ${task.name}`))].filter(Boolean);
    });
    return el("ul", {}, parts.length > 0 ? parts : el("li", {}, "nothing changes"));
}

function option(one, k) {
    const b = one.bundle, id = fresh("option");
    const facts = [
        one.ends.length > 0 ? `Ends: ${one.ends.map(complaintName).join("; ")}.` : "Ends none of the complaints.",
        b.sound && `Loudness: ${figure(b.sound.loudness_sone, 2)} sone, ${figure(b.sound.loudness_now_sone, 2)} today (${louder(Number(b.sound.loudness_sone) / Number(b.sound.loudness_now_sone))}).`,
        ...one.promised.map((p) => `${promised(p)}.`),
        one.chance && "Some of this is luck: what a raised clock may bring is not promised.",
        one.nearer_to_taste_percent !== null && one.nearer_to_taste_percent !== undefined && `Looks: ${one.nearer_to_taste_percent} % of what is missing today.`,
        `Days without the machine: ${one.days_without}.`,
    ].filter(Boolean);
    return el("section", { class: "card option", "aria-labelledby": id },
        el("h3", { id }, `${k + 1}. ${names[one.option] ?? one.option}`),
        el("p", { class: "quiet" }, rules[one.rule] ?? one.rule, one.complaint ? `: ${complaintName(one.complaint)}` : ""),
        el("p", {}, el("span", { class: "tag" }, told(b.cost)), ` ${points(b.points)} points${one.proved ? "" : ", not proved"}`),
        items(facts),
        el("h4", {}, "What is done"), done(b),
        el("h4", {}, "Mind"), cautions(b),
        one.asks.length > 0 && el("div", {}, el("h4", {}, "Needs the client's word"), items(asks(one.asks))),
        one.hazards.length > 0 && el("details", {}, el("summary", {}, "What can hurt in this work"), el("ul", {}, hazards(one.hazards))),
        el("h4", {}, "Going on"),
        items([
            one.next_step ? `${told(one.next_step.more_cost)} more would bring ${points(one.next_step.more_points)} points more.` : "More money brings no more points.",
            one.next_hundred && `The next 100 ${currencyCode()} would bring ${points(one.next_hundred.more_points) === "0.0" ? "no" : points(one.next_hundred.more_points)} points more.`,
            ...one.given_up.map((g) => (g.parts.length === 0 ? `Going on later to "${names[g.to]}": no part bought is given up.`
                : `Going on later to "${names[g.to]}" gives up ${g.parts.map((p) => p.name).join(", ")}${minor(g.price) > 0 ? ` (${told(g.price)})` : ""}.`)),
        ].filter(Boolean)),
        ...paperDeed(`Make the work order of option ${k + 1}`, "bench", () => k + 1).both);
}

function draw(data) {
    if (!data.options?.length) return conflictNodes(data);
    return [
        data.complaints.length > 0 && el("div", {}, el("h3", {}, "What the client complains of"), items(data.complaints.map((one) =>
            `${complaintName(one.complaint)}${one.use ? ` (${nameOf("uses", one.use)})` : ""}: "${one.words}". ${one.shows === false ? "It does not show in the numbers." : one.ended_within_budget ? "It can be ended for this money." : one.costs_at_least ? `What ends it takes ${told(one.costs_at_least)} at the least.` : ""}`))),
        data.at_its_end && el("p", { class: "care" }, "This machine is at its end: the best bundle renews nearly everything that makes it what it is."),
        data.advice === "keep" && el("p", { class: "care" }, "Money is better kept here: at its best it brings less than the client asks of it."),
        el("div", { class: "options" }, data.options.map(option)),
        data.valid_until && el("p", { class: "quiet" }, `Valid until ${data.valid_until}.`),
    ].filter(Boolean);
}

/* ---- in which order, and money that comes bit by bit --------------------------------------------------------------- */

function drawFirst(data) {
    if (!data.purchases?.length) return [el("p", {}, "Nothing has to be bought.")];
    // Of each stage what it adds to the one before.
    const added = (one, k) => bundleLines(one.stage).filter((line) => k === 0 || !bundleLines(data.purchases[k - 1].stage).includes(line));
    return [el("ol", {}, data.purchases.map((one, k) => el("li", {}, `${minor(one.cost) === 0 ? "Costs nothing" : told(one.cost)}${one.days > 0 ? `, here in ${count(one.days, "day")}` : ""}; then ${points(one.stage.points)} points`,
        items(added(one, k)))))];
}
const drawPhases = (data) => [el("ol", {}, (data.phases ?? []).map((one) => el("li", {}, `On ${one.on}, with ${told(one.money)} by then: ${one.purchase ? `buy for ${told(one.purchase.cost)} (${one.purchase.roles.map((role) => nameOf("roles", role)).join(", ")})` : "wait"}; then ${points(one.points)} points`)))];

const orderPane = new Pane(answers.first, drawFirst, { idle: [el("p", {}, button("What to buy first", () => answers.first.want({}, true)))], what: "The order" });
const phasePane = new Pane(answers.phases, drawPhases, { idle: [el("p", {}, button("What to buy when", () => answers.phases.want({}, true)))], what: "The plan in phases" });
const phaseCard = card("Money that comes bit by bit", {}, phasePane.node);

/* ---- next best bundles ---------------------------------------------------------------------------------------------- */

const others = new Answer("plan", () => otherPane.refresh());
const otherPane = new Pane(others, (plan) => [el("ol", {}, (plan.bundles ?? []).map((one) => el("li", {}, `${points(one.points)} points for ${told(one.cost)}`, items(bundleLines(one)))))],
    { idle: [el("p", {}, button("Four bundles, each unlike the others", () => others.want({ best: 4, apart: 2 }, true)))], what: "The next best" });

const pane = new Pane(answers.options, draw, { what: "The choice of three options", slow: "Each is proved." });
const proposal = paperDeed("Make the proposal to sign", "proposal");

const empty = el("p", { class: "card" }, "First the client's wishes and money.");
const cards = [card("Three options", { class: "wide-card" }, ...proposal.both, pane.node),
    el("div", { class: "grid-two" }, el("div", { class: "column" }, card("In which order", {}, orderPane.node), phaseCard, card("How far it holds", {}, rangesPane.node)), el("div", { class: "column" }, card("Next best", {}, otherPane.node)))];

export const view = {
    id: "options", name: "Options",
    node: el("div", { class: "stack" }, empty, ...cards),
    show() {
        if (whole()) answers.options.want({});
        this.refresh();
    },
    refresh() {
        for (const one of [pane, orderPane, phasePane, otherPane, rangesPane]) one.refresh();
        phaseCard.hidden = !desk.job?.phases;
        empty.hidden = whole();
        for (const one of cards) one.hidden = !whole();
    },
    asks: () => whole() && answers.options.want({}),
    wishesChanged() {},
};
