// Judges the pages of the work: node papers.mjs FOLDER [--quick] NAME.. where FOLDER holds NAME-bench.html, NAME-bench.json,
// NAME-handover.html and NAME-handover.json. --quick: the cheap checks alone. Ends with "N passed, N failed".
import { readFileSync } from "node:fs";
import path from "node:path";
import { launch } from "./browser.mjs";
import { judgePaper, paperChecks, quickPaper } from "./paper_checks.mjs";

const [folder, ...words] = process.argv.slice(2);
const quick = words.includes("--quick"), names = words.filter((word) => !word.startsWith("--"));
let passed = 0, failed = 0;

const todo = names.flatMap((name) => ["bench", "handover"].flatMap((paper) => {
    const place = (kind, end) => path.join(folder, `${name}-${kind}.${end}`), json = (kind) => JSON.parse(readFileSync(place(kind, "json"), "utf8"));
    const job = { file: place(paper, "html"), html: readFileSync(place(paper, "html"), "utf8"), answer: json(paper), bench: json("bench"),
        paper, work: path.join(folder, "paper") };
    return (quick ? quickPaper : Object.keys(paperChecks)).map((check) => ({ what: `${name} ${paper}: ${check}`, check, job: { ...job, notes: [] } }));
}));

// Two at a time, each with a Chromium of its own: only the page in front is drawn and has the focus.
async function worker(list) {
    const browser = await launch();
    for (const { what, check, job } of list) {
        const begun = Date.now(), faults = await judgePaper(check, { ...job, browser });
        faults.length === 0 ? passed++ : failed++;
        if (faults.length > 0) console.log([`FAILED ${what}`, ...faults.map((fault) => `    ${fault}`)].join("\n"));
        if (process.env.PAGE_TIMES) console.log(`${what} ${Date.now() - begun} ms`);
        for (const note of job.notes) console.log(`${what}: ${note}`);
    }
    await browser.close();
}
// A page stays open for the checks that only look: so each worker gets its own kind.
await Promise.all(["bench", "handover"].map((paper) => worker(todo.filter(({ job }) => job.paper === paper))));
console.log(`${passed} passed, ${failed} failed`);
process.exitCode = failed === 0 ? 0 : 1;
