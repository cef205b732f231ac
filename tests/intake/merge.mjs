// merge.mjs PROGRAM WORK CATALOG WHAT [FIRST COUNT]: what `intake dumps` makes of random machines' dumps,
// against FORMATS.md section 29. WHAT: machines, refusals, survey, hostile, faults.
import { resolve } from "node:path";
import { hostile } from "./merge_hostile.mjs";
import { faults } from "./merge_faults.mjs";
import { judge } from "./merge_judge.mjs";
import { Bench } from "./merge_run.mjs";
import { otherIntake } from "./merge_other.mjs";
import { survey } from "./merge_survey.mjs";
import { findLocales, planned, refusals, ways } from "./merge_ways.mjs";

const [program, work, shipped, what, ...numbers] = process.argv.slice(2);
const [first, count] = numbers.map(Number);
const bench = new Bench(resolve(program), resolve(work), resolve(shipped));

// What has to come up in so many machines, else they prove little.
const COVERED = {
    "a part of the catalog": ({ pieces }) => pieces.some((one) => one.part !== undefined),
    "a part of its own": ({ pieces }) => pieces.some((one) => one.part === undefined && one.name !== undefined),
    "a name of several parts": ({ pieces }) => pieces.some((one) => one.choices.length > 1),
    "equal pieces": ({ pieces }) => pieces.some((one) => one.count > 1),
    "a part twice, not equal": ({ pieces }) =>
        pieces.some((one) => one.part !== undefined && pieces.some((other) => other !== one && other.part === one.part)),
    "failing": ({ pieces }) => pieces.some((one) => one.condition === "failing"),
    "worn": ({ pieces }) => pieces.some((one) => one.condition === "worn"),
    "a contradiction": ({ devices }) =>
        devices.some(({ says }) => Object.values(says).some((one) => one.contradicts.length > 0)),
    "other than the catalog": ({ pieces }) =>
        pieces.some((one) => one.part !== undefined && one.doubts.some((doubt) => doubt.fact !== undefined)),
    "no fact": ({ pieces }) =>
        pieces.some((one) => one.part === undefined && one.doubts.some((doubt) => doubt.fact !== undefined)),
    "dumps of two pieces": ({ mixed }) => mixed.length > 0,
    "a warning of what does not count": ({ pieces }) => pieces.some(({ health: [health], devices: [device] }) =>
        health?.when[0].is === false && device.says.healthy?.counts.value === true),
    "a warning of what is left out": ({ left }) => left.some(({ health }) => health !== undefined),
    "an empty slot": ({ left }) => left.some(({ why }) => why === "an empty slot"),
    "a role without a piece": ({ unseen }) => unseen.some(({ role }) => role === "drives"),
};

function machines() {
    const open = new Set(Object.keys(COVERED));
    bench.locales = findLocales(bench.work);
    if (bench.locales.length === 0) console.log("no locale with a decimal comma here: left out");
    for (let seed = first; seed < first + count; seed++) {
        const catalog = seed % 3 === 0 ? bench.catalogWith("other-catalog", otherIntake(seed, bench.catalog)) : bench.catalog;
        const job = bench.draw(seed, catalog);
        for (const [name, has] of Object.entries(COVERED)) if (has(job.expected)) open.delete(name);
        const answers = bench.ask("machine", job, catalog.folder);
        bench.verdict(`machine ${seed}`, judge(catalog, answers, job, job.expected));
        if (seed % 5 === 1) ways(bench, job, answers);
        if (seed % 20 === 8) planned(bench, job, answers);
    }
    bench.verdict("the machines have all that is to be seen", [...open].map((name) => `none has ${name}`));
}

switch (what) {
case "machines": machines(); break;
case "refusals": refusals(bench, bench.draw(1)); break;
case "survey": survey(bench); break;
case "hostile": hostile(bench, first, count); break;
case "faults": faults(bench); break;
default: throw new Error(`what is ${what}?`);
}
console.log(`${bench.passed} passed, ${bench.failed} failed`);
process.exit(bench.failed === 0 && bench.passed > 0 ? 0 : 1);
