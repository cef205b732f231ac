// One desk, many clients at once, and somebody who kills its workers: FORMATS.md sections 37 and 38.
//
//     node load.mjs WORK [--requests N] [--clients N] [--seed N] [--told]
//
// Every answer is compared with the command line's for the same job; each save with its file; a request whose worker
// was killed must be told so. Afterwards the desk has neither grown nor kept anything, answers at once, and ends with
// nothing left of it. What is compared with comes from the command line, the files of the repository and a model
// of sections 18 and 38 in the client; the signals are those of signal(7), waiting and files those of proc(5).
import fs from "node:fs";

import { Client, anonymous } from "./load_client.mjs";
import { Killer } from "./load_killer.mjs";
import { Right, write_job } from "./load_right.mjs";
import { Wire } from "./load_wire.mjs";
import { random } from "./client.mjs";
import { Desk, isSanitized, now, patience, sleep, until } from "./raw.mjs";

const words = process.argv.slice(3);
const option = (name, otherwise) => (words.includes(name) ? Number(words[words.indexOf(name) + 1]) : otherwise);
const requests = option("--requests", 10000);
const clients = option("--clients", 8);
const seed = option("--seed", 1);
const seconds = isSanitized ? 120 : 60;
const GROWTH_KB = 2048; // between the tenth of the requests and all of them

fs.rmSync(process.argv[2], { recursive: true, force: true });
fs.mkdirSync(`${process.argv[2]}/jobs`, { recursive: true });
const work = fs.realpathSync(process.argv[2]);
const folder = `${work}/jobs`;
const catalog = fs.realpathSync("catalog");
const begun = now();

class Faults {
    constructor() {
        this.list = [];
    }
    add(what) {
        this.list.push(what);
        if (this.list.length <= 30) console.log(`FAILED ${what.slice(0, 600)}`);
    }
}

// The desk's own file: what it was when, and who may write it now.
class Shared {
    constructor(path) {
        this.path = path;
        this.text = fs.readFileSync(path, "utf8");
        this.times = [{ text: this.text, until: Infinity }];
        this.turn = Promise.resolve();
    }
    async take() {
        const before = this.turn;
        let free;
        this.turn = new Promise((done) => (free = done));
        await before;
        return free;
    }
    // One of these from now on, or still what it was.
    may_be(texts) {
        for (const text of texts) this.times.push({ text, until: Infinity });
    }
    look() {
        this.text = fs.readFileSync(this.path, "utf8");
        for (const one of this.times) one.until = Math.min(one.until, one.text === this.text ? Infinity : now());
        this.times.push({ text: this.text, until: Infinity });
        this.times = this.times.filter((one) => one.until > now() - 300);
    }
    was(text, since) {
        return this.times.some((one) => one.text === text && one.until >= since);
    }
}

// ---- before ------------------------------------------------------------------------------------------

const faults = new Faults();
write_job(`${folder}/job.json`, catalog);
const right = new Right(work, catalog);
// An answer of AddressSanitizer's own to a signal is none of the desk's; a fault that it finds has an exit code of its own.
const environment = { ASAN_OPTIONS: `${process.env.ASAN_OPTIONS ?? "detect_leaks=1"}:handle_segv=0:exitcode=86` };
const desk = await Desk.begin([`${folder}/job.json`, "--seconds", String(seconds)], { work, environment });
const killer = new Killer(desk, random(seed + 1), () => wire.count, { share: 0.05, left_most: Math.floor(requests / 2500) });
const wire = new Wire(desk, killer, faults, random(seed + 2));

const load = {
    wire, right, faults, folder, clients, random: random(seed),
    shared: new Shared(`${folder}/job.json`),
    saved: new Map(), doubtful: [], idle: new Map(), told: [],
    busy: 0, compared: 0, unsettled: 0, duels: 0, intakes: 0, save_count: 0,
    intake: await right.intake(folder),
    files: fs.readdirSync("src/desk/page").map((name) => [name === "index.html" ? "/" : `/${name}`, fs.readFileSync(`src/desk/page/${name}`)]),
    read: (name) => (fs.existsSync(`${folder}/${name}`) ? fs.readFileSync(`${folder}/${name}`, "utf8") : null),
    over: () => wire.count >= requests,
    async may_go() {
        while (this.halted) await sleep(20);
    },
};

