// The machine as it stands: its pieces, what is wrong with it and what mends it, what governs each use, what is heard.
import { button, card, el, items, table } from "./dom.js";
import { Answer } from "./answers.js";
import { count, figure, minor, points, told } from "./amounts.js";
import { answers } from "./asked.js";
import { desk, nameOf, sellerName, unseen } from "./hand.js";
import { drawFits } from "./fits.js";
import { drawFormulas } from "./formulas.js";
import { Pane } from "./pane.js";
import { presentWishes } from "./part_wishes.js";
import { kinds, partName, pieceName } from "./machine_words.js";
import { pieceEditor } from "./piece.js";
import { dumpsCard, pricesCard } from "./intake.js";

/* ---- findings ------------------------------------------------------------------------------------------ */

function mendWords(mend) {
    const parts = (mend.parts ?? []).map((one) => `${one.count > 1 ? `${one.count} x ` : ""}${partName(one.part)}, from ${sellerName(one.seller)}`);
    const text = mend.how === "task" ? nameOf("tasks", mend.task) : mend.how === "replace" ? `put in ${parts.join(", and ")}${mend.some_stay ? ", beside what stays" : ""}` : mend.text;
    const what = text.replace(/\.$/, "");
    if (!mend.offered) return `${what} (not offered for this job)`;
    const money = mend.cost === null || mend.cost === undefined ? "" : minor(mend.cost) === 0 ? "costs nothing" : told(mend.cost);
    return `${what}: ${[count(mend.minutes, "minute"), money, mend.points !== null && mend.points !== undefined && `${points(mend.points)} points`].filter(Boolean).join(", ")}`;
}

function finding(one) {
    return el("li", { class: `finding ${one.must ? "must" : ""}` },
        el("h4", {}, one.must ? "A must: " : null, `${nameOf("roles", one.about)}, ${kinds[one.kind] ?? one.kind}`),
        el("p", {}, el("b", {}, one.evidence)), el("p", {}, one.means),
        one.caution && el("p", { class: "care" }, `Mind: ${one.caution}`),
        one.mends?.length > 0 && el("div", {}, el("p", { class: "quiet" }, "What mends it:"), items(one.mends.map(mendWords))));
}

function drawLook(look) {
    const musts = look.findings.filter((one) => one.must), others = look.findings.filter((one) => !one.must);
    return [
        look.beware.length > 0 && el("div", { class: "beware" }, el("h3", {}, "Beware"), items(look.beware)),
        musts.length > 0 && el("div", {}, el("h3", {}, "Before all else"), el("ol", { class: "findings" }, musts.map(finding))),
        el("h3", {}, musts.length > 0 ? "Then, what brings most for the minute first" : "What brings most for the minute first"),
        others.length > 0 ? el("ol", { class: "findings" }, others.map(finding)) : el("p", {}, "Nothing more was found."),
        look.not_known.length > 0 && el("details", {}, el("summary", {}, `${count(look.not_known.length, "thing")} that nobody has stated`),
            items(look.not_known.map((one) => `${nameOf("roles", one.role)}: ${one.meaning ?? one.fact ?? one.measure}`))),
    ];
}

function drawNumbers(look) {
    return [
        ...look.uses.map((use) => table(`${nameOf("uses", use.use)}: held back by ${stageName(use.use, use.governed_by)}`, ["stage", { number: use.unit }, "beside the slowest"],
            use.stages.map((stage) => [stageName(use.use, stage.stage), { number: figure(String(stage.rate), Number(stage.rate) < 10 ? 1 : 0) },
                stage.behind <= 1.0005 ? "the slowest: it governs" : `${figure(String(stage.behind), 2)} times as fast`]), { class: "plain" })),
        look.sound && table(`What is heard: ${figure(String(look.sound.seat_dba), 1)} dB(A) at the seat, in a room of ${figure(String(look.sound.room_dba), 1)} dB(A). Each source near the machine, before the case and the way to the seat take their part:`,
            ["source", { number: "dB(A) near it" }, { number: "share of the sound" }],
            look.sound.sources.filter((one) => one.share >= 0.005).map((one) => [nameOf("roles", one.role), { number: figure(String(one.level_db), 1) }, { number: `${Math.round(one.share * 100)} %` }]), { class: "plain" }),
    ].filter(Boolean);
}

const stageName = (use, stage) => desk.words.uses?.find((one) => one.id === use || one.use === use)?.stages?.find((one) => one.stage === stage)?.name ?? stage.replaceAll("-", " ");

/* ---- pieces ------------------------------------------------------------------------------------------------ */

// A fact's name ends in its unit.
const units = [["_mt_s", "MT/s"], ["_m3_h", "m3/h"], ["_percent", "%"], ["_years", "years"], ["_dba", "dB(A)"], ["_db", "dB"], ["_gb", "GB"], ["_hz", "Hz"], ["_mm", "mm"], ["_ma", "mA"], ["_px", "pixels"], ["_mp", "million pixels"], ["_in", "inches"], ["_mb_s", "MB/s"], ["_gbit", "Gbit/s"], ["_on", "h"], ["_w", "W"], ["_v", "V"], ["_c", "deg C"]];
function factWords(fact, value) {
    const [end, unit] = units.find(([tail]) => fact.endsWith(tail)) ?? ["", ""];
    const name = fact.slice(0, fact.length - end.length).replaceAll("_", " ");
    return typeof value === "boolean" ? `${name}: ${value ? "yes" : "no"}` : `${name} ${value}${unit ? ` ${unit}` : scaleOf(fact)}`;
}
const scaleOf = (fact) => {
    const most = desk.words.scales?.find((one) => one.fact === fact)?.most;
    return most ? ` of ${most}` : "";
};
function pieceFacts(piece) {
    const facts = Object.entries(piece.facts ?? {}).filter(([, value]) => typeof value !== "object").map(([fact, value]) => factWords(fact, value));
    return [piece.condition && piece.condition !== "good" ? piece.condition : null, ...facts].filter(Boolean).join("; ");
}

