// Every number on the page is that of the JSON: `options --json` for all, `plan --json` for the full option,
// `curve --json` for the steps. An element with data-is="OPTION.NAME" shows one number with its unit.
import { watching } from "./browser.mjs";
import { equals, isMoney, numbersOf } from "./number.mjs";

// What an option must show, where it stands in the JSON, and how it is shown.
const money = (get) => ({ get, fits: isMoney });
const number = (get, leastDigits = 0, mostDigits = 3) => ({ get,
    fits: (shown, wanted) => equals(shown, Number(wanted), leastDigits) && shown.digits <= mostDigits });
// The charges of a bill are the deliveries and all others.
const cents = (text) => Math.round(Number(text) * 100);
function charged({ bill, charges }, deliveries) {
    const delivery = charges.filter(({ id }) => id.startsWith("delivery-")).reduce((sum, { amount }) => sum + cents(amount), 0);
    return ((deliveries ? delivery : cents(bill.charges) - delivery) / 100).toFixed(2);
}
const names = {
    total: money(({ bundle }) => bundle.bill.total),
    points: number(({ bundle }) => bundle.points, 1),
    sone: number(({ bundle }) => bundle.sound.loudness_sone, 1, 2),
    goods: money(({ bundle }) => bundle.bill.parts),
    offers: money(({ bundle }) => bundle.bill.offers),
    prices: money(({ bundle }) => bundle.bill.tasks),
    delivery: money(({ bundle }) => charged(bundle, true)),
    charges: money(({ bundle }) => charged(bundle, false)),
    labour: money(({ bundle }) => bundle.bill.labour),
    tax: money(({ bundle }) => bundle.bill.tax),
    days: number(({ days_without }) => days_without, 0, 0),
    "next-sum": money(({ next_step }) => next_step?.more_cost),
    "next-points": number(({ next_step }) => next_step?.more_points, 1),
    "hundred-points": number(({ next_hundred }) => next_hundred?.more_points, 1),
};
const jobNames = {
    "to-spend": money(({ budget }) => budget),
    reserve: money(({ reserve }) => reserve),
    sundries: money(({ sundries }) => sundries),
};
// A line of 0.00 may be left away, and "nothing" said for 0 points.
const zeroMayMiss = new Set(["offers", "prices", "delivery", "charges", "tax", "labour", "reserve", "sundries", "hundred-points"]);

const shownNumbers = (page) => page.evaluate(() => [...document.querySelectorAll("[data-is]")]
    .filter((element) => element.checkVisibility())
    .map((element) => ({ is: element.dataset.is, text: element.textContent })));

function judgeName(is, rule, from, shown) {
    const wanted = rule.get(from);
    const here = shown.filter((entry) => entry.is === is);
    const name = is.split(".")[1];
    if (wanted === undefined || wanted === null)
        return here.length === 0 || here.every(({ text }) => numbersOf(text).length === 0) ? [] : [`${is} is shown, and there is none`];
    if (here.length === 0)
        return zeroMayMiss.has(name) && Number(wanted) === 0 ? [] : [`${is} is not shown`];
    return here.filter(({ text }) => !rule.fits(numbersOf(text)[0], String(wanted)))
        .map(({ text }) => `${is} is shown as "${text.trim()}", not ${wanted}`);
}

function rateRules(option) {
    const known = (value) => value !== null && value !== undefined;
    return option.promised.flatMap((promise) => {
        // Where no rate of today is stated, how many times today's.
        const { use } = promise, stated = known(promise.rate), rate = number((value) => value, 0, stated ? 1 : 2);
        const [mid, low, high] = stated ? [promise.rate, promise.low, promise.high] : [promise.ratio, promise.ratio_low, promise.ratio_high];
        // Where it spreads by nothing, the one number says all.
        const ends = low === mid && high === mid ? [] : [[`low-${use}`, low], [`high-${use}`, high]];
        return [[`rate-${use}`, mid], ...ends].filter(([, value]) => known(value))
            .map(([name, value]) => [name, { ...rate, get: () => value }]);
    });
}

export const numbers = ({ file, browser, answer }) => watching(browser, file, {}, async (page) => {
    const shown = await shownNumbers(page), faults = [], known = new Set();
    for (const [name, rule] of Object.entries(jobNames)) {
        known.add(`job.${name}`);
        faults.push(...judgeName(`job.${name}`, rule, answer, shown));
    }
    known.add("job.valid-until");
    if (!shown.some(({ is, text }) => is === "job.valid-until" && /\d/.test(text))) faults.push("job.valid-until is not shown");
    for (const option of answer.options)
        for (const [name, rule] of [...Object.entries(names), ...rateRules(option)]) {
            known.add(`${option.option}.${name}`);
            faults.push(...judgeName(`${option.option}.${name}`, rule, option, shown));
        }
    for (const { is } of shown)
        if (!known.has(is) && !/^at\./.test(is)) faults.push(`${is} is shown, and nothing says what it is`);
    return [...new Set(faults)].slice(0, 10);
});

