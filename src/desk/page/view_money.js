// The first view: the machine, what is wrong, the sum, and what it brings.
import { button, card, el, fresh, items, say, table } from "./dom.js";
import { count, currencyCode, milli, minor, money, plain, points, short, told, unit } from "./amounts.js";
import { billRows, bringsRows, cautions, changesWords, estimatedRows, inWords, outWords, partWords, pointsRows, touched, workWords } from "./bundle.js";
import { Curve } from "./curve.js";
import { desk, nameOf, whole, wished } from "./hand.js";
import { answers, briefly } from "./asked.js";
import { Pane } from "./pane.js";
import { Stair } from "./stair.js";
import { newWishes, presentWishes } from "./part_wishes.js";
import { findingsShort, piecesShort } from "./machine_words.js";
import { verdictWords, moneyWords } from "./verdict.js";
import { conflictNodes } from "./conflict.js";
import { whyPlace } from "./why.js";
import { askPart } from "./ask_part.js";
import { pinNow } from "./view_pins.js";

const stair = new Stair();
const why = whyPlace();

let curve = null;      // of the curve's answer that is shown
let shown = null;      // that answer
let sum = null;        // in minor units; null: the client's own
let at = -2;           // the step that is shown
let rows = new Map();  // of swaps, made before: by what they say

/* ---- the sum ------------------------------------------------------------------------------------ */

const name = fresh("sum");
const slide = el("input", { type: "range", id: fresh("slide"), min: 0, max: 100, step: 1, value: 0, class: "slide", "aria-labelledby": name });
const typed = el("input", { type: "text", inputmode: "decimal", size: 9, autocomplete: "off", spellcheck: "false", id: fresh("typed") });
const wrong = el("small", { id: fresh("wrong"), class: "wrong", role: "alert" });
typed.setAttribute("aria-describedby", wrong.id);
const tag = el("output", { class: "tag", for: slide.id });
const headline = el("p", { class: "headline" });
const beside = el("p", { class: "beside" });
const least = button("One step less", () => stepBy(-1), { class: "step" });
const more = button("One step more", () => stepBy(1), { class: "step" });
const own = button("The client's sum", () => { sum = null; go(budget()); sum = null; }, { class: "step" });

// What the client has for parts and work: all the money, less reserve and sundries.
const wishedSum = (path) => minor(String(wished(path) ?? "0")) ?? 0;
const kept = () => wishedSum("budget.reserve") + wishedSum("budget.sundries");
const clientTotal = () => wishedSum("budget.total");
const budget = () => Math.max(0, clientTotal() - kept());
export const sumNow = () => sum ?? budget();
// `plan --budget` speaks of all the money: reserve and sundries are in it.
export const planWords = () => (sum === null || sum === budget() ? {} : { budget: plain(sum + kept()) });

let due = false;
function soon() {
    if (due) return;
    due = true;
    requestAnimationFrame(() => {
        due = false;
        frame();
    });
}

slide.addEventListener("input", () => {
    sum = Number(slide.value) * unit();
    typed.value = plain(sum);
    wrong.textContent = "";
    soon();
});
slide.addEventListener("change", settle);
typed.addEventListener("change", () => {
    const value = minor(typed.value);
    wrong.textContent = value === null ? `"${typed.value}" is no sum: digits, and a point before the last ones (612.50).` : "";
    if (value !== null) go(value);
});

// Down to the sum at which the step begins, or the one before; up to the next.
function stepBy(way) {
    const here = curve.indexAt(sumNow());
    const to = way > 0 ? here + 1 : here - (sumNow() === curve.costs[here] ? 1 : 0);
    go(curve.costs[Math.min(curve.costs.length - 1, Math.max(0, to))]);
}

function go(value) {
    sum = value;
    slide.value = String(Math.floor(value / unit()));
    typed.value = plain(value);
    frame();
    settle();
}

// The sum stands still: what stands beside it is asked for.
export function settle() {
    if (!whole()) return;
    if (!answers.curve.now) answers.brief.want(briefly(planWords()));
    answers.plan.want(planWords());
    say(slide.getAttribute("aria-valuetext") ?? "");
}

/* ---- one frame: few nodes are touched ------------------------------------------------------------ */

const bringsBody = el("tbody", { role: "rowgroup" });
const swaps = el("ol", { class: "swaps" });
const nothing = el("p", { class: "quiet" });

