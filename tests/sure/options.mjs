// node options.mjs PROGRAM WORK: where `sure --options` says that an option stays the best for its money, `plan` at that
// budget buys it just inside both ends, and something else just outside. Ends with "N passed, N failed".
import { spawnSync } from "node:child_process";
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";

const [program, work] = process.argv.slice(2);
mkdirSync(work, { recursive: true });
let passed = 0, failed = 0;
const verdict = (good, what) => {
    if (good) passed++;
    else { failed++; console.log("FAILED " + what); }
};
const ask = (words) => {
    const { status, stdout, stderr } = spawnSync(program, words, { encoding: "utf8", maxBuffer: 1 << 28 });
    if (status !== 0 && status !== 2) throw new Error(`${words.join(" ")}: ${status} ${stderr}`);
    return JSON.parse(stdout);
};
const bought = (bundle) => bundle.swaps.flatMap((swap) => swap.in.map(({ part, count }) => `${part}*${count}`)).sort().join(" ") +
    "|" + bundle.tasks.map(({ id, task }) => id ?? task).sort().join(" ");

for (const name of ["good-enough", "saver-box"])
    for (const doubt of [{ any: true }, { factor: 3 }]) {
        const scenario = JSON.parse(readFileSync(`scenarios/${name}.json`));
        scenario.catalog = process.cwd() + "/catalog";
        delete scenario.phases;
        scenario.wishes.doubt = doubt;
        const path = `${work}/${name}.json`;
        const write = (swings) => {
            writeFileSync(path, JSON.stringify({ ...scenario, wishes: { ...scenario.wishes, swings, doubt: swings === own ? doubt : undefined } }));
        };
        const own = scenario.wishes.swings;
        write(own);
        const sure = ask(["sure", path, "--options", "--json"]);
        const offered = ask(["options", path, "--json"]).options;
        verdict(sure.options.length === offered.length, `${name}: ${sure.options.length} options, not ${offered.length}`);
        sure.options.forEach((option, o) => {
            for (const [criterion, [from, to]] of Object.entries(option.weights)) {
                const others = Object.entries(own).reduce((sum, [id, swing]) => sum + (id === criterion ? 0 : swing), 0);
                const at = (share) => ({ ...own, [criterion]: Math.round(1000 * share * others / (1 - share)) / 1000 });
                const here = (share, stays) => {
                    // Nearer to all or nothing plan rounds what the others bring to less than it is.
                    if (!(share > 0.01 && share < 0.99)) return;
                    write(at(share));
                    const plan = ask(["plan", path, "--budget", String(Number(option.cost) + Number(scenario.budget.reserve ?? 0) + Number(scenario.budget.sundries ?? 0)), "--json"]).bundles[0];
                    verdict((bought(plan) === bought(offered[o].bundle ?? offered[o])) === stays,
                        `${name} ${JSON.stringify(doubt)}, option ${o + 1}, ${criterion} at ${share.toFixed(4)}: ${bought(plan)}`);
                };
                const hair = 0.0015;
                here(Number(from) + hair, true);
                here(Number(to) - hair, true);
                if (doubt.any) {
                    here(Number(from) - hair, Number(from) === 0);
                    here(Number(to) + hair, Number(to) === 1);
                }
            }
        });
    }
console.log(`${passed} passed, ${failed} failed`);
process.exit(failed === 0 ? 0 : 1);