// At rest, once: what depends on the catalog alone.
async function at_rest() {
    const sheet = (await wire.post("open", {})).json.sheet;
    for (const [name, body] of [["words", {}], ["profiles", {}], ["parts", { sheet, role: "cooler" }], ["parts", { sheet }]]) {
        const reply = await wire.post(name, body);
        if (reply.status !== 200) faults.add(`${name} at rest is ${reply.status}`);
        load.idle.set(`${name} ${body.role ?? ""}`, reply.bytes);
    }
    const { answers } = load.intake;
    fs.writeFileSync(`${folder}/draft.json`, load.intake.draft);
    const other = await Desk.begin([`${folder}/draft.json`], { work, environment });
    const draft = await other.open();
    for (let many = 0; many <= answers.length; many++) {
        const reply = await other.post("interview", { sheet: draft, answers: answers.slice(0, many) });
        if (reply.code !== 200) faults.add(`the interview at rest is ${reply.code}`);
        load.told.push(anonymous({ json: JSON.parse(reply.body) }));
    }
    await other.end();
    fs.rmSync(`${folder}/draft.json`);
    if (other.left().length > 0) faults.add("a desk at rest leaves something behind");
}

// ---- in between --------------------------------------------------------------------------------------

const figures = [];

// With everybody still, and only fresh sheets.
async function measure() {
    load.halted = true;
    killer.paused = true;
    await until(() => load.busy === 0, 120);
    for (let i = 0; i < 16; i++) await wire.post("open", {});
    const still = await until(() => desk.workers().length === 0, 40);
    if (!still) faults.add(`workers stay: ${JSON.stringify(desk.workers())}`);
    const own = fs.readdirSync(desk.temporary).flatMap((name) => fs.readdirSync(`${desk.temporary}/${name}`));
    const trays = own.filter((name) => !name.startsWith("tray"));
    if (trays.length > 0) faults.add(`left in the desk's folder: ${own.slice(0, 10)}`);
    await sleep(200);
    const status = fs.readFileSync(`/proc/${desk.pid}/status`, "latin1");
    const read = (name) => Number(new RegExp(`^${name}:\\s+(\\d+)`, "m").exec(status)[1]);
    const open = fs.readdirSync(`/proc/${desk.pid}/fd`).map((name) => {
        try {
            return fs.readlinkSync(`/proc/${desk.pid}/fd/${name}`);
        } catch {
            return "gone";
        }
    });
    figures.push({ requests: wire.count, resident_kb: read("VmRSS"), most_kb: read("VmHWM"), open: open.length, kinds: open, seconds: now() - begun });
    killer.paused = false;
    load.halted = false;
}

// ---- afterwards --------------------------------------------------------------------------------------

async function answers_at_once() {
    const times = [];
    const timed = async (what) => {
        const from = now();
        const reply = await what();
        times.push(now() - from);
        if (reply.status !== 200) faults.add(`at the end: ${reply.status}`);
        return reply;
    };
    await timed(() => wire.get("/"));
    const { sheet } = (await timed(() => wire.post("open", {}))).json;
    await timed(() => wire.post("ask", { sheet, question: "look" }));
    const worst = Math.max(...times);
    if (worst > patience / 2) faults.add(`at the end it took ${worst.toFixed(2)} s to answer`);
    return worst;
}

function files_are_right() {
    for (const [file, text] of load.saved) if (load.read(file) !== text) faults.add(`${file}: the save is lost`);
    for (const { file, texts } of load.doubtful) {
        if (!texts.includes(load.read(file))) faults.add(`${file}: a save that was left is torn`);
    }
    const strange = fs.readdirSync(folder).filter((name) => !/^(job|client-\d+-\d+)\.json$/.test(name));
    if (strange.length > 0) faults.add(`left beside the jobs: ${strange}`);
}

