// Judges pages: node pages.mjs FOLDER NAME.. where FOLDER holds NAME.html, NAME.options.json, NAME.plan.json,
// NAME.curve.json and NAME.map.json. NAME- gets only the quick checks. Ends with "N passed, N failed".
import { readFileSync } from "node:fs";
import path from "node:path";
import { launch } from "./browser.mjs";
import { checks, judge, light } from "./checks.mjs";
import { formulaCount, formulaFaults } from "./formula_known.mjs";

const [folder, ...names] = process.argv.slice(2);
const json = (name, kind) => JSON.parse(readFileSync(path.join(folder, `${name}.${kind}.json`), "utf8"));
let passed = 0, failed = 0;

function tell(what, faults) {
    if (faults.length === 0) {
        passed++;
        return;
    }
    failed++;
    console.log(`FAILED ${what}`);
    for (const fault of faults) console.log(`    ${fault}`);
}

const wrong = formulaFaults();
passed += formulaCount - wrong.length;
for (const fault of wrong) {
    failed++;
    console.log(`FAILED formula: ${fault}`);
}

const todo = names.flatMap((word) => {
    const name = word.replace(/-$/, ""), file = path.join(folder, `${name}.html`), answer = json(name, "options");
    // A curve that was stopped early ends elsewhere each time: then what the page was made from counts.
    const known = json(name, "curve"), curve = answer.curve?.proved && known.status === "optimal" ? known : answer.curve;
    const job = { file, html: readFileSync(file, "utf8"), answer, plan: json(name, "plan"), map: json(name, "map"), curve, work: path.join(folder, "paper") };
    return (word === name ? Object.keys(checks) : light)
        .map((check) => ({ what: `${name}: ${check}`, check, job: { ...job, notes: [] } }));
});

// Two at a time, each with a Chromium of its own: only the page in front is drawn and has the focus.
async function worker() {
    const browser = await launch();
    for (let next = todo.shift(); next; next = todo.shift()) {
        const begun = Date.now();
        tell(next.what, await judge(next.check, { ...next.job, browser }));
        if (process.env.PAGE_TIMES) console.log(`${next.what} ${Date.now() - begun} ms`);
        for (const note of next.job.notes) console.log(`${next.what}: ${note}`);
    }
    await browser.close();
}
await Promise.all([worker(), worker()]);
console.log(`${passed} passed, ${failed} failed`);
process.exitCode = failed === 0 ? 0 : 1;
