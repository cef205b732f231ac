// What the pages of the work must show: every number and text of `bench --json` and `handover --json`, the drawings to
// scale, and nothing else that claims to be one. An element with data-is="WHAT.NAME" shows one number or day with its unit.
import { watching } from "./browser.mjs";
import { equals, isMoney, numbersOf } from "./number.mjs";

const few = (faults) => faults.length > 8 ? [...faults.slice(0, 8), `and ${faults.length - 8} more`] : faults;
const plain = (text) => text.replace(/\s+/g, " ").trim();
const known = (value) => value !== null && value !== undefined;

// ---- rules: a shown text against what is wanted

const minutesOf = (text) => {
    const [, hours, minutes] = text.match(/^(?:(\d+) h)? ?(?:(\d+) min)?$/) ?? [];
    return hours === undefined && minutes === undefined ? NaN : 60 * Number(hours ?? 0) + Number(minutes ?? 0);
};
const minutes = (wanted) => ({ wanted, fits: (text) => minutesOf(text) === wanted });
const count = (wanted) => ({ wanted, fits: (text) => numbersOf(text)[0]?.text === String(wanted) });
const money = (wanted) => ({ wanted, fits: (text) => isMoney(numbersOf(text)[0], wanted) });
const exact = (wanted) => ({ wanted, fits: (text) => text === wanted });
const day = (wanted) => ({ wanted, fits: (text) => text.match(/\d{4}-\d\d-\d\d/)?.[0] === wanted });
// Numbers in their order, each rounded to no fewer digits than are due.
const rounded = (wanted, digits, mostDigits = digits) => ({ wanted, fits: (text) => {
    const shown = numbersOf(text);
    return shown.length === wanted.length && wanted.every((value, i) =>
        equals(shown[i], value, digits) && shown[i].digits <= mostDigits);
} });

const bandOf = (check) => check.of === "most" ? [check.high] : check.of === "least" ? [check.low] : [check.foretold, check.low, check.high];
const hasBand = (check) => bandOf(check).every(known);

// Of a unit that holds digits itself nothing could be told.
const unitless = (rule, unit) => ({ ...rule, fits: (text) => rule.fits(unit && text.endsWith(unit) ? text.slice(0, -unit.length) : text) });

function benchRules({ answer }) {
    const rules = { "job.cost": money(answer.cost), "job.days": count(answer.days_without),
        "job.billed": minutes(answer.minutes.billed), "job.beside": minutes(answer.minutes.beside), "job.alone": minutes(answer.minutes.alone) };
    for (const step of answer.work) {
        rules[`step-${step.number}.number`] = count(step.number);
        if (step.minutes > 0) rules[`step-${step.number}.minutes`] = exact(step.billed ? `${step.minutes}` : `(${step.minutes})`);
        if (step.alone_minutes > 0) rules[`step-${step.number}.alone`] = minutes(step.alone_minutes);
    }
    answer.leads.forEach((lead, i) => {
        rules[`lead-${i + 1}.need`] = count(lead.need);
        rules[`lead-${i + 1}.there`] = count(lead.there);
    });
    answer.checks.forEach((check, i) => {
        const name = `check-${i + 1}`;
        if (known(check.today)) rules[`${name}.today`] = unitless(rounded([check.today], check.digits), check.unit);
        if (check.of === "done") rules[`${name}.foretold`] = exact("done, without a fault");
        else if (hasBand(check)) rules[`${name}.foretold`] = unitless(rounded(bandOf(check), check.digits), check.unit);
        else rules[`${name}.foretold`] = exact("not foretold: measure it all the same");
    });
    return rules;
}

const outcomes = { "as-foretold": "as promised", better: "better than promised", worse: "worse than promised", fails: "not as it should be",
    "not-measured": "not measured", "not-foretold": "measured; nothing was promised" };

