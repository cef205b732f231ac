// node desk.mjs FOLDER TIMES: seconds by the clock that the desk takes on the job in FOLDER, a line for each request:
// what, median, worst. Each is on a connection of its own, from connecting until the last byte.
import fs from "node:fs";

import { Desk, now } from "../desk/raw.mjs";

const [folder, times] = [process.argv[2], Number(process.argv[3])];
const PAGE_AT_ONCE = 6; // connections of a browser to one host: from memory

const desk = await Desk.begin([`${folder}/scenario.json`], { work: folder });
const rows = [];

async function timed(what, count, one) {
    const seconds = [];
    for (let i = 0; i < count; i++) {
        const from = now();
        await one(i);
        seconds.push(now() - from);
    }
    seconds.sort((a, b) => a - b);
    rows.push([what, seconds[Math.floor((count - 1) / 2)], seconds.at(-1)]);
}

async function post(name, body) {
    const reply = await desk.post(name, body);
    if (reply.code !== 200) throw new Error(`${name} ${JSON.stringify(body)} is ${reply.code}: ${reply.body.slice(0, 300)}`);
    return reply;
}

// The page, then all that it and its modules name.
async function load_page() {
    const known = new Set(["/"]);
    const waiting = ["/"];
    let under_way = 0;
    await new Promise((done, broken) => {
        const next = () => {
            if (waiting.length === 0 && under_way === 0) done();
            while (waiting.length > 0 && under_way < PAGE_AT_ONCE) {
                const path = waiting.shift();
                under_way++;
                desk.get(path).then((reply) => {
                    if (reply.code !== 200) throw new Error(`${path} is ${reply.code}`);
                    for (const [, name] of reply.body.matchAll(/["']\.?\/?([a-z_]+\.(?:js|css))["']/g))
                        if (!known.has(`/${name}`) && fs.existsSync(`src/desk/page/${name}`)) known.add(`/${name}`) && waiting.push(`/${name}`);
                    under_way--;
                    next();
                }).catch(broken);
            }
        };
        next();
    });
    return known.size;
}

// The first of its desk alone is a first load; the others are as good, since nothing is kept by the browser.
let files = 0;
await timed("the page", times, async () => (files = await load_page()));
rows[0][0] = `the page, all ${files} files`;
const { sheet } = JSON.parse((await post("open", {})).body);
await timed("open", times, () => post("open", { sheet }));
await timed("ask check", times, () => post("ask", { sheet, question: "check" }));
await timed("ask look", times, () => post("ask", { sheet, question: "look" }));
// The weight as a person moves it; each is a new job to be worked out.
const quiet = (i) => `wishes.swings.quiet=${1 + ((i * 37) % 99)}`;
async function moved(what, words) {
    let open = 0;
    await timed(what, times, async (i) => {
        const reply = await post("ask", { sheet, question: "plan", words, set: [quiet(i)] });
        open += reply.headers["x-desk-exit"] === "2";
    });
    if (open > 0) rows.at(-1)[0] += ` (${open} not settled)`;
}
await moved("ask plan --brief, quiet moved", { brief: true });
await moved("ask plan, quiet moved", {});
if ((await desk.end()) !== 0) throw new Error("the desk did not end as it should");
for (const [what, median, worst] of rows) console.log(`${what}~${median.toFixed(4)}~${worst.toFixed(4)}`);
process.exit(0);
