// The desk: the views, what is being tried, and who asks what when.
import { button, el, say } from "./dom.js";
import { minor, money, points } from "./amounts.js";
import { answers, briefly, hearAnswers } from "./asked.js";
import { belongsTo, desk, dropTrial, hear, hearElsewhere, mend, nameOf, takeWords, tell, unseen, whole, writeTrial, written } from "./hand.js";
import { refusal } from "./pane.js";
import { known, otherWords, words as firstWords } from "./early.js";
import { forgetSum, planWords, setSum, sumNow, view as moneyView } from "./view_money.js";
import { pinNow, usePins, view as pins } from "./view_pins.js";
import { hearViews, later, viewsOnTheWay } from "./later.js";
import { saveJob, toldElsewhere } from "./save.js";

const machine = later("machine", "Machine", () => import("./view_machine.js"));
const views = [
    machine,
    later("wishes", "Wishes", () => import("./view_wishes.js")),
    moneyView,
    later("options", "Options", () => import("./view_options.js")),
    later("taste", "Taste", () => import("./view_taste.js")),
    later("papers", "Papers", () => import("./view_papers.js")),
    pins,
];
const main = document.getElementById("main");
const tabs = document.getElementById("tabs");
let shown = null;

/* ---- views ---------------------------------------------------------------------------------------------- */

function viewNow() {
    const wanted = views.find((one) => `#${one.id}` === location.hash);
    return wanted ?? shown ?? (desk.job?.machine ? moneyView : machine);
}

function showView(focus) {
    const view = viewNow();
    for (const tab of tabs.querySelectorAll("a")) tab.toggleAttribute("data-here", tab.hash === `#${view.id}`);
    for (const tab of tabs.querySelectorAll("a")) tab.hasAttribute("data-here") ? tab.setAttribute("aria-current", "page") : tab.removeAttribute("aria-current");
    if (shown !== view || !main.contains(view.node)) {
        shown = view;
        main.replaceChildren(el("h2", { class: "hearable", tabindex: "-1", id: "view-name" }, `${view.name} of this job`), view.node);
    }
    document.title = `${view.name} - ${desk.job?.title ?? "the desk"}`;
    view.show();
    if (focus) {
        main.querySelector("#view-name").focus({ preventScroll: true });
        scrollTo(0, 0);
    }
}
addEventListener("hashchange", () => showView(true));
hearViews(() => {
    if (shown && !main.contains(shown.node)) showView(document.activeElement?.id === "view-name");
    tellWork();
});

/* ---- what is being tried ------------------------------------------------------------------------------------- */

const pathNames = { "budget.total": "money in all", "budget.reserve": "kept back", "budget.sundries": "sundries", "wishes.limits.loudness_sone": "loudness at most", "wishes.limits.days": "days at most",
    "wishes.limits.bench_minutes": "bench minutes at most", "wishes.worth_at_least": "points per 100 at least", "wishes.keep": "stays", "wishes.replace": "goes out", "wishes.avoid": "not bought", "wishes.swings": "what counts", "wishes.ranks": "order" };
const anyName = (name) => (nameOf("roles", name) !== name ? nameOf("roles", name) : nameOf("parts", name));

function valueWords(value) {
    if (value === null || value === undefined) return "none";
    if (Array.isArray(value)) return value.map((one) => (typeof one === "object" ? nameOf("uses", one.use) : anyName(one))).join(", ") || "nothing";
    if (typeof value === "object") return Object.entries(value).map(([key, one]) => `${nameOf("criteria", key)} ${one}`).join(", ");
    return String(value);
}
function trialWord(path, value) {
    const steps = path.split(".");
    const name = pathNames[path] ?? (steps[1] === "swings" ? nameOf("criteria", steps[2]) : steps[1] === "uses" && steps[2] ? `${nameOf("uses", steps[2])}${steps[3] ? `, ${steps[3].replaceAll("_", " ")}` : ""}` : steps[1] === "taste" && steps[2] ? steps[2].replaceAll("_", " ") : steps.slice(1).join(" "));
    const before = written(path);
    if (Array.isArray(value) && (Array.isArray(before) || before === undefined) && value.every((one) => typeof one === "string")) {
        const came = value.filter((one) => !(before ?? []).includes(one)), went = (before ?? []).filter((one) => !value.includes(one));
        return [came.length > 0 && `${name}: ${came.map(anyName).join(", ")} too`, went.length > 0 && `${name}: ${went.map(anyName).join(", ")} no more`].filter(Boolean).join("; ");
    }
    return `${name} ${valueWords(value)}, not ${valueWords(before)}`;
}
const trialWords = () => [...desk.trial].map(([path, value]) => trialWord(path, value));

