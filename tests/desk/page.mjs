// The desk's page in a browser (playwright-core, Debian's Chromium), against a desk that the program serves.
//
//     node tests/desk/page.mjs            all of it
//     node tests/desk/page.mjs --quick    one quick job: numbers, slider, old answers, two tabs, every view once
//     node tests/desk/page.mjs --first [--exactly]   how soon the first view is there: to be run with nothing beside it;
//                                         --exactly: under 500 ms, however slow the machine
//     node tests/desk/page.mjs --faults [CHECK]   planted faults, each to be found by the check that is named beside it
//     node tests/desk/page.mjs --pictures pictures of every view, for people
//
// Outside truths: WCAG 2.2 (1.4.10 reflow at 320 px, 2.5.8 targets of 24 px, 2.4.7 and 2.4.11 focus seen and not
// covered) and axe-core's rules; 16 ms is one frame of a display of 60 Hz. Under 200 kB and 500 ms are our own.
import fs from "node:fs";
import path from "node:path";
import { beginDesk, counts, jobFolder, launch, openDesk, settled, verdict, view, viewNames, work } from "./page_browser.mjs";
import { calm, everyView, firstView, hostile, hostileTitle, oldAnswers, slider, token, unfolded, weight } from "./page_checks.mjs";
import { faults } from "./page_faults.mjs";
import { twoTabs, wholeJob } from "./page_jobs.mjs";
import { dearNumbers, moneyNumbers, otherNumbers } from "./page_numbers.mjs";

const [mode = "--whole", only] = process.argv.slice(2);
fs.rmSync(work, { recursive: true, force: true });
fs.mkdirSync(work, { recursive: true });
const browser = await launch();

const hostileJob = (job) => {
    job.title = hostileTitle;
    job.machine.fans[0].note = "<b>front</b>";
    job.complaints[0].words = hostileTitle;
    return job;
};

async function atDesk(scenario, act, change) {
    const desk = await beginDesk(jobFolder(scenario, change));
    try {
        return await act(desk);
    } finally {
        await desk.stop();
    }
}

async function numbers(desk, { plant = null, others = true, dear = true } = {}) {
    const opened = await openDesk(browser, desk, { plant });
    const found = [...await moneyNumbers(opened.page, desk.file), ...(others ? await otherNumbers(opened.page, desk.file, dear) : []), ...opened.seen.faults];
    await opened.close();
    return { faults: found };
}

async function doubts(desk) {
    const opened = await openDesk(browser, desk);
    const found = [...await dearNumbers(opened.page, desk.file), ...opened.seen.faults];
    await opened.close();
    return { faults: found };
}

async function judge(what, act) {
    const began = Date.now();
    try {
        const { faults: found, told } = await act();
        verdict(what, found);
        console.log(`${found.length === 0 ? "ok" : "  "} ${what} (${((Date.now() - began) / 1000).toFixed(1)} s)${told ? `: ${told}` : ""}`);
    } catch (error) {
        verdict(what, [`it broke off: ${error.message.slice(0, 600)}`]);
    }
}

const quick = "good-enough";
async function once(scenario) {
    await atDesk(scenario, async (desk) => {
        await judge(`${scenario}: weight`, () => weight(browser, desk));
        if (mode === "--whole") await judge(`${scenario}: first view`, () => firstView(browser, desk, { exactly: true }));
        await judge(`${scenario}: numbers`, () => numbers(desk, { dear: mode === "--whole" }));
        await judge(`${scenario}: slider`, () => slider(browser, desk));
        await judge(`${scenario}: old answers`, () => oldAnswers(browser, desk));
        await judge(`${scenario}: token`, () => token(browser, desk));
        await judge(`${scenario}: calm`, () => calm(browser, desk));
        await judge(`${scenario}: every view, wide`, () => everyView(browser, desk, { width: 1280 }, unfolded));
    });
    if (mode !== "--whole") await atDesk("saver-box", (desk) => judge("saver-box: how far it holds, and doubts", () => doubts(desk)));
    await atDesk(scenario, (desk) => judge(`${scenario}: hostile texts`, () => hostile(browser, desk)), hostileJob);
    await judge("two tabs", () => twoTabs(browser));
}

