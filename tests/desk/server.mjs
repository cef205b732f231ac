// The desk's server against raw connections: FORMATS.md section 37, row by row of "Defence", and what
// libevent's evhttp 2.1.12 is known not to do by itself (two Host headers or none, no cap of
// connections, no deadline for a whole request).
//
//     node server.mjs WORK [--whole] [--without NAME,NAME..] [NAME..]
//
// Outside truths: RFC 9110 (405 with Allow, HEAD without content, 413, 415, 422), RFC 9112 (Host, both
// lengths, absolute form), W3C Content Security Policy 3, WHATWG Fetch (Origin, CORP).
import fs from "node:fs";

import { answers } from "./server_answers.mjs";
import { defence } from "./server_defence.mjs";
import { ends } from "./server_ends.mjs";
import { Verdicts, endAll, isSanitized, now } from "./raw.mjs";

const AT_ONCE = isSanitized ? 2 : 5;

const [work, ...words] = process.argv.slice(2);
const whole = words.includes("--whole");
const at = words.indexOf("--without");
const without = at < 0 ? [] : words.splice(at, 2)[1].split(",");
const only = words.filter((word) => !word.startsWith("--"));
fs.mkdirSync(work, { recursive: true });
for (const name of fs.readdirSync(work)) fs.rmSync(`${work}/${name}`, { recursive: true });

const checks = [...defence, ...answers, ...ends].filter(
    ([name, , long]) => !without.includes(name) && (only.length === 0 ? whole || !long : only.includes(name)),
);
const options = { work: fs.realpathSync(work), whole };
let passed = 0;
let failed = 0;

// Most of these wait: some at once, each with a folder and desks of its own.
async function runAll() {
    for (let next; (next = checks.shift()); ) {
        const [name, check] = next;
        const verdicts = new Verdicts();
        const begun = now();
        fs.mkdirSync(`${work}/${name}`);
        try {
            await check(verdicts, { ...options, work: `${options.work}/${name}` });
        } catch (error) {
            verdicts.holds(`it broke off: ${error.stack}`, false);
        }
        endAll(`${options.work}/${name}`);
        verdicts.end(name, now() - begun);
        passed += verdicts.passed;
        failed += verdicts.failed;
    }
}

await Promise.all(Array.from({ length: AT_ONCE }, runAll));
console.log(`${passed} passed, ${failed} failed`);
process.exit(failed === 0 && passed > 0 ? 0 : 1);