// Of a piece from dumps the note says where each thing was read, and what is in doubt.
function noteOf(note) {
    if (!note) return null;
    const [, seen, doubt] = /^Seen: (.*?)(?:\. In doubt: (.*))?$/s.exec(note) ?? [null, null, null];
    if (!seen) return el("p", { class: "quiet" }, note);
    return el("div", {}, doubt && el("p", { class: "care" }, `In doubt: ${doubt}`), el("details", {}, el("summary", {}, "Where this was read"), items(seen.split("; "))));
}

function place(role, list) {
    const ask = (desk.job.to_ask ?? []).filter((one) => one.role === role).map((one) => one.ask);
    return el("li", { class: "place" }, el("h3", {}, nameOf("roles", role)),
        list.length === 0 && el("p", { class: "quiet" }, "nothing"),
        list.map((piece) => el("div", { class: "piece" },
            el("p", { class: "line" }, el("span", {}, el("b", {}, `${(piece.count ?? 1) > 1 ? `${piece.count} x ` : ""}${pieceName(piece)}`), pieceFacts(piece) ? el("small", {}, ` ${pieceFacts(piece)}`) : null),
                desk.job.wishes ? presentWishes(piece.part, pieceName(piece)) : null),
            noteOf(piece.note))),
        ask.map((words) => el("p", { class: "care" }, `To be looked at: ${words}`)),
        pieceEditor(role, list));
}

const places = el("div");
function showPlaces() {
    if (!desk.job?.machine) {
        places.replaceChildren(el("p", {}, "No machine yet. It begins with its dumps; what they cannot tell is named by hand once there is a draft."));
        return;
    }
    const there = Object.keys(desk.job.machine);
    const others = desk.words.roles.map((one) => one.id ?? one.role).filter((role) => !there.includes(role));
    const more = el("select", { "aria-label": "Another place of the machine" }, others.map((role) => el("option", { value: role }, nameOf("roles", role))));
    const list = el("ol", { class: "places" }, there.map((role) => place(role, desk.job.machine[role])));
    places.replaceChildren(list, others.length > 0 ? el("p", { class: "row" }, more, button("Say what stands there", () => {
        const item = place(more.value, []);
        list.append(item);
        item.querySelector("details").open = true;
        item.querySelector("summary").focus();
    })) : "");
}

/* ---- the view ------------------------------------------------------------------------------------------------- */

const found = new Pane(answers.look, drawLook, { what: "What is wrong" });
const numbers = new Pane(answers.look, drawNumbers, { what: "What governs" });
// Of what stands there, asked for by a person.
const asked = (question, drawn, what, words) => {
    const answer = new Answer(question, () => pane.refresh());
    const pane = new Pane(answer, drawn, { what, idle: [el("p", {}, button(words, () => answer.want({}, true)))] });
    return pane;
};
const together = asked("fits", drawFits, "Whether it goes together", "Does all of it go together?");
const formulas = asked("explain", drawFormulas, "How it is worked out", "How are these numbers worked out?");
const waiting = el("p", { class: "care", hidden: true });
const foundCard = card("What is wrong with it", {}, waiting, found.node), numbersCard = card("What governs, what is heard", {}, numbers.node, formulas.node), togetherCard = card("What goes with what", {}, together.node);
let drawn = null;

export const view = {
    id: "machine", name: "Machine",
    node: el("div", { class: "grid-two" },
        el("div", { class: "column" }, dumpsCard, foundCard),
        el("div", { class: "column" }, card("What stands in it", {}, places), togetherCard, numbersCard, pricesCard)),
    show() { this.refresh(); },
    refresh() {
        this.node.classList.toggle("known", Boolean(desk.job?.machine));
        const waits = unseen();
        waiting.hidden = waits.length === 0;
        waiting.textContent = `This is told once somebody has looked at: ${waits.map((role) => nameOf("roles", role)).join(", ")}. Say below what stands there.`;
        for (const one of [found, numbers, together, formulas]) one.node.hidden = waits.length > 0;
        found.refresh();
        numbers.refresh();
        together.refresh();
        formulas.refresh();
        for (const one of [togetherCard, numbersCard]) one.hidden = !desk.job?.machine || waits.length > 0;
        if (drawn === desk.job && drawn !== null) return;
        drawn = desk.job;
        showPlaces();
        foundCard.hidden = !desk.job?.machine;
    },
    wishesChanged() {
        const open = document.activeElement?.dataset?.wish;
        drawn = null;
        showPlaces();
        drawn = desk.job;
        if (open) places.querySelector(`[data-wish="${CSS.escape(open)}"]`)?.focus();
    },
    namesCame() { drawn = null; found.drawn = undefined; },
};
