// A bundle in words: what goes out and comes in, what it brings, its bill. The same words as on the papers.
import { el } from "./dom.js";
import { count, figure, milli, minor, plain, points, rate, short, told } from "./amounts.js";
import { nameOf, sellerName } from "./hand.js";

/* ---- parts -------------------------------------------------------------------------------------- */

export const partWords = (part) => (part.count > 1 ? `${part.count} x ${part.name}` : part.name);

const none = (sum) => minor(sum) === 0;

export function outWords(part) {
    const said = [];
    if (part.condition && part.condition !== "good") said.push(part.condition);
    if (part.offer && !none(part.offer)) said.push(`firm offer ${told(part.offer)}`);
    if (part.hoped && !none(part.hoped)) said.push(`might sell for ${told(part.hoped)}, not counted`);
    return said.join("; ");
}

export function inWords(part) {
    const said = [`from ${sellerName(part.seller)}`, part.days === 0 ? "here today" : `here in ${count(part.days, "day")}`, told(part.price)];
    if (part.warranty_months === 0) said.push("no warranty");
    else if (part.warranty_months > 0 && part.warranty_months <= 6) said.push(`warranty ${count(part.warranty_months, "month")}`);
    if (part.return_days === 0 && part.seller !== "client") said.push("cannot be given back");
    return said.join(", ");
}

// The roles that a bundle touches, each with its swap and its tasks: musts first, as on paper.
export function touched(bundle) {
    const roles = new Map();
    const of = (role) => {
        if (!roles.has(role)) roles.set(role, { role, swap: null, tasks: [] });
        return roles.get(role);
    };
    for (const swap of bundle.swaps) of(swap.role).swap = swap;
    for (const task of bundle.tasks) of(task.role).tasks.push(task);
    const later = (one) => (one.swap?.must ? 0 : 1);
    return [...roles.values()].sort((a, b) => later(a) - later(b));
}

export function bundleLines(bundle) {
    return touched(bundle).flatMap(({ role, swap, tasks }) => {
        const name = nameOf("roles", role);
        const lines = [];
        if (swap) {
            const out = swap.out.map(partWords).join(" and "), into = swap.in.map(partWords).join(" and ");
            if (into) lines.push(`${name}: ${into}${out ? ` in place of ${out}` : ""}`);
            else if (out) lines.push(`${name}: ${out} goes out`);
        }
        return [...lines, ...tasks.map((task) => `${name}: ${task.name}`)];
    });
}

export const changesWords = (bundle) => {
    const swaps = bundle.swaps.length, tasks = bundle.tasks.length;
    if (swaps + tasks === 0) return "nothing changes";
    return [swaps && count(swaps, "swap"), tasks && count(tasks, "task")].filter(Boolean).join(" and ");
};

/* ---- what it brings ------------------------------------------------------------------------------- */

export function louder(ratio) {
    const steps = [[1.05, "louder than today"], [0.95, "as loud as today"], [0.8, "a little quieter"], [0.71, "about three quarters as loud"],
        [0.58, "about two thirds as loud"], [0.42, "about half as loud"], [0.29, "about a third as loud"], [0.2, "about a quarter as loud"]];
    return (steps.find(([least]) => ratio > least) ?? [0, "less than a fifth as loud"])[1];
}

const held = (one) => (one.limited_now_by === one.limited_by ? `held back by ${one.limited_by}, before and after`
    : `held back by ${one.limited_now_by} now, by ${one.limited_by} then`);

function rateRow(one) {
    const same = figure(one.ratio, 2) === "1.00";
    const times = same ? "as today" : `${figure(one.ratio, 2)} times today's rate`;
    if (one.rate_now === undefined) return [nameOf("uses", one.use), "not measured", times, held(one)];
    const low = rate(one.rate_low), high = rate(one.rate_high);
    const then = same ? "as today" : `about ${rate(one.rate)} ${one.unit}${low === high ? "" : ` (${low} to ${high})`}`;
    return [nameOf("uses", one.use), `${rate(one.rate_now)} ${one.unit}`, then, [same ? "" : `${times}; `, held(one)].join("")];
}