const trial = document.getElementById("trial");
const trialNote = el("div");
function showTrial() {
    const words = trialWords();
    if (words.length === 0) {
        trial.hidden = true;
        return;
    }
    const focus = trial.contains(document.activeElement);
    trial.hidden = false;
    trial.replaceChildren(el("p", {}, el("b", {}, "You are trying: "), `${words.join("; ")}. The job itself is as it was.`),
        el("div", { class: "row" }, button("Write it into the job", write), button("Drop it", () => { dropTrial(); say("Dropped; the job is as it was."); }), button("Pin it", pinNow)), trialNote);
    if (focus) trial.querySelector("button").focus();
}
async function write() {
    trialNote.replaceChildren();
    try {
        const complaints = await writeTrial();
        say("Written into the job.");
        if (complaints.length > 0) {
            trial.hidden = false;
            trial.replaceChildren(refusal({ message: "It stands in the job, but the job is not whole so:", complaints }));
        }
    } catch (error) {
        trialNote.replaceChildren(refusal(error));
    }
}

/* ---- who asks what when ------------------------------------------------------------------------------------------ */

let before = null;
let asking = false;

// What is known is shown first: the work of the questions begins behind the next frame.
function askSoon() {
    if (asking) return;
    asking = true;
    tellWork();
    requestAnimationFrame(() => setTimeout(() => {
        asking = false;
        for (const one of views) one.fetchIt?.();
        askAnew();
        tellWork();
    }));
}

// For whoever watches the page from outside: is something under way?
function tellWork() {
    const names = Object.keys(answers).filter((name) => answers[name].working);
    document.documentElement.dataset.work = asking ? "asking" : [...names, ...(viewsOnTheWay() ? ["views"] : [])].join(" ");
}
function askAnew() {
    if (!desk.job?.machine || unseen().length > 0) return;
    answers.look.want({});
    if (!whole()) return;
    answers.brief.want(briefly(planWords()));
}
// Behind the bundle at this sum: what it is worth, and all other sums.
function askTheRest() {
    if (answers.brief.working || answers.brief.stopped) return;
    answers.plan.want(planWords());
    answers.curve.want({});
    shown?.asks?.();
    takeOtherWords();
}

async function takeOtherWords() {
    const other = await otherWords().catch(() => null);
    if (!other) return;
    takeWords(answers.look.now ? { ...other, measures: answers.look.data.measures } : other);
    tell();
}

function onJob() {
    const now = belongsTo();
    const changed = now !== before;
    if (changed) for (const view of views) view.wishesChanged?.();
    before = now;
    document.getElementById("title").textContent = desk.job?.title ?? "The desk: no job yet";
    document.getElementById("filed").textContent = desk.file ? `${desk.file}${desk.changed ? ", changed since it was read or saved" : ""}` : "not saved yet";
    document.getElementById("save").disabled = !desk.job;
    document.getElementById("undo").disabled = !desk.back;
    showTrial();
    showView(false);
    askSoon();
}
hear(onJob);
hearElsewhere(toldElsewhere);

let saidLast = "";
hearAnswers((name) => {
    if (name === "brief") askTheRest();
    tellWork();
    // The measures have their names from the machine's own answer.
    if (name === "look" && answers.look.now) takeWords({ ...desk.words, measures: answers.look.data.measures });
    shown?.refresh();
    if (name !== "brief" || !answers.brief.now) return;
    const best = answers.brief.data.bundles?.[0];
    const words = best ? `Worked out: ${points(best.points)} points for ${money(minor(best.cost))}.` : "Worked out: nothing fits.";
    if (words !== saidLast) say(words);
    saidLast = words;
});

/* ---- the head -------------------------------------------------------------------------------------------------------- */

document.getElementById("save").addEventListener("click", saveJob);
document.getElementById("undo").addEventListener("click", async () => {
    try {
        await mend("undo", {});
        say("Taken back.");
    } catch (error) {
        desk.back = error.code === 422 ? false : desk.back;
        onJob();
        say(error.message);
    }
});
const larger = document.getElementById("larger");
larger.addEventListener("click", () => {
    const on = document.documentElement.classList.toggle("larger");
    larger.setAttribute("aria-pressed", String(on));
});
addEventListener("beforeunload", (event) => { if (desk.trial.size > 0) event.preventDefault(); });

usePins({ sum: sumNow, setSum, ownSum: () => sumNow() === sumOfJob(), trialWords, go: () => { location.hash = "#money"; } });
const sumOfJob = () => { const plan = answers.plan.data; return plan && !answers.plan.words.budget ? minor(plan.budget) : -1; };

/* ---- the beginning ----------------------------------------------------------------------------------------------------- */

async function begin() {
    tabs.replaceChildren(...views.map((one) => el("li", {}, el("a", { href: `#${one.id}` }, one.name))));
    if (!known) {
        main.replaceChildren(el("div", { class: "card" }, el("h2", {}, "This page has no token"),
            el("p", {}, "The desk answers only to the page whose address it printed when it was begun: http://127.0.0.1:PORT/# and 32 letters behind it."),
            el("p", {}, "Look at the terminal where \"swapworth desk\" runs, and open the whole address that stands there.")));
        return;
    }
    try {
        takeWords(await firstWords);
        forgetSum();
        tell();
    } catch (error) {
        main.replaceChildren(el("div", { class: "card" }, refusal(error, () => location.reload())));
    }
}
begin();