async function widths(scenario) {
    for (const how of [{ width: 320, height: 640 }, { width: 320, height: 640, scheme: "dark" }, { width: 1280, scheme: "dark" }, { width: 3840, height: 2160 }, { width: 1280, forced: "active" }])
        await atDesk(scenario, (desk) => judge(`${scenario}: every view, ${JSON.stringify(how)}`, () => everyView(browser, desk, how, unfolded)));
}

async function plantAll() {
    const checks = {
        weight: (desk, plant) => weight(browser, desk, { plant }), firstView: (desk, plant) => firstView(browser, desk, { plant }),
        numbers: (desk, plant) => numbers(desk, { plant, others: false }), otherNumbers: (desk, plant) => numbers(desk, { plant }), slider: (desk, plant) => slider(browser, desk, { plant }),
        oldAnswers: (desk, plant) => oldAnswers(browser, desk, { plant }), views: (desk, plant) => everyView(browser, desk, { plant }), narrow: (desk, plant) => everyView(browser, desk, { plant, width: 320, height: 640 }),
        token: (desk, plant) => token(browser, desk, { plant }), hostile: (desk, plant) => hostile(browser, desk, { plant }),
        tabs: (_, plant) => twoTabs(browser, { plant }), keys: (_, plant) => wholeJob(browser, "keys", { plant }),
    };
    // Without a fault each of these finds nothing; whole jobs are gone through elsewhere.
    const some = faults.filter((one) => only === undefined || one.check === only);
    for (const name of new Set(some.map((one) => one.check)))
        if (name !== "keys") await atDesk(quick, (desk) => judge(`no fault: ${name}`, () => checks[name](desk, null)), name === "hostile" ? hostileJob : undefined);
    for (const plant of some) {
        const found = await atDesk(quick, (desk) => checks[plant.check](desk, plant).catch((error) => ({ faults: [`it broke off: ${error.message.slice(0, 300)}`] })), plant.check === "hostile" ? hostileJob : undefined);
        const good = found.faults.some((one) => plant.says.test(one)) && !found.faults.some((one) => /changes nothing/.test(one));
        verdict(`fault "${plant.name}"`, good ? [] : [`not found by ${plant.check}: ${found.faults.slice(0, 2).join(" | ") || "nothing was found"}`]);
        console.log(`${good ? "found" : "MISSED"}: ${plant.name} (${plant.check}: ${found.faults.find((one) => plant.says.test(one))?.slice(0, 120) ?? ""})`);
    }
}

async function pictures() {
    const folder = path.join(work, "pictures");
    fs.mkdirSync(folder);
    for (const [name, how] of Object.entries({ light: { width: 1280 }, dark: { width: 1280, scheme: "dark" }, narrow: { width: 320, height: 640 }, huge: { width: 3840, height: 2160 } }))
        for (const scenario of [quick, "attic-desk"])
            await atDesk(scenario, async (desk) => {
                const opened = await openDesk(browser, desk, how);
                await settled(opened.page);
                for (const one of viewNames) {
                    await view(opened.page, one);
                    if (scenario === quick) await unfolded(opened.page, one);
                    await settled(opened.page);
                    await opened.page.screenshot({ path: path.join(folder, `${scenario}-${one}-${name}.png`), fullPage: true });
                }
                await opened.close();
            });
    console.log(folder);
}

if (mode === "--pictures") await pictures();
else if (mode === "--faults") await plantAll();
else if (mode === "--first") await atDesk(quick, (desk) => judge(`${quick}: first view`, () => firstView(browser, desk, { exactly: only === "--exactly" })));
else {
    await once(quick);
    if (mode !== "--quick") {
        await widths(quick);
        await atDesk("attic-desk", (desk) => judge("attic-desk: numbers", () => numbers(desk, { others: false })));
        await judge("a whole job by mouse", () => wholeJob(browser, "mouse"));
        await judge("a whole job by keyboard alone", () => wholeJob(browser, "keys"));
        await judge("a whole job at 320 px", () => wholeJob(browser, "mouse", { width: 320, height: 640 }));
    }
}
await browser.close();
console.log(`${counts.passed} passed, ${counts.failed} failed`);
process.exit(counts.failed === 0 && (counts.passed > 0 || mode === "--pictures") ? 0 : 1);