export function bringsRows(bundle) {
    const rows = bundle.rates.map(rateRow);
    const sound = bundle.sound;
    if (sound)
        rows.push(["sound at the seat", `${figure(sound.level_now_dba, 1)} dB(A), ${figure(sound.loudness_now_sone, 2)} sone`,
            `${figure(sound.level_dba, 1)} dB(A), ${figure(sound.loudness_sone, 2)} sone`,
            louder(Number(sound.loudness_sone) / Number(sound.loudness_now_sone))]);
    return rows;
}

// As sentences, for whoever sits beside.
export function bringsWords(bundle) {
    return bringsRows(bundle).filter(([, , then, words]) => then !== "as today" && !words.startsWith("as loud as today"))
        .map(([name, now, then, words]) => `${name}: ${now === "not measured" ? "" : `${now} now, `}${then}${name.startsWith("sound") ? `, ${words}` : ""}`);
}

export function estimatedRows(bundle) {
    const words = (value) => value.toFixed(Math.abs(value) >= 10 ? 0 : 1);
    const banded = (value, low, high, unit) => `${words(value)}${unit}${words(low) === words(high) ? "" : ` (${words(low)} to ${words(high)})`}`;
    return (bundle.measures ?? []).filter((one) => words(one.now) !== words(one.value)).map((one) => {
        const unit = one.unit === "1" || !one.unit ? "" : ` ${one.unit}`;
        return [nameOf("measures", one.measure), banded(one.now, one.now_low ?? one.now, one.now_high ?? one.now, unit), banded(one.value, one.low, one.high, unit)];
    });
}

const tenthsOf = (thousandths) => Math.sign(thousandths) * Math.floor((Math.abs(thousandths) + 50) / 100);

// Tenths of a point that add up to the tenths of the whole: the criterion that rounding wronged most makes up for it.
export function pointsRows(bundle) {
    const list = Object.entries(bundle.criteria).filter(([, one]) => Number(one.weight) > 0)
        .map(([id, one]) => ({ id, exact: milli(one.points), tenths: tenthsOf(milli(one.points)) }));
    let left = tenthsOf(milli(bundle.points)) - list.reduce((sum, one) => sum + one.tenths, 0);
    for (const way = Math.sign(left); left !== 0 && list.length > 0; left -= way) {
        const owed = (one) => way * (one.exact - one.tenths * 100);
        list.reduce((most, one) => (owed(one) > owed(most) ? one : most)).tenths += way;
    }
    return [...list.map((one) => [nameOf("criteria", one.id), { number: short(one.tenths * 100) }]), ["together", { number: points(bundle.points) }]];
}

/* ---- the bill --------------------------------------------------------------------------------------- */

// Time spent on a seller: never charged.
const errandMinutes = (bundle) => bundle.charges.reduce((sum, due) => sum + (due.errand ? due.minutes : 0), 0);
export const workWords = (bundle) => {
    const errands = errandMinutes(bundle);
    return `${bundle.minutes - errands} min${errands > 0 ? `, and ${errands} min of errands` : ""}`;
};

export function billRows(bundle) {
    const bill = bundle.bill;
    const rows = [["parts", bill.parts]];
    if (!none(bill.offers)) rows.push(["less firm offers for parts taken out", `-${bill.offers}`]);
    if (!none(bill.tasks)) rows.push(["consumables for the work", bill.tasks]);
    for (const due of bundle.charges) if (due.waived) rows.push([`${due.name}, free at this sum`, plain(0)]); else if (!none(due.amount)) rows.push([due.name, due.amount]);
    const errands = errandMinutes(bundle);
    if (bundle.minutes > 0) rows.push([`bench work, ${bundle.minutes - errands} min${errands > 0 ? ` (and ${errands} min of errands, not charged)` : ""}`, bill.labour]);
    if (!none(bill.tax)) rows.push(["tax", bill.tax]);
    rows.push(["total", bill.total], ["left of the money to spend", bill.left]);
    return rows.map(([what, sum]) => [what, { number: sum }]);
}

export function cautions(bundle) {
    if (bundle.cautions.length === 0) return el("p", {}, "Nothing beyond the usual care named below.");
    return el("ul", { class: "mind" }, bundle.cautions.map((one) => el("li", {},
        one.kind === "falls-short-today" ? `Already so today: ${one.client}` : one.client,
        one.bench && one.bench !== one.client ? el("small", {}, ` Bench: ${one.bench}`) : null)));
}