// By SIGINT, with workers at work, one of them stopped, and somebody who says nothing.
async function ends() {
    const { sheet } = (await wire.post("open", {})).json;
    const lines = [desk.connect()];
    for (let i = 0; i < 5; i++) {
        const line = desk.connect();
        const body = JSON.stringify({ sheet, question: "sure", words: { options: true }, set: ["budget.total=900", "wishes.keep.board=no", "wishes.keep.processor=no", "wishes.keep.drives=no", "wishes.keep.power=no"] });
        const head = Object.entries(desk.head({ "Content-Length": Buffer.byteLength(body) })).map(([name, value]) => `${name}: ${value}\r\n`).join("");
        line.send(`POST /api/ask HTTP/1.1\r\n${head}\r\n${body}`);
        lines.push(line);
    }
    if (!(await until(() => desk.workers().length === 3, 10))) faults.add("three are not at work at the end");
    const workers = desk.workers().map((one) => one.pid);
    if (workers.length > 0) process.kill(workers[0], "SIGSTOP");
    const from = now();
    const code = await desk.end("SIGINT");
    const took = now() - from;
    if (code !== 0 || took > 2 * patience) faults.add(`the desk ended with ${code ?? desk.signal} after ${took.toFixed(1)} s`);
    if (desk.left().length > 0) faults.add(`left of the desk: ${desk.left()}`);
    const alive = [...workers, ...killer.hit].filter((pid) => {
        try {
            return fs.readFileSync(`/proc/${pid}/environ`, "latin1").includes(`TMPDIR=${desk.temporary}`);
        } catch {
            return false;
        }
    });
    if (alive.length > 0) faults.add(`workers live on: ${alive}`);
    if (desk.errors !== "") faults.add(`on standard error: ${desk.errors.slice(0, 3000)}`);
    for (const line of lines) line.leave();
    return took;
}

// ---- all of it -----------------------------------------------------------------------------------------

await at_rest();
const hunted = killer.run(requests);
const many = Array.from({ length: clients }, (_, i) => new Client(i, load).run());
const finished = Promise.all(many);
const measured = (async () => {
    await until(() => wire.count >= requests / 10, 3600);
    await measure();
})();
await finished;
await measured;
killer.over = true;
await hunted;
const alive = desk.code === undefined && desk.signal === undefined;
if (!alive) faults.add(`the desk is no more: ${desk.code ?? desk.signal} ${desk.errors.slice(0, 3000)}`);
let worst = 0;
let took = 0;
if (alive) {
    await measure();
    worst = await answers_at_once();
    files_are_right();
    took = await ends();
}
const [early, late] = figures;
if (late) {
    if (!isSanitized && late.resident_kb > early.resident_kb + GROWTH_KB) faults.add(`it grew from ${early.resident_kb} to ${late.resident_kb} kB`);
    if (late.open !== early.open) faults.add(`it holds ${late.open} open files after ${early.open}: ${late.kinds}`);
}
// A load that met nothing shows nothing.
const least = (what, count, of) => count >= of || faults.add(`only ${count} ${what}`);
if (load.unsettled > requests / 100) faults.add(`${load.unsettled} answers were not settled in time`);
least("workers killed", wire.deaths, requests / 100);
least("answers compared", load.compared, requests / 10);
least("saves", load.save_count, requests / 100);
least("saves of two at once", load.duels, Math.floor(requests / 1000));
least("jobs made from dumps", load.intakes, Math.floor(requests / 1000));

for (const one of figures) console.log(`after ${one.requests} requests (${one.seconds.toFixed(0)} s): ${one.resident_kb} kB resident (${one.most_kb} at most), ${one.open} files open`);
console.log(`replies: ${Object.entries(wire.told).map(([what, count]) => `${what} ${count}`).join(", ")}; slowest ${wire.slowest.toFixed(1)} s`);
console.log(`${load.compared} answers compared with ${right.known.size} runs of the command line (${load.unsettled} not settled in time), ${load.save_count} saves, ${load.duels} times two at once, ${load.intakes} jobs from dumps`);
console.log(`${killer.sent.length} signals, ${wire.deaths} requests told so; at the end answered in ${worst.toFixed(2)} s, ended in ${took.toFixed(2)} s`);
const passed = wire.count - faults.list.length;
console.log(`${Math.max(passed, 0)} passed, ${faults.list.length} failed`);
process.exit(faults.list.length === 0 ? 0 : 1);