const soonest = () => [answers.plan, answers.brief].find((one) => one.now && one.words.budget === planWords().budget) ?? null;

// The best bundle at this sum, where the plan is there and the curve that belongs to the wishes is not, or was not settled.
function alone() {
    const plan = soonest();
    if (plan === null || (answers.curve.now && answers.curve.exit !== 2)) return null;
    const best = plan.data.bundles?.[0];
    return best ? { ...best, told: best.cost, cost: minor(best.cost), points: milli(best.points) } : null;
}

function frame() {
    const value = sumNow();
    stair.at(value);
    tag.textContent = money(value);
    const single = alone();
    if (single !== null) return frameAlone(value, single);
    const index = curve === null ? -1 : curve.indexAt(value);
    const step = index < 0 ? null : curve.steps[index];
    slide.setAttribute("aria-valuetext", step === null ? `${money(value)}, too little for what must be done` : `${money(value)}, ${short(step.points)} points, ${changesWords(step)}`);
    const next = curve?.steps[index + 1];
    const before = index > 0 ? curve.steps[index - 1] : null;
    headline.textContent = step === null ? (next ? `Too little for what must be done: that takes ${money(next.cost)} at the least.` : curve === null ? "" : "Nothing fits. What stands in the way is told below.")
        : `${short(step.points)} points for ${money(step.cost)}; ${money(value - step.cost)} left.`;
    beside.textContent = [
        step && step.open !== "0.000" && (step.open === null ? "This step was not settled: more points may be possible here." : `This step was not settled: up to ${points(step.open)} points more may be possible here.`),
        before && `The last ${money(step.cost - before.cost)} brought ${short(step.points - before.points)} points.`,
        step && (next ? `${money(next.cost - value)} more would bring ${short(next.points - step.points)} points more.` : "More money than this brings no more points, however much it is."),
    ].filter(Boolean).join(" ");
    least.disabled = step === null || (index === 0 && value === step.cost);
    more.disabled = next === undefined;
    own.disabled = value === budget();
    if (index === at) return;
    at = index;
    showStep(step);
}

function frameAlone(value, step) {
    slide.setAttribute("aria-valuetext", `${money(value)}, ${short(step.points)} points, ${changesWords(step)}`);
    headline.textContent = `${short(step.points)} points for ${money(step.cost)}; ${money(value - step.cost)} left.`;
    beside.textContent = answers.curve.now ? "The curve of all sums was not settled in its time; this bundle was." : "";
    least.disabled = more.disabled = !answers.curve.now;
    own.disabled = value === budget();
    const key = JSON.stringify([step.cost, step.swaps, step.tasks]);
    if (at === key) return;
    at = key;
    showStep(step);
}

function showStep(step) {
    if (step === null) {
        swaps.replaceChildren();
        bringsBody.replaceChildren();
        nothing.textContent = "";
        return;
    }
    const parts = touched(step);
    swaps.replaceChildren(...parts.map(rowOf));
    nothing.textContent = parts.length === 0 ? "Nothing goes out and nothing comes in at this sum." : "";
    bringsBody.replaceChildren(...bringsRows(step).map(([what, now, then, words]) => el("tr", { role: "row" }, el("th", { scope: "row", role: "rowheader" }, el("b", {}, what), el("small", {}, words)), el("td", { role: "cell" }, now), el("td", { role: "cell" }, then))));
}

function rowOf(one) {
    const key = JSON.stringify(one);
    let row = rows.get(key);
    if (!row) {
        row = makeRow(one);
        rows.set(key, row);
    }
    return row;
}

function makeRow({ role, swap, tasks }) {
    const line = (way, said, extra, group) => el("p", { class: `line ${way}` }, el("span", { class: "way" }, way), el("span", {}, el("b", {}, said), extra ? ` (${extra})` : null), group);
    return el("li", { class: "swap", "data-role": role },
        el("h3", {}, nameOf("roles", role), swap?.must || tasks.some((task) => task.must) ? " (a must)" : null),
        swap?.out.map((part) => line("out", partWords(part), outWords(part), presentWishes(part.part, part.name))),
        swap?.in.map((part) => line("in", partWords(part), inWords(part), newWishes(part.part, part.name, why.ask))),
        swap?.stays.map((part) => line("stays", partWords(part), "", null)),
        tasks.map((task) => line("do", task.name, `${task.minutes} min${minor(task.price) > 0 ? `, ${told(task.price)}` : ""}`, null)),
        el("p", { class: "worth quiet" }));
}

