// The hand-over: what was measured before and after the work, held against what was foretold.
import { button, card, el, field, fresh, items, say, table } from "./dom.js";
import { Answer } from "./answers.js";
import { answers } from "./asked.js";
import { desk, nameOf, settings } from "./hand.js";
import { few, unitWords } from "./formulas.js";
import { deed, Pane } from "./pane.js";
import { ticket } from "./papers.js";
import { post } from "./server.js";

const most = 40000; // a request holds 64 kB, and quotes take two letters
const outcomes = { "as-foretold": "as foretold", better: "better than foretold", worse: "worse than foretold", fails: "not as it should be", "not-measured": "not measured", "not-foretold": "measured; nothing was foretold" };
const keyOf = (check) => (check.use ? `${check.check} ${check.use}` : check.check);
const nameIn = (check) => `${check.name}${check.use ? `: ${nameOf("uses", check.use)}` : ""}`;
const number = (check, value) => (check.digits === undefined ? few(value) : value.toFixed(check.digits));

function due(check) {
    const unit = unitWords(check.unit);
    if (check.of === "done") return "done, without a fault";
    if (check.of === "least" && check.low !== null) return `at least ${number(check, check.low)}${unit}`;
    if (check.of === "most" && check.high !== null) return `at most ${number(check, check.high)}${unit}`;
    if (check.foretold === null || check.foretold === undefined) return "nothing is foretold";
    const low = number(check, check.low), high = number(check, check.high);
    return `${number(check, check.foretold)}${low === high ? "" : ` (${low} to ${high})`}${unit}`;
}

// What was written down so far, by list and check: it outlives a form that is made anew.
const written = { before: new Map(), after: new Map() };
const day = el("input", { type: "date", value: new Date().toLocaleDateString("sv") });
const job = el("input", { type: "text", class: "small", maxlength: 64, autocomplete: "off", spellcheck: "false" });
const notes = el("textarea", { rows: 2, cols: 28, maxlength: 4000 });
const leftOut = new Set();
let option = () => 1;

function valueField(list, check, words) {
    const key = keyOf(check);
    if (check.of === "done") return list === "before" ? "" : el("label", { class: "tick" }, el("input", { type: "checkbox", "aria-label": words, checked: written.after.get(key) === true || null, on: { change: (event) => written.after.set(key, event.target.checked) } }), " done");
    const input = el("input", { type: "text", inputmode: "decimal", class: "small", autocomplete: "off", "aria-label": words, value: written[list].get(key) ?? "" });
    input.addEventListener("change", () => {
        const text = input.value.trim(), good = text === "" || /^-?\d{1,9}(\.\d{1,6})?$/.test(text);
        input.setAttribute("aria-invalid", String(!good));
        good && text !== "" ? written[list].set(key, text) : written[list].delete(key);
        if (!good) say(`"${text}" is no number: digits, and a point before the last ones.`);
    });
    return input;
}

function drawForm(bench) {
    if (!bench.checks) return [el("p", {}, "There is no option to hand over.")];
    const tasks = answers.options.data?.options?.[option() - 1]?.bundle.tasks ?? [];
    return [
        table("What was measured", ["what", "before", "after", "foretold"], bench.checks.map((check) => [
            el("span", {}, el("b", {}, nameIn(check)), check.unit && !check.name.startsWith(check.unit) && `, ${check.unit}`, check.words && el("small", { class: "formula" }, check.words)),
            valueField("before", check, `${nameIn(check)}, before`), valueField("after", check, `${nameIn(check)}, after`), due(check)])),
        tasks.length > 0 && el("fieldset", { class: "choice" }, el("legend", {}, "Work that was not done, or was taken back"), tasks.map((task) => el("label", {},
            el("input", { type: "checkbox", checked: leftOut.has(task.id) || null, on: { change: (event) => (event.target.checked ? leftOut.add(task.id) : leftOut.delete(task.id)) } }), ` ${task.name}`))),
        field("Day of the hand-over", day), field("The shop's name for this job", job, "Small letters a to z, digits and hyphens; no names of people."), field("Notes, one a line", notes),
        ...held.both, ...made.both,
    ].filter(Boolean);
}

// The file of FORMATS.md section 27, from what stands in the form.
function fileText(bench) {
    const values = (list) => bench.checks.filter((check) => written[list].has(keyOf(check))).map((check) => {
        const value = written[list].get(keyOf(check));
        return { check: check.check, ...(check.use ? { use: check.use } : {}), ...(check.of === "done" ? { done: value === true } : { value: Number(value) }) };
    });
    const there = [...leftOut].filter((id) => answers.options.data?.options?.[option() - 1]?.bundle.tasks.some((task) => task.id === id));
    const before = values("before"), lines = notes.value.split("\n").map((line) => line.trim()).filter(Boolean);
    return JSON.stringify({ schema: 1, job: job.value.trim(), ...(day.value ? { date: day.value } : {}), ...(there.length > 0 ? { left_out: there } : {}),
        ...(before.length > 0 ? { before } : {}), after: values("after"), ...(lines.length > 0 ? { notes: lines } : {}) }, null, 2);
}