function handoverRules({ answer }) {
    const rules = { "job.cost": money(answer.cost) };
    if (answer.date) rules["job.date"] = day(answer.date);
    if (answer.call.on) rules["call.on"] = day(answer.call.on);
    else rules["call.after"] = count(answer.call.after_days);
    for (const outcome of Object.keys(outcomes)) {
        const number = answer.checks.filter((check) => check.outcome === outcome).length;
        if (number > 0 || outcome === "as-foretold") rules[`count.${outcome}`] = count(number);
    }
    answer.checks.forEach((check, i) => {
        const name = `check-${i + 1}`, measured = known(check.measured), before = check.before ?? check.today;
        if (check.of !== "done" && hasBand(check)) rules[`${name}.promised`] = unitless(rounded(bandOf(check), check.digits), check.unit);
        if (!measured) return;
        rules[`${name}.outcome`] = exact(check.of === "done" && check.outcome === "as-foretold" ? "in order" : outcomes[check.outcome]);
        if (check.of === "done") return;
        rules[`${name}.measured`] = unitless(rounded([check.measured], check.digits, 3), check.unit);
        if (known(before)) rules[`${name}.before`] = unitless(rounded([before], check.digits, 3), check.unit);
    });
    answer.parts.forEach((part, i) => {
        const name = `part-${i + 1}`;
        rules[`${name}.here`] = part.here_on ? day(part.here_on) : exact("");
        for (const [what, until] of [["warranty", part.warranty_until], ["return", part.return_until]])
            rules[`${name}.${what}`] = until ? day(until) : { wanted: "no day", fits: (text) => !/\d{4}-\d\d/.test(text) };
    });
    return rules;
}

export const paperNumbers = (job) => watching(job.browser, job.file, {}, async (page) => {
    const rules = job.paper === "bench" ? benchRules(job) : handoverRules(job), faults = [];
    const shown = await page.evaluate(() => [...document.querySelectorAll("[data-is]")].filter((element) => element.checkVisibility())
        .map((element) => ({ is: element.dataset.is, text: element.textContent.replace(/\s+/g, " ").trim() })));
    for (const { is, text } of shown) {
        if (!rules[is]) faults.push(`${is} is shown as "${text}", and there is none`);
        else if (!rules[is].fits(text)) faults.push(`${is} is shown as "${text}", not ${rules[is].wanted}`);
    }
    const there = new Set(shown.map(({ is }) => is));
    // An empty day leaves nothing to be seen.
    for (const [is, rule] of Object.entries(rules)) if (!there.has(is) && rule.wanted !== "") faults.push(`${is} is not shown`);
    return few(faults);
});

// ---- texts, in the row or item that they belong to

function rowTexts() {
    const text = (element) => element.innerText.replace(/\s+/g, " ").trim();
    const rows = {};
    for (const element of document.querySelectorAll("[data-is]")) {
        const [name] = element.dataset.is.split(".");
        rows[name] ??= text(element.closest("tr, li") ?? element);
    }
    return { rows, whole: text(document.body), items: [...document.querySelectorAll("li")].map(text),
        trs: [...document.querySelectorAll("tbody tr")].map(text), groups: [...document.querySelectorAll("th.group")].map(text),
        blanks: document.querySelectorAll(".blank").length, boxes: document.querySelectorAll(".box").length,
        steps: [...document.querySelectorAll('[data-is^="step-"][data-is$=".number"]')].map((element) => Number(element.textContent)),
        signs: [...document.querySelectorAll(".sign")].map(text) };
}

const verbs = { "take-out": "Take out", "take-off": "Take off for now", "lay-out": "Lay ready", "put-back": "Put back", fit: "Fit" };

