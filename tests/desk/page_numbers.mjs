// Every number on the page is one that the command told: its JSON is asked for here once more, and written out by
// a formatter of our own (decimal texts, no binary fractions).
import { execFileSync } from "node:child_process";
import fs from "node:fs";
import path from "node:path";
import { program, settled, view } from "./page_browser.mjs";

export function answer(words) {
    try {
        return JSON.parse(execFileSync(program, [...words, "--json"], { encoding: "utf8", maxBuffer: 1 << 28, stdio: ["ignore", "pipe", "ignore"] }));
    } catch (error) {
        if (error.status === 1 || error.status === 2) return JSON.parse(error.stdout);
        throw error;
    }
}

// "9.533" to one figure behind the point, halves up: by hand on the text.
export function rounded(text, places) {
    const big = BigInt(text.replace(/[-.]/g, "")), behind = (text.split(".")[1] ?? "").length;
    if (behind <= places) return text.includes(".") || places === 0 ? text + "0".repeat(places - behind) : `${text}.${"0".repeat(places)}`;
    const step = 10n ** BigInt(behind - places), value = (big + step / 2n) / step;
    const figures = value.toString().padStart(places + 1, "0");
    const cut = figures.length - places;
    return (text.startsWith("-") && value > 0n ? "-" : "") + figures.slice(0, cut) + (places > 0 ? `.${figures.slice(cut)}` : "");
}
const cents = (text) => BigInt(text.replace(".", ""));
const sum = (value) => `${value < 0n ? "-" : ""}${(value < 0n ? -value : value).toString().padStart(3, "0").replace(/(..)$/, ".$1")}`;
const milli = (text) => BigInt(text.replace(".", ""));
const points = (value) => rounded(`${value < 0n ? "-" : ""}${(value < 0n ? -value : value).toString().padStart(4, "0").replace(/(...)$/, ".$1")}`, 1);

const flat = (text) => text.replace(/\s+/g, " ").trim();
const text = async (page, selector) => flat(await page.locator(selector).innerText());
const lacks = (where, whole, wanted) => wanted.filter((one) => !whole.includes(flat(one))).map((one) => `${where} lacks "${one}"`);

// At many sums: what is told of the step, and what goes out and comes in.
export async function moneyNumbers(page, file) {
    const faults = [];
    const plan = answer(["plan", file]), curve = answer(["curve", file]);
    await settled(page);
    const best = plan.bundles[0], money = await text(page, ".money");
    faults.push(...lacks("the money", money, [`${plan.budget} EUR`, `${rounded(best.points, 1)} points for ${best.cost} EUR; ${sum(cents(plan.budget) - cents(best.cost))} EUR left.`]));
    const detail = await text(page, ".detail");
    const bill = best.bill, errands = best.charges.filter((one) => one.errand).reduce((sum, one) => sum + one.minutes, 0);
    faults.push(...lacks("the bill", detail, [`parts ${bill.parts}`, `total ${bill.total}`, `left of the money to spend ${bill.left}`, ...best.charges.filter((one) => one.amount !== "0.00").map((one) => `${one.name} ${one.amount}`),
        `together ${rounded(best.points, 1)}`, `Bench work: ${best.minutes - errands} min${errands > 0 ? `, and ${errands} min of errands` : ""}`, `bench work, ${best.minutes - errands} min${errands > 0 ? ` (and ${errands} min of errands, not charged)` : ""} ${bill.labour}`, ...best.cautions.map((one) => one.client)]));
    const changes = await text(page, ".changes");
    for (const group of plan.groups.filter((one) => one.worth !== null && !one.needed))
        faults.push(...lacks("what it is worth", changes, [`${rounded(group.worth, 1)} points ${group.cost === "0.00" ? "at no cost" : `for ${group.cost} EUR`}${group.points_per_100 === null ? "" : `, ${rounded(group.points_per_100, 1)} per 100 EUR`}.`]));
    const typed = page.locator(".typed input"), some = [...curve.steps.keys()].filter((k) => k % Math.ceil(curve.steps.length / 40) === 0 || k === curve.steps.length - 1);
    for (const k of some) {
        const step = curve.steps[k], next = curve.steps[k + 1];
        // At the step's own sum, and one cent before the next.
        for (const at of next ? [cents(step.cost), cents(next.cost) - 1n] : [cents(step.cost), cents(step.cost) + 1234n]) {
            await typed.fill(sum(at));
            await typed.press("Enter");
            await typed.blur();
            const told = await text(page, ".money"), parts = await text(page, ".changes"), brings = await text(page, ".brings");
            faults.push(...lacks(`at ${sum(at)}`, told, [`${sum(at)} EUR`, `${rounded(step.points, 1)} points for ${step.cost} EUR; ${sum(at - cents(step.cost))} EUR left.`,
                ...(next ? [`${sum(cents(next.cost) - at)} EUR more would bring ${points(milli(next.points) - milli(step.points))} points more.`] : ["brings no more points"])]));
            faults.push(...lacks(`at ${sum(at)}`, parts, step.swaps.flatMap((swap) => [...swap.out.map((part) => part.name), ...swap.in.flatMap((part) => [part.name, `${part.price} EUR`])]).concat(step.tasks.map((task) => task.name))));
            const rows = await page.locator(".changes .swap").count(), due = new Set([...step.swaps.map((one) => one.role), ...step.tasks.map((one) => one.role)]).size;
            if (rows !== due) faults.push(`at ${sum(at)} there are ${rows} rows, not ${due}`);
            faults.push(...lacks(`at ${sum(at)}`, brings, [`${rounded(step.sound.level_dba, 1)} dB(A)`, `${rounded(step.sound.loudness_sone, 2)} sone`,
                ...step.rates.filter((one) => one.rate !== undefined && rounded(one.ratio, 2) !== "1.00").map((one) => `about ${rounded(one.rate, Number(one.rate) < 10 ? 1 : 0)} ${one.unit}`)]));
            const spoken = await page.locator(".slide").first().getAttribute("aria-valuetext");
            if (!spoken?.startsWith(`${sum(at)} EUR, ${rounded(step.points, 1)} points`)) faults.push(`at ${sum(at)} the slider says "${spoken}"`);
        }
    }
    await page.locator(".money").getByRole("button", { name: "The client's sum" }).click();
    return faults;
}