// All text of an option: of its column, where the options stand side by side in a table, else of its own box.
function textOf(is) {
    const others = (box) => [...box.querySelectorAll("[data-is$='.total']")].some((element) => element.dataset.is !== is);
    const place = (cell) => [...cell.parentElement.cells].slice(0, cell.cellIndex).reduce((sum, { colSpan }) => sum + colSpan, 0);
    return [...document.querySelectorAll(`[data-is="${is}"]`)].map((element) => {
        const cell = element.closest("td");
        if (cell && others(cell.parentElement)) {
            const table = cell.closest("table");
            const at = (row, column) => [...row.cells].find((other) => place(other) <= column && column < place(other) + other.colSpan);
            // "as in option 1" stands for what is said there.
            const said = (row, column) => {
                const text = at(row, column)?.textContent ?? "", [, other] = text.match(/^\s*as in option (\d)\s*$/) ?? [];
                const head = other && [...table.rows[0].cells].find(({ textContent }) => new RegExp(`option ${other}\\b`, "i").test(textContent));
                return head && place(head) !== column ? said(row, place(head)) : text;
            };
            return [...table.rows].map((row) => said(row, place(cell))).join(" ");
        }
        let box = element;
        while (box.parentElement && box.parentElement !== document.body && !others(box.parentElement)) box = box.parentElement;
        return box.textContent;
    }).join(" ").replace(/\s+/g, " ");
}

// The lines of the bill: each part that is bought, with its price, and each task, by name.
export const lines = ({ file, browser, answer }) => watching(browser, file, {}, async (page) => {
    const faults = [];
    for (const { option, bundle } of answer.options) {
        const text = await page.evaluate(textOf, `${option}.total`);
        for (const swap of bundle.swaps)
            for (const part of swap.in) {
                if (!text.includes(part.name)) faults.push(`${option} does not name ${part.name}`);
                else if (Number(part.price) > 0 && !numbersOf(text).some((shown) => isMoney(shown, (Number(part.price) * part.count).toFixed(2)) || isMoney(shown, part.price)))
                    faults.push(`${option} does not tell ${part.price} for ${part.name}`);
            }
        for (const task of bundle.tasks)
            if (!text.toLowerCase().includes(task.name.toLowerCase())) faults.push(`${option} does not name the task "${task.name}"`);
    }
    return faults.slice(0, 8);
});

// The three answers of the program agree with each other where they tell the same.
export function agree({ answer, plan, curve }) {
    const faults = [];
    const full = answer.options.find(({ option }) => option === "full");
    if (full && plan?.status === "optimal" && full.proved !== false) {
        const best = plan.bundles[0];
        for (const what of ["points", "cost"]) if (best[what] !== full.bundle[what]) faults.push(`${what} of full: ${full.bundle[what]}, plan: ${best[what]}`);
        for (const line of Object.keys(best.bill))
            if (best.bill[line] !== full.bundle.bill[line]) faults.push(`${line} of full: ${full.bundle.bill[line]}, plan: ${best.bill[line]}`);
        const held = (bundle) => JSON.stringify([bundle.swaps.map(({ role, in: bought }) => [role, bought.map(({ part, count }) => [part, count])]),
            bundle.tasks.map(({ id }) => id)]);
        if (held(best) !== held(full.bundle)) faults.push("full holds other parts or tasks than the plan");
    }
    const steps = (list) => list.map(({ cost, points }) => `${cost}: ${points}`);
    if (curve !== answer.curve) {
        const mine = steps(answer.curve.steps), theirs = steps(curve.steps);
        if (mine.join() !== theirs.join()) faults.push(`the curve has ${mine.length} steps here, ${theirs.length} by itself`);
    }
    for (const { option, bundle } of answer.options) {
        const { bill } = bundle;
        const sum = cents(bill.parts) - cents(bill.offers) + cents(bill.tasks) + cents(bill.charges) + cents(bill.labour) + cents(bill.tax);
        if (sum !== cents(bill.total) && !bundle.swaps.some(({ cost }) => cost === "0.00"))
            faults.push(`the bill of ${option} adds up to ${sum / 100}, not ${bill.total}`);
    }
    return faults;
}