function benchTexts({ answer }, seen) {
    const faults = [];
    const within = (what, text, ...wanted) => {
        for (const one of wanted) if (known(one) && !(text ?? "").includes(plain(one))) faults.push(`${what} does not say "${plain(one).slice(0, 60)}"`);
    };
    for (const step of answer.work) {
        const row = seen.rows[`step-${step.number}`];
        within(`step ${step.number}`, row, ...step.words, step.caution, ...(step.name ? [verbs[step.does], step.name] : []), ...step.with.map(({ name }) => name));
        if (step.does === "take-off" && step.because.some(({ covers }) => covers)) within(`step ${step.number}`, row, "in the way of");
    }
    answer.stands.forEach((stand, i) => {
        const item = seen.items.find((text) => new RegExp(`(^|\\] )${i + 1} `).test(text) && text.includes(plain(stand.name)));
        within(`place ${i + 1}`, item ?? "", stand.on_name, `"${stand.site}"`, stand.blows === "in" ? "blows into" : stand.blows === "out" ? "blows out of" : null);
    });
    answer.leads.forEach((lead, i) => within(`lead ${i + 1}`, seen.rows[`lead-${i + 1}`], lead.name, ...[...lead.takes, ...lead.gives].map(({ amount }) => amount)));
    for (const out of answer.out)
        within(`out ${out.name}`, seen.items.find((text) => text.includes(plain(out.name)) && text.includes("(")) ?? "",
            out.condition, out.whose === "shop" ? `The shop's, bought for ${out.offer}` : "The client's", out.keeps_files ? "keeps files" : null);
    answer.checks.forEach((check, i) => within(`check ${i + 1}`, seen.rows[`check-${i + 1}`], check.name, check.words, check.fails));
    for (const hazard of answer.hazards)
        within(`hazard ${hazard.hazard}`, seen.trs.find((text) => text.includes(plain(hazard.danger))) ?? "", hazard.danger, hazard.habit, hazard.limit);
    if (seen.steps.join() !== answer.work.map(({ number }) => number).join()) faults.push("the steps stand in another order");
    within("the head", seen.whole, "Makers' instructions, local codes and licensed practice come before", "A power unit is never opened", `Option ${answer.option.number},`);
    const measured = answer.checks.filter(({ of }) => of !== "done").length, done = answer.checks.length - measured;
    if (seen.blanks !== measured) faults.push(`${seen.blanks} places to write a value, not ${measured}`);
    const boxes = answer.work.length + answer.stands.length + answer.leads.length + answer.out.length + 2 * done;
    if (seen.boxes !== boxes) faults.push(`${seen.boxes} boxes to tick, not ${boxes}`);
    const wipes = answer.wiping && answer.out.some(({ keeps_files }) => keeps_files);
    if (wipes) within("wiping", seen.whole, answer.wiping);
    if (seen.signs.filter((text) => text.includes("to be wiped")).length !== (wipes ? 1 : 0)) faults.push("a line to sign for wiping is missing, or one too many");
    if (!seen.signs.some((text) => /technician/.test(text) && /Date/.test(text) && /Name/.test(text))) faults.push("no place for the technician to sign");
    return faults;
}

function handoverTexts({ answer, bench }, seen) {
    const faults = [];
    const within = (what, text, ...wanted) => {
        for (const one of wanted) if (known(one) && !(text ?? "").includes(plain(one))) faults.push(`${what} does not say "${plain(one).slice(0, 60)}"`);
    };
    const names = (one) => one.use ? null : one.name;
    answer.checks.forEach((check, i) => {
        if (known(check.measured)) within(`check ${i + 1}`, seen.rows[`check-${i + 1}`], names(check));
        if (check.below_promise) within(`check ${i + 1}`, seen.rows[`check-${i + 1}`], "we look at it again");
    });
    for (const text of [...answer.notes, ...answer.left_out, ...answer.look_again])
        if (!seen.items.includes(plain(text))) faults.push(`no item says "${plain(text).slice(0, 60)}"`);
    for (const text of answer.call.asks) if (!seen.items.includes(plain(text))) faults.push(`nobody asks "${plain(text).slice(0, 60)}"`);
    answer.parts.forEach((part, i) => within(`part ${i + 1}`, seen.rows[`part-${i + 1}`], part.count > 1 ? `${part.count} x ${part.name}` : part.name));
    for (const out of bench.out)
        within(`out ${out.name}`, seen.trs.find((text) => text.includes(`${plain(out.name)} (`)) ?? "", out.condition,
            out.whose === "shop" ? `sold to us for ${out.offer}` : "yours");
    for (const { outcome, name } of answer.checks.filter(({ outcome }) => outcome === "worse" || outcome === "fails"))
        if (!seen.items.some((text) => text.includes(plain(name)))) faults.push(`${outcome}, and not told at the head: ${name}`);
    const fails = answer.checks.some(({ outcome }) => outcome === "fails");
    if (seen.signs.some((text) => text.includes("What I accept")) !== fails) faults.push("a line to sign for what fails is missing, or one too many");
    if (!seen.signs.some((text) => /client/.test(text) && /shop/.test(text))) faults.push("no place to sign");
    if (!seen.signs.some((text) => /Telephone/.test(text))) faults.push("no place for whom to call");
    within("what to watch", seen.whole, "smoke", "Never open the power unit", "makers' instructions come first");
    return faults;
}