const outcomes = { "as-foretold": "as foretold", better: "better than foretold", worse: "worse than foretold", fails: "not as it should be", "not-measured": "not measured", "not-foretold": "nothing was foretold" };

// The hand-over: what was measured is dropped as a file, one value is typed over, and what came of it is the command's.
async function handedOver(page, file) {
    const faults = [], folder = path.dirname(file), mine = path.join(folder, "measured.json"), paper = path.join(folder, "hand-over.html");
    const told = JSON.parse(fs.readFileSync("tests/papers/measured-good-enough.json", "utf8"));
    await view(page, "Papers");
    await settled(page);
    await page.locator(".handover input[type=file]").setInputFiles("tests/papers/measured-good-enough.json");
    await page.locator(".handover").getByRole("button", { name: "Hold it against what was foretold" }).waitFor();
    const slow = told.after.find((one) => one.use === "fast-play");
    slow.value = 61.5;
    await page.getByLabel("fast play, after").fill("61.5");
    await page.getByLabel("fast play, after").blur();
    await page.locator(".handover").getByRole("button", { name: "Hold it against what was foretold" }).click();
    await page.getByRole("heading", { name: "Foretold and measured" }).waitFor();
    fs.writeFileSync(mine, JSON.stringify(told));
    const words = ["handover", file, "--option", "1", "--measured", mine], right = answer(words), shown = await text(page, ".handover");
    if (new Set(right.checks.map((one) => one.outcome)).size < 2) faults.push("the hand-over's own test has one outcome alone");
    for (const one of right.checks) faults.push(...lacks("the hand-over", shown, [one.name, ...(one.of === "done" ? [] : [`${rounded(String(one.measured), one.digits)} ${one.unit} ${outcomes[one.outcome]}`])]));
    faults.push(...lacks("the hand-over", shown, right.call.asks));
    await page.locator(".handover").getByRole("button", { name: "Make the hand-over" }).click();
    const link = page.locator(".handover").getByRole("link", { name: /^Open it/ });
    await link.waitFor();
    const served = await page.evaluate(async (href) => (await fetch(href)).text(), await link.getAttribute("href"));
    answer([...words, "-o", paper]);
    if (fs.readFileSync(paper, "utf8") !== served) faults.push("the hand-over's page is not the command's file");
    return faults;
}