function results(told) {
    const bars = told.checks.filter((one) => (one.bars ?? true) && ["fails", "not-measured"].includes(one.outcome));
    const counts = Object.keys(outcomes).map((is) => [is, told.checks.filter((one) => one.outcome === is).length]).filter(([, n]) => n > 0);
    return [
        el("h3", {}, "Foretold and measured"),
        bars.length > 0 && el("div", { class: "beware" }, el("h4", {}, "Do not hand it over yet"), items(bars.map((one) => `${nameIn(one)}: ${outcomes[one.outcome]}`))),
        el("p", {}, `${counts.map(([is, n]) => `${n} ${outcomes[is]}`).join("; ")}.`),
        table("Each check", ["what", "before", "foretold", "measured", "so it is"], told.checks.map((one) => [nameIn(one), one.before === null ? "-" : `${number(one, one.before)}${unitWords(one.unit)}`, due(one),
            one.measured === null ? "-" : one.of === "done" ? (one.measured ? "done" : "not done") : `${number(one, one.measured)}${unitWords(one.unit)}`,
            outcomes[one.outcome] ?? one.outcome])),
        told.look_again?.length > 0 && el("p", { class: "care" }, `Looked at again without charge: ${told.look_again.map((use) => nameOf("uses", use)).join(", ")}.`),
        told.call && el("div", {}, el("p", {}, `The call on ${told.call.on}:`), items(told.call.asks)),
    ].filter(Boolean);
}

const form = new Answer("bench", () => formPane.refresh());
const words = () => ({ option: option(), measured: fileText(form.data) });
const held = deed("Hold it against what was foretold", async () => {
    const set = settings();
    const { data } = await post("ask", { sheet: desk.sheet, question: "handover", words: words(), ...(set.length > 0 ? { set } : {}) });
    return results(data);
});
const made = deed("Make the hand-over", async () => {
    const paper = await ticket("handover", option(), { measured: words().measured });
    const link = el("a", { href: `/paper/${paper.ticket}`, target: "_blank", rel: "noopener", class: "go" }, "Open it: the hand-over");
    const keep = el("a", { href: URL.createObjectURL(new Blob([words().measured], { type: "application/json" })), download: "measured.json" }, "Keep the values as a file");
    return [el("p", {}, link, " ", keep), el("p", { class: "quiet" }, "That file is what \"swapworth handover --measured measured.json --record\" takes, to keep this job in the shop's own file.")];
});
const formPane = new Pane(form, drawForm, { what: "The list of what is measured", idle: [el("p", {}, button("Write down what was measured", () => begin()))] });

function begin() {
    job.value ||= (desk.file ?? "").replace(/\.json$/, "").toLowerCase().replace(/[^a-z0-9]+/g, "-").replace(/^-+|-+$/g, "");
    form.want({ option: option() }, true);
}

/* ---- values that stand in a file already --------------------------------------------------------- */

const note = el("div", { class: "came" });
async function take(file) {
    if (!file) return;
    try {
        if (file.size > most) throw new Error(`${file.name} is larger than ${most} bytes.`);
        const told = JSON.parse(await file.text());
        if (told.schema !== 1 || !Array.isArray(told.after)) throw new Error(`${file.name} is no list of measured values: "schema", "job" and "after" are due.`);
        for (const list of ["before", "after"]) {
            written[list].clear();
            for (const one of told[list] ?? []) written[list].set(keyOf(one), "done" in one ? one.done === true : String(one.value));
        }
        leftOut.clear();
        for (const id of told.left_out ?? []) leftOut.add(String(id));
        job.value = String(told.job ?? "");
        if (told.date) day.value = told.date;
        notes.value = (told.notes ?? []).join("\n");
        note.replaceChildren(el("p", {}, `The values of ${file.name} stand in the list.`));
        formPane.drawn = undefined;
        begin();
    } catch (error) {
        note.replaceChildren(el("div", { class: "refusal" }, el("p", {}, error instanceof SyntaxError ? `${file.name} is not JSON.` : error.message)));
    }
}
const input = el("input", { type: "file", accept: ".json,application/json", class: "hearable", tabindex: "-1", id: fresh("file"), "aria-label": "A file of measured values", on: { change: () => {
    take(input.files[0]);
    input.value = "";
} } });
const zone = el("div", { class: "drop" }, el("p", {}, "Drop a file of measured values here, or write them down below."), el("p", {}, button("Choose a file", () => input.click()), input));
zone.addEventListener("dragover", (drag) => drag.preventDefault());
zone.addEventListener("drop", (drop) => {
    drop.preventDefault();
    take(drop.dataTransfer.files[0]);
});

export function handoverCard(whichOption) {
    option = whichOption;
    return card("The hand-over", { class: "handover" }, el("p", { class: "quiet" }, "What was measured against what was foretold, with warranties and the call a week later: for the client."), zone, note, formPane.node);
}
export function refreshHandover() {
    formPane.refresh();
}
// Another option, or other wishes: another list, and other values.
export function otherHandover() {
    held.place.replaceChildren();
    made.place.replaceChildren();
    if (form.data !== null) form.want({ option: option() });
}