export const paperTexts = (job) => watching(job.browser, job.file, {}, async (page) => {
    const seen = await page.evaluate(rowTexts);
    return few(job.paper === "bench" ? benchTexts(job, seen) : handoverTexts(job, seen));
});

// ---- drawings

// The marks of each drawn check: band, ring (before), diamond (measured), in units of the drawing.
function bars() {
    return [...document.querySelectorAll('.drawn svg')].map((svg) => {
        const number = (element, name) => Number(element.getAttribute(name));
        const band = svg.querySelector("rect"), ring = svg.querySelector("circle");
        const diamond = [...svg.querySelectorAll("path")].find((path) => (path.getAttribute("d").match(/L/g) ?? []).length === 3 && path.getAttribute("d").endsWith("Z"));
        const words = [...svg.querySelectorAll("text")].find((text) => text.textContent === "better");
        return { is: svg.closest("tr").querySelector("[data-is]").dataset.is.split(".")[0],
            band: band && [number(band, "x"), number(band, "x") + number(band, "width")], ring: ring && number(ring, "cx"),
            diamond: diamond && Number(diamond.getAttribute("d").match(/^M([\d.-]+)/)[1]),
            better: words && (words.getAttribute("text-anchor") === "end" ? "more" : "less"), label: svg.getAttribute("aria-label") };
    });
}

function barFaults(check, bar) {
    const faults = [], before = check.before ?? check.today, near = (x, wanted) => Math.abs(x - wanted) <= 1;
    if (!known(bar.diamond)) return ["what was measured is not drawn"];
    if ((bar.ring !== null) !== known(before)) faults.push("before is drawn, or not, against the numbers");
    if ((bar.band !== null) !== hasBand(check)) faults.push("a band is drawn, or not, against the numbers");
    if (!bar.label.includes("measured")) faults.push("it is not told in words");
    if (!hasBand(check) || bar.band === null) return faults;
    const [left, right] = bar.band;
    if (check.of === "most" ? check.measured <= check.high !== bar.diamond <= right + 1 : check.of === "least" ? check.measured >= check.low !== bar.diamond >= left - 1 : false)
        faults.push("the diamond stands on the wrong side of the limit");
    if (check.of === "most" || check.of === "least") return faults;
    if (bar.better !== check.better) faults.push(`better is drawn as ${bar.better}`);
    // Two edges make the scale: all else must lie on it. A band too narrow to be seen is drawn wider.
    if (right - left <= 3.05) return faults;
    const at = (value) => left + (value - check.low) / (check.high - check.low) * (right - left);
    if (!near(bar.diamond, at(check.measured))) faults.push(`measured is drawn at ${bar.diamond}, not ${at(check.measured).toFixed(1)}`);
    if (known(before) && !near(bar.ring, at(before))) faults.push(`before is drawn at ${bar.ring}, not ${at(before).toFixed(1)}`);
    return faults;
}