/* ---- what is told beside it, once it is asked for --------------------------------------------------- */

// What each group is worth stands at the rows of its roles.
function showWorth() {
    const plan = answers.plan.data;
    const best = answers.plan.now ? plan.bundles?.[0] : null;
    const there = best && (typeof at === "string" || minor(best.cost) === curve?.costs[at]);
    for (const row of swaps.children) {
        const place = row.querySelector(".worth");
        const role = row.dataset.role;
        const group = there ? plan.groups?.find((one) => one.roles.includes(role)) : null;
        place.textContent = !there ? "" : worthWords(group, role);
    }
}

function worthWords(group, role) {
    if (!group) return "";
    const cost = minor(group.cost) === 0 ? "at no cost" : `for ${told(group.cost)}`;
    const others = group.roles.filter((one) => one !== role).map((one) => nameOf("roles", one));
    const together = others.length > 0 ? `Together with ${others.join(" and ")}: ` : "By itself: ";
    if (group.needed) return `${together}${told(group.cost)}; a must, no bundle obeys without it.`;
    if (group.worth === null) return `${together}${told(group.cost)}; what it is worth was not settled.`;
    const per = group.points_per_100 === null ? "" : `, ${points(group.points_per_100)} per 100 ${currencyCode()}`;
    return `${together}${points(group.worth)} points ${cost}${per}.`;
}

const verdict = el("div", { class: "verdict", hidden: true });
const detail = new Pane(answers.plan, drawDetail, { what: "The rest of the answer" });

function drawDetail(plan) {
    const bundle = plan.bundles?.[0];
    verdict.replaceChildren(...verdictWords(plan).map((words) => el("p", {}, words)));
    verdict.hidden = verdict.childElementCount === 0;
    if (!bundle) return conflictNodes(plan);
    const estimated = estimatedRows(bundle);
    return [
        el("h3", {}, "Mind"), cautions(bundle),
        el("div", { class: "two" },
            table("The bill", ["what", { number: `sum, ${currencyCode()}` }], billRows(bundle), { class: "plain" }),
            table("Points by what counts", ["what", { number: "points" }], pointsRows(bundle), { class: "plain" })),
        el("p", {}, `Bench work: ${workWords(bundle)}. The last part is here ${bundle.longest_days === 0 ? "today" : `in ${count(bundle.longest_days, "day")}`}.`),
        estimated.length > 0 && table("Estimated, and not scored", ["what", "today", "then"], estimated),
        ...moneyWords(plan).map((words) => el("p", {}, words)),
        plan.look_up?.length > 0 && el("details", {}, el("summary", {}, `${count(plan.look_up.length, "part")} left out until someone looks up a fact`),
            items(plan.look_up.map((one) => `${nameOf("parts", one.part)}: ${one.meaning}`))),
        plan.assumed?.length > 0 && el("details", {}, el("summary", {}, "What was assumed"), items(plan.assumed)),
    ].filter(Boolean);
}

/* ---- the view ----------------------------------------------------------------------------------------- */

const machine = el("div");
const bewares = el("div", { class: "beware", hidden: true });
const stairNotice = new Pane(answers.curve, () => [], { what: "The curve of all sums", slow: "" });
const table1 = el("div", { class: "wide", tabindex: "0", role: "region", "aria-label": "What it brings, today and then" },
    // On a narrow page its rows fold; the roles say that it is a table still.
    el("table", { role: "table" }, el("caption", { class: "hearable" }, "What it brings, today and then"),
        el("thead", { role: "rowgroup" }, el("tr", { role: "row" }, ["what", "today", "then"].map((head) => el("th", { scope: "col", role: "columnheader" }, head)))), bringsBody));
const everyStep = el("details", { class: "steps" }, el("summary", {}, "Every step as a table"));
everyStep.addEventListener("toggle", fillSteps);

function fillSteps() {
    everyStep.querySelector(".wide")?.remove();
    if (!everyStep.open || curve === null) return;
    everyStep.append(table("Every step of the curve", [{ number: "sum" }, { number: "points" }, "with"],
        curve.steps.map((step) => [{ number: step.told }, { number: short(step.points) }, changesWords(step)]), { class: "plain" }));
}