// A part in question, and what stands in the machine.
async function partsAsked(page, file) {
    const faults = [];
    await view(page, "Money");
    await settled(page);
    const part = answer(["plan", file]).bundles[0].swaps.flatMap((swap) => swap.in)[0];
    await page.locator(".changes").getByRole("button", { name: `why ${part.name}?` }).click();
    for (const name of ["May it go in?", "How is it worked out?"]) await page.locator(".why").getByRole("button", { name }).click();
    await settled(page);
    const fits = answer(["fits", file, part.part]), why = answer(["why", file, part.part]), explain = answer(["explain", file, part.part]), told = await text(page, ".why");
    faults.push(...lacks("why", told, [`About ${part.name}`, "It is in the best bundle.", ...(why.entry?.intervals ?? []).flatMap((one) => [one.to ?? `from ${one.from}`])]));
    faults.push(...lacks("fits", told, [{ fits: "It goes in.", refused: "It does not go in.", unknown: "Nobody can say yet" }[fits.verdict], ...fits.out.map((one) => one.name), ...fits.rules.filter((one) => one.verdict === "mind").map((one) => one.client)]));
    for (const one of explain.points.filter((each) => each.points !== "0.000")) faults.push(...lacks("explain", told, [`${rounded(one.points, 1)} ${one.formula}`]));
    return faults;
}

export async function otherNumbers(page, file, dear = true) {
    const faults = [...await partsAsked(page, file), ...await handedOver(page, file)];
    await view(page, "Machine");
    await settled(page);
    const look = answer(["look", file]), machine = await text(page, "#main");
    for (const one of look.findings) {
        faults.push(...lacks("the machine", machine, [one.evidence, one.means, one.caution ?? ""]));
        for (const mend of one.mends.filter((each) => each.offered)) faults.push(...lacks("the machine", machine, [`${mend.minutes} minute`, `${rounded(mend.points, 1)} points`, mend.cost === "0.00" ? "costs nothing" : `${mend.cost} EUR`]));
    }
    await view(page, "Options");
    await settled(page);
    const options = answer(["options", file]), shown = page.locator(".option");
    if (await shown.count() !== options.options.length) faults.push(`${await shown.count()} options are shown, not ${options.options.length}`);
    for (const [k, one] of options.options.entries()) {
        const told = flat(await shown.nth(k).innerText());
        faults.push(...lacks(`option ${k + 1}`, told, [`${one.bundle.cost} EUR`, `${rounded(one.bundle.points, 1)} points`, `Days without the machine: ${one.days_without}.`,
            `Loudness: ${rounded(one.bundle.sound.loudness_sone, 2)} sone`, ...one.bundle.swaps.flatMap((swap) => swap.in.map((part) => part.name)), ...one.bundle.cautions.map((each) => each.client),
            ...(one.next_step ? [`${one.next_step.more_cost} EUR more would bring ${rounded(one.next_step.more_points, 1)} points more.`] : [])]));
    }
    return [...faults, ...await (dear ? dearNumbers(page, file) : [])];
}

// What takes longest to work out.
export async function dearNumbers(page, file) {
    const faults = [];
    await view(page, "Options");
    await settled(page);
    await page.getByRole("button", { name: "How far the best holds" }).click();
    await settled(page);
    // On a busy machine not every end is settled in time: those that are must be the command's.
    const ranges = answer(["ranges", file]), holds = await text(page, "#main");
    faults.push(...lacks("how far it holds", holds, [ranges.budget.from, ...(ranges.budget.settled && ranges.budget.to ? [`to ${ranges.budget.to} EUR`] : []), ...ranges.prices.map((one) => `${one.name}, from`)]));
    await view(page, "Taste");
    for (const name of ["What to ask next", "Work out what is sure", "Draw the map"]) await page.getByRole("button", { name, exact: true }).click();
    await settled(page);
    const map = answer(["map", file]), sure = answer(["sure", file]), next = answer(["ask-next", file]), taste = await text(page, "#main");
    const share = (x) => `${Math.round(x * 100)} %`;
    for (const region of map.regions) faults.push(...lacks("the map", taste, [`${region.cost} EUR ${share(region.area)} ${share(region.of_likely)}`]));
    faults.push(...lacks("what is sure", taste, [`${sure.bundles.length} bundles of which no other`, rounded(sure.bundles[sure.best].regret, 1) === "0.0" ? "no other bundle brings noticeably more" : `at most ${rounded(sure.bundles[sure.best].regret, 1)} points less`]));
    for (const one of next.questions) faults.push(...lacks("the questions", taste, [`worth ${rounded(one.worth, 0)} or more? ${rounded(one.value, 2)}`]));
    return faults;
}