// The arrows of the case: how many go in and how many out.
function sketch() {
    const svg = document.querySelector("figure svg");
    if (!svg) return null;
    const [x0, y0, width, height] = svg.getAttribute("viewBox").split(" ").map(Number), middle = [x0 + width / 2, y0 + height / 2];
    const heads = [...svg.querySelectorAll("path")].map((path) => path.getAttribute("d")).filter((d) => d.endsWith("Z"))
        .map((d) => [...d.matchAll(/[ML](-?[\d.]+) (-?[\d.]+)/g)].map(([, x, y]) => [Number(x), Number(y)]));
    const away = ([x, y]) => Math.hypot(x - middle[0], y - middle[1]);
    const inwards = heads.filter(([tip, one, two]) => away(tip) < away([(one[0] + two[0]) / 2, (one[1] + two[1]) / 2])).length;
    const words = [...svg.querySelectorAll("text")].map((text) => text.textContent);
    return { in: inwards, out: heads.length - inwards, saysIn: words.filter((word) => word === "in").length, saysOut: words.filter((word) => word === "out").length,
        numerals: words.filter((word) => /^\d+$/.test(word)).map(Number) };
}

function sketchFaults({ answer }, drawn) {
    const faults = [], sides = ["front", "rear", "top", "floor", "side"], sided = answer.stands.filter(({ side }) => sides.includes(side));
    if (sided.length === 0) return drawn === null ? [] : ["a case is drawn, and no side is known"];
    if (drawn === null) return ["the case is not drawn"];
    for (const way of ["in", "out"]) {
        const list = sided.filter(({ blows }) => blows === way), pieces = (of) => of.reduce((sum, { count }) => sum + count, 0);
        const arrows = pieces(list.filter(({ side }) => side !== "side"));
        if (drawn[way] !== arrows) faults.push(`${drawn[way]} arrows point ${way}, not ${arrows}`);
        const said = drawn[way === "in" ? "saysIn" : "saysOut"];
        if (said !== pieces(list)) faults.push(`${way} is said ${said} times, not ${pieces(list)}`);
    }
    answer.stands.forEach((stand, i) => {
        const times = drawn.numerals.filter((number) => number === i + 1).length;
        if (sided.includes(stand) ? times !== stand.count : times > 1) faults.push(`place ${i + 1} is drawn ${times} times`);
    });
    return faults;
}

export const paperDrawings = (job) => watching(job.browser, job.file, {}, async (page) => {
    if (job.paper === "bench") return few(sketchFaults(job, await page.evaluate(sketch)));
    const drawn = await page.evaluate(bars), faults = [];
    job.answer.checks.forEach((check, i) => {
        const mine = drawn.filter(({ is }) => is === `check-${i + 1}`), wanted = check.of !== "done" && known(check.measured) ? 1 : 0;
        if (mine.length !== wanted) faults.push(`check ${i + 1} is drawn ${mine.length} times`);
        else if (wanted === 1) faults.push(...barFaults(check, mine[0]).map((fault) => `check ${i + 1}: ${fault}`));
    });
    return few(faults);
});

// ---- without style, without script

// Nothing runs in these pages; and with no style at all they read in their order, with marks to tick and to write on.
export const bare = ({ file, html, browser, answer, paper }) => watching(browser, file, { script: false, width: 800 }, async (page) => {
    const faults = /<script\b/i.test(html) ? ["a script is there"] : [];
    const seen = await page.evaluate(() => {
        for (const style of document.querySelectorAll("style")) style.disabled = true;
        for (const sheet of document.styleSheets) sheet.disabled = true;
        const found = { text: document.body.innerText, wide: document.documentElement.scrollWidth };
        for (const sheet of document.styleSheets) sheet.disabled = false;
        return found;
    });
    const ticks = seen.text.split("[ ]").length - 1, lines = seen.text.split("________").length - 1;
    if (paper === "bench") {
        if (ticks < answer.work.length) faults.push(`without style ${ticks} boxes are there for ${answer.work.length} steps`);
        if (lines !== answer.checks.filter(({ of }) => of !== "done").length) faults.push(`without style ${lines} values can be written`);
    }
    const labels = paper === "bench" ? ["Foretold: ", "Measured: "] : ["Promised: ", "Measured: "];
    for (const label of answer.checks.some(({ of, measured }) => of !== "done" && (paper === "bench" || known(measured))) ? labels : [])
        if (!seen.text.includes(label)) faults.push(`without style nothing says "${label}"`);
    if (seen.wide > 820) faults.push(`without style the page is ${seen.wide} px wide`);
    return faults;
});