const sliding = el("div", { class: "slider" }, stair.node, slide);
const moneyCard = card("The money", { class: "money" },
    el("div", { class: "sumline" }, el("span", { id: name, class: "hearable" }, "Sum for parts and work"), tag, headline),
    verdict, stairNotice.node,
    sliding,
    el("div", { class: "row" }, least, more, own,
        el("span", { class: "typed" }, el("label", { for: typed.id }, "or typed in "), typed), button("Pin this", () => pinNow(), { class: "step pin" })),
    wrong, beside);
const changes = card("What goes out, what comes in", { class: "changes" }, nothing, swaps, askPart((parts, words) => why.askAll(parts, words)), why.node);
const bringsCard = card("What it brings", { class: "brings" }, table1);
const detailCard = card("To mind, and the bill", { class: "detail" }, detail.node, everyStep);
const whatIs = card("This machine", { class: "whatis" }, bewares, machine);

const begin = el("div", { class: "card", hidden: true },
    el("h2", {}, "There is no money to plan with yet"),
    el("p", {}, "First the machine, then the client's wishes and money: the interview asks for them one by one."),
    el("p", { class: "row" }, el("a", { class: "go", href: "#machine" }, "To the machine"), el("a", { class: "go", href: "#wishes" }, "To the interview")));

// Two columns that are filled each by itself where there is room; else one after the other, in the order in which it is read.
function shownAs() {
    const node = el("div", { class: "grid-money" }), left = el("div", { class: "column" }), right = el("div", { class: "column" });
    const roomy = matchMedia("(min-width: 72.01rem)");
    const lay = () => {
        left.replaceChildren(...(roomy.matches ? [whatIs, bringsCard] : []));
        right.replaceChildren(...(roomy.matches ? [begin, moneyCard, changes] : []));
        node.replaceChildren(...(roomy.matches ? [left, right] : [whatIs, begin, moneyCard, bringsCard, changes]), detailCard);
    };
    roomy.addEventListener("change", lay);
    lay();
    return node;
}

export const view = {
    id: "money", name: "Money",
    node: shownAs(),

    show() { this.refresh(); },

    // Something of the job, the trial or an answer is new.
    refresh() {
        const solvable = whole();
        begin.hidden = solvable;
        for (const one of [moneyCard, bringsCard, changes, detailCard]) one.hidden = !solvable;
        showMachine();
        if (!solvable) return;
        if (answers.curve.data !== shown) takeCurve();
        stairNotice.refresh();
        detail.refresh();
        const stale = !answers.curve.now && curve !== null;
        sliding.classList.toggle("old", stale);
        for (const one of [bringsCard, changes]) one.classList.toggle("old", stale && alone() === null);
        headline.classList.toggle("quiet", stale && alone() === null);
        slide.disabled = curve === null;
        stairNotice.node.hidden = Boolean(answers.plan.error && answers.curve.error); // the plan's own sentence says it below
        frame();
        bringsCard.hidden = changes.hidden = curve === null && alone() === null;
        showWorth();
        why.refresh();
    },

    // Rows hold buttons that say what is wished: they are made anew when that changes.
    wishesChanged() {
        rows = new Map();
        at = -2;
        machineKey = null;
    },
};

function takeCurve() {
    shown = answers.curve.data;
    curve = shown?.steps ? new Curve(shown) : null;
    rows = new Map();
    at = -2;
    const all = curve === null ? budget() : Math.max(curve.end, budget());
    const top = Math.max(unit(), Math.ceil(all / unit() / 20) * 20 * unit());
    slide.max = String(top / unit());
    slide.value = String(Math.floor(sumNow() / unit()));
    typed.value = plain(sumNow());
    stair.draw(curve?.steps ?? [], top, budget());
    fillSteps();
}

export function forgetSum() {
    sum = null;
    slide.value = String(Math.floor(budget() / unit()));
    typed.value = plain(budget());
    if (curve) stair.draw(curve.steps, Number(slide.max) * unit(), budget());
}
export function setSum(value) {
    sum = value;
    slide.value = String(Math.floor(sumNow() / unit()));
    typed.value = plain(sumNow());
}

let machineKey = null;
function showMachine() {
    const look = answers.look.data;
    if (machineKey === look && machineKey !== null) return;
    machineKey = look;
    const warned = look?.beware ?? desk.job?.beware ?? [];
    bewares.hidden = warned.length === 0;
    bewares.replaceChildren(el("h3", {}, "Beware"), items(warned));
    machine.replaceChildren(piecesShort(desk.job), findingsShort(look));
}
