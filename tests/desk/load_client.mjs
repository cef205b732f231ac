// One client of the load: what it asks, and what the desk must have said to it.
import fs from "node:fs";
import { isDeepStrictEqual as same } from "node:util";

import { scan } from "./json_bytes.mjs";
import { changed, first_look, list, undated } from "./load_right.mjs";
import { now, sleep } from "./raw.mjs";

const TOTALS = ["60.00", "100.00", "140.00"];
const QUIET = [25, 40, 60];
const part = "tern-valley-v5-60";

// [weight, question, words of the request, words of the command line]
const questions = [
    [10, "look", {}, []], [8, "check", {}, []], [8, "plan", {}, []], [4, "plan", { brief: true }, ["--brief"]], [3, "plan", { best: 2 }, ["--best", "2"]], [4, "plan", { budget: "90" }, ["--budget", "90"]],
    [6, "curve", { from: 20, to: "80.50" }, ["--from", "20", "--to", "80.50"]], [5, "first", {}, []], [2, "options", {}, []],
    [4, "whatif", { settings: ["budget.total=80"] }, ["--set", "budget.total=80"]], [3, "phases", {}, []], [5, "fits", {}, []],
    [2, "fits", { parts: [part] }, [part]], [2, "fits", { parts: ["no-such-part"] }, ["no-such-part"]], [5, "explain", {}, []],
    [1, "why", { part }, [part]], [1, "ask-next", {}, []], [1, "bench", { option: 1 }, ["--option", "1"]], [1, "shopping", { option: 1 }, ["--option", "1"]],
    [1, "sure", { prices: 2, estimates: 0 }, ["--prices", "2", "--estimates", "0"]],
];
const papers = [
    ["shopping", { option: 1 }, ["shopping", ["--option", "1"]]], ["curve", {}, ["curve", ["--svg", "page.svg"], "page.svg"]],
    ["proposal", {}, ["options", ["-o", "page.html"], "page.html"]], ["bench", { option: 1 }, ["bench", ["--option", "1", "-o", "page.html"], "page.html"]],
];

// The bytes of a member as they stand, with the blanks behind it: a job ends with a new line.
function raw(reply, name) {
    const text = reply.bytes.toString();
    const { members, to } = scan(text);
    const at = members.findIndex((one) => one.name === name);
    if (at < 0) return undefined;
    const next = members[at + 1];
    return text.slice(members[at].from, next ? next.from - `,"${next.name}":`.length : to - 1);
}
// An answer without what tells whose it is.
export const anonymous = ({ json }) => ({ ...json, sheet: undefined, revision: undefined });

export class Client {
    constructor(number, load) {
        Object.assign(this, { number, wire: load.wire, right: load.right, load, random: load.random });
        this.sheet = null;
        this.saves = 0;
    }

    fault(what) {
        this.load.faults.add(what);
    }

    holds(truth, what) {
        if (!truth) this.fault(what);
        return truth;
    }

    pick(from) {
        return from[Math.floor(this.random() * from.length)];
    }

    weighed(from) {
        let at = this.random() * from.reduce((sum, one) => sum + one[0], 0);
        return from.find((one) => (at -= one[0]) < 0) ?? from[0];
    }

    manner() {
        const at = this.random();
        return at < 0.82 ? "plain" : at < 0.86 ? "slow to send" : at < 0.9 ? "slow to read" : "leaves";
    }

    async run() {
        const steps = [
            [40, () => this.ask()], [13, () => this.change()], [5, () => this.undo()], [4, () => this.difference()], [6, () => this.save()], [4, () => this.open()],
            [4, () => this.paper()], [3, () => this.names()], [4, () => this.page()], [5, () => this.broken()], [0.9, () => this.intake()], [1.2, () => this.duel()], [2, () => this.race()],
        ];
        // Each kind of step once by somebody, then by chance.
        const first = steps.filter((_, i) => i % this.load.clients === this.number);
        while (!this.load.over()) {
            await this.load.may_go();
            this.load.busy++;
            try {
                if (this.sheet === null) await this.begin();
                else await (first.shift() ?? this.weighed(steps))[1]();
            } catch (error) {
                this.fault(`it broke off: ${error.stack}`);
            }
            this.load.busy--;
        }
    }

    // Until it is neither refused because too many wait nor killed; null: the sheet is gone.
    async surely(name, body) {
        for (let tries = 0; ; tries++) {
            const reply = await this.wire.post(name, body);
            if (reply.gone) return null;
            if (!reply.busy && !reply.died) return reply;
            if (!this.holds(tries < 50, `${name} is never let in`)) return null;
            await sleep(20);
        }
    }

    // ---- a sheet of one's own -----------------------------------------------------------------------

    async new_sheet() {
        const began = now();
        const reply = await this.wire.post("open", {});
        if (!this.holds(reply.status === 200 && reply.json.revision === 1, `open is ${reply.status}`)) return null;
        const text = raw(reply, "job");
        this.holds(this.load.shared.was(text, began), `open gave what the file never was: ${text.slice(0, 80)}`);
        return { id: reply.json.sheet, revision: 1, text, before: [], file: reply.json.file, base: text };
    }

    async begin() {
        this.sheet = await this.new_sheet();
    }

    is_gone(reply) {
        if (reply === null || reply.gone) this.sheet = null;
        return reply === null || reply.gone || reply.left || reply.busy || reply.died || false;
    }

    is_now(reply, sheet, what) {
        this.holds(reply.json?.revision === sheet.revision && raw(reply, "job") === sheet.text, `${what}: another job, or revision ${reply.json?.revision}, not ${sheet.revision}`);
    }

    async open() {
        const sheet = this.sheet;
        const reply = await this.wire.post("open", { sheet: sheet.id }, { manner: this.manner() });
        if (!this.is_gone(reply)) this.is_now(reply, sheet, "open");
    }

    // Nobody knows whether what was left is done yet: after another change it never will be.
    async settle(sheet, text) {
        const set = [`budget.total=${this.pick(TOTALS)}`];
        const reply = await this.surely("change", { sheet: sheet.id, revision: sheet.revision, set });
        if (this.is_gone(reply)) return;
        if (reply.status === 409) {
            // It was done.
            sheet.before.push(sheet.text);
            Object.assign(sheet, { revision: sheet.revision + 1, text: raw(reply, "job") });
            this.holds(text(sheet.text) && reply.json.revision === sheet.revision, "a change that was left became another");
        } else {
            this.took(sheet, reply, set);
        }
    }

    // A change that was told as made.
    took(sheet, reply, set) {
        const text = raw(reply, "job");
        const good = this.holds(reply.status === 200 && reply.json.revision === sheet.revision + 1, `a change is ${reply.status}, revision ${reply.json?.revision} after ${sheet.revision}`);
        if (!good) return;
        this.holds(same(JSON.parse(text), changed(JSON.parse(sheet.text), set)), `${set} made another job`);
        this.holds(reply.json.complaints.length === 0, `${set}: complaints`);
        sheet.before.push(sheet.text);
        Object.assign(sheet, { text, revision: sheet.revision + 1 });
    }

    async change() {
        const sheet = this.sheet;
        const set = this.pick([[`budget.total=${this.pick(TOTALS)}`], [`wishes.swings.quiet=${this.pick(QUIET)}`], [`budget.total=${this.pick(TOTALS)}`, `wishes.swings.quiet=${this.pick(QUIET)}`]]);
        if (this.random() < 0.1) {
            const reply = await this.wire.post("change", { sheet: sheet.id, revision: sheet.revision + 3, set });
            if (this.is_gone(reply)) return;
            this.holds(reply.status === 409, `a change of another revision is ${reply.status}`);
            this.is_now(reply, sheet, "409");
            return;
        }
        const reply = await this.wire.post("change", { sheet: sheet.id, revision: sheet.revision, set }, { manner: this.manner() });
        if (reply.left) await this.settle(sheet, (text) => same(JSON.parse(text), changed(JSON.parse(sheet.before.at(-1)), set)));
        else if (!this.is_gone(reply)) this.took(sheet, reply, set);
    }

    async undo() {
        const sheet = this.sheet;
        const reply = await this.wire.post("undo", { sheet: sheet.id, revision: sheet.revision });
        if (this.is_gone(reply)) return;
        if (sheet.before.length === 0) {
            this.holds(reply.status === 422, `undo of nothing is ${reply.status}`);
            return;
        }
        Object.assign(sheet, { text: sheet.before.pop(), revision: sheet.revision + 1 });
        if (this.holds(reply.status === 200, `undo is ${reply.status}`)) this.is_now(reply, sheet, "undo");
    }

    // Two changes of one revision: one is made.
    async race() {
        const sheet = this.sheet;
        const sets = [[`budget.total=${this.pick(TOTALS)}`], [`wishes.swings.quiet=${this.pick(QUIET)}`]];
        const replies = await Promise.all(sets.map((set) => this.wire.post("change", { sheet: sheet.id, revision: sheet.revision, set })));
        const made = replies.findIndex((reply) => reply.status === 200);
        const other = replies[1 - Math.max(made, 0)];
        if (replies.some((reply) => reply.gone)) this.sheet = null;
        if (made < 0) {
            this.holds(replies.every((reply) => reply.gone || reply.busy || reply.died), `two changes at once: ${replies.map((one) => one.status)}`);
            return;
        }
        this.took(sheet, replies[made], sets[made]);
        if (other.gone || other.busy || other.died) return;
        if (this.holds(other.status === 409, `both of two changes: ${other.status}`)) this.is_now(other, sheet, "the later of two");
    }

    // ---- questions ----------------------------------------------------------------------------------

    named(bytes, sheet) {
        return Buffer.from(bytes.toString().replaceAll('"job.json"', JSON.stringify(sheet.file)));
    }

    async ask(sheet = this.sheet, manner = this.manner()) {
        const [, question, words, line] = this.weighed(questions);
        const job = JSON.parse(sheet.text);
        const kind = this.random();
        let set;
        if (kind < 0.3) set = [`budget.total=${this.pick(TOTALS)}`];
        else if (kind < 0.4) set = [`wishes.swings.quiet=${this.pick(QUIET)}`, `budget.total=${this.pick(TOTALS)}`];
        else if (kind < 0.43) set = ["budget.total=lots"];
        else if (kind < 0.46) set = ["budget.total"];
        const reply = await this.wire.post("ask", { sheet: sheet.id, question, words, ...(set && { set }) }, { manner });
        if (reply.gone && sheet === this.sheet) this.sheet = null;
        if (reply.left || reply.gone || reply.busy || reply.died) return;
        const what = `${question} ${JSON.stringify(words)} ${set ?? ""}`;
        if (set?.[0] === "budget.total") {
            this.holds(reply.status === 400 && reply.json.complaints.length > 0, `${what}: a change without a value is ${reply.status}`);
            return;
        }
        const after = set?.[0] === "budget.total=lots" ? { ...job, budget: { ...job.budget, total: "lots" } } : changed(job, set ?? []);
        const right = await this.right.answer(after, question, [...line, "--json"]);
        // On a machine that has much else to do the time may be over before all is settled, which is told.
        if (reply.headers["x-desk-exit"] === "2" && right.exit !== 2) {
            this.load.unsettled++;
            return;
        }
        this.holds(reply.status === right.status, `${what} is ${reply.status}, not ${right.status}`);
        if (right.status === 500 || right.bytes.length === 0) return;
        this.holds(reply.headers["x-desk-exit"] === String(right.exit), `${what}: exit ${reply.headers["x-desk-exit"]}, not ${right.exit}`);
        this.holds(reply.bytes.equals(this.named(right.bytes, sheet)), `${what}: another answer than the command line's`);
        this.load.compared++;
    }

    async paper() {
        const sheet = this.sheet;
        const [paper, words, [question, line, wrote]] = this.pick(papers);
        const reply = await this.wire.post("paper", { sheet: sheet.id, paper, ...words }, { manner: this.manner() });
        if (this.is_gone(reply)) return;
        const right = await this.right.answer(JSON.parse(sheet.text), question, line, wrote);
        if (!this.holds(reply.status === right.status && reply.json.exit === right.exit, `${paper} is ${reply.status}`)) return;
        const got = await this.wire.get(`/paper/${reply.json.ticket}`, this.manner());
        if (!got.left) this.holds(got.status === 200 && got.bytes.equals(right.bytes), `${paper}: another paper, ${got.status}`);
        this.load.compared++;
    }

    async names() {
        const [name, body] = this.pick([["words", {}], ["profiles", {}], ["parts", { sheet: this.sheet.id, role: "cooler" }], ["parts", { sheet: this.sheet.id }]]);
        const reply = await this.wire.post(name, body, { manner: this.manner() });
        if (this.is_gone(reply)) return;
        const right = this.load.idle.get(`${name} ${body.role ?? ""}`);
        this.holds(reply.status === 200 && reply.bytes.equals(right), `${name}: another answer than at rest`);
        this.load.compared++;
    }

    async page() {
        const [path, file] = this.pick(this.load.files);
        const reply = await this.wire.get(path, this.manner());
        if (!reply.left) this.holds(reply.status === 200 && reply.bytes.equals(file), `${path}: another file`);
    }

    async broken() {
        const id = this.sheet.id;
        const rows = [
            ["open", "{", 400], ["ask", "", 400], ["ask", "[]", 400], ["open", '{"sheet":1}', 400], ["open", '{"no-such":1}', 400], ["open", '{"a":1,"a":2}', 400],
            ["ask", Buffer.from([0x7b, 0xff, 0xfe, 0x00, 0x7d]), 400], ["ask", "[".repeat(5000), 400], ["ask", "x".repeat(70000), 413],
            ["ask", { sheet: id, question: "guess" }, 400], ["ask", { sheet: id, question: "why" }, 400], ["ask", { sheet: id, question: "plan", words: { colour: "red" } }, 400],
            ["ask", '{"sheet":"0123456789abcdef","question":"plan"}', 404], ["nothing", {}, 404], ["save", { sheet: id, revision: "1" }, 400], ["change", { sheet: id, revision: this.sheet.revision }, 400],
            ["open", {}, 401, { "X-Desk-Token": "0".repeat(32) }], ["open", {}, 415, { "Content-Type": "text/plain" }], ["open", {}, 403, { Origin: null }], ["open", {}, 403, { Host: "example.org" }],
        ];
        const [name, body, code, headers] = this.pick(rows);
        const reply = await this.wire.post(name, body, { headers });
        if (!this.is_gone(reply)) this.holds(reply.status === code, `${name} ${String(body).slice(0, 40)} ${JSON.stringify(headers ?? {})} is ${reply.status}, not ${code}`);
    }

    // ---- files --------------------------------------------------------------------------------------

    path(sheet) {
        return `${this.load.folder}/${sheet.file}`;
    }

    async difference() {
        const sheet = this.sheet;
        const own = sheet.own;
        const reply = await this.wire.post("difference", { sheet: sheet.id }, { manner: this.manner() });
        if (this.is_gone(reply) || !own) return;
        const was = changes_between(JSON.parse(sheet.base), JSON.parse(sheet.text));
        this.holds(reply.status === 200 && !reply.json.is_new && !reply.json.changed_on_disk && same(reply.json.changes, was), `the difference is ${JSON.stringify(reply.json.changes)}, not ${JSON.stringify(was)}`);
    }

    // Into a file of its own, which nobody else writes but at times an editor.
    async save() {
        const sheet = this.sheet;
        const file = sheet.own ? undefined : `client-${this.number}-${++this.saves}.json`;
        if (sheet.own && !sheet.tried) {
            sheet.tried = true;
            const taken = await this.wire.post("save", { sheet: sheet.id, revision: sheet.revision, file: "job.json" });
            if (!this.is_gone(taken)) this.holds(taken.status === 409 && taken.json.is_there, `a name that is taken: ${taken.status}`);
            return;
        }
        const edited = sheet.own && this.random() < 0.1;
        if (edited) {
            fs.appendFileSync(this.path(sheet), "\n");
            this.load.saved.delete(sheet.file);
        }
        let reply = await this.wire.post("save", { sheet: sheet.id, revision: sheet.revision, ...(file && { file }) }, { manner: edited ? "plain" : this.manner() });
        if (reply.left) {
            // Its file is written, or is not, or will be; the sheet is left too.
            this.load.saved.delete(file ?? sheet.file);
            this.load.doubtful.push({ file: file ?? sheet.file, texts: [file ? null : sheet.base, sheet.text] });
            this.sheet = null;
            return;
        }
        if (this.is_gone(reply)) return;
        if (edited) {
            this.holds(reply.status === 409 && reply.json.changed_on_disk, `over an editor's work: ${reply.status}`);
            reply = await this.over(sheet);
            if (reply === null) return;
        }
        if (this.holds(reply.status === 200, `save is ${reply.status}`)) this.saved(sheet, reply, file ?? sheet.file);
    }

    saved(sheet, reply, file) {
        this.holds(reply.json.file === file && reply.json.revision === sheet.revision, `saved as ${reply.json.file}, ${reply.json.revision}`);
        this.holds(this.load.read(file) === sheet.text, `${file} is not what was saved`);
        this.load.saved.set(file, sheet.text);
        Object.assign(sheet, { own: true, file, base: sheet.text });
        this.load.save_count++;
    }

    // Over what stands there, after a look at it.
    async over(sheet) {
        const blind = await this.surely("save", { sheet: sheet.id, revision: sheet.revision, over: true });
        if (blind === null) return this.lost(sheet);
        this.holds(blind.status === 409 && blind.json.changed_on_disk, `over what nobody was shown: ${blind.status}`);
        const shown = await this.surely("difference", { sheet: sheet.id });
        if (shown === null) return this.lost(sheet);
        this.holds(shown.status === 200 && shown.json.changed_on_disk, "what is changed on the disk is not told");
        const reply = await this.surely("save", { sheet: sheet.id, revision: sheet.revision, over: true });
        if (reply === null) return this.lost(sheet);
        this.holds(reply.status === 200, `over what was shown: ${reply.status}`);
        return reply;
    }

    lost(sheet) {
        if (sheet === this.sheet) this.sheet = null;
        this.load.saved.delete(sheet.file);
        return null;
    }

    // Two sheets of the desk's one file, both changed, both saved: one wins.
    async duel() {
        const free = await this.load.shared.take();
        try {
            await this.fight();
        } finally {
            free();
        }
    }

    async fight() {
        const { shared } = this.load;
        const others = TOTALS.filter((total) => total !== JSON.parse(shared.text).budget.total);
        const two = [await this.new_sheet(), await this.new_sheet()];
        if (two.includes(null)) return;
        for (const [i, sheet] of two.entries()) {
            const set = [`budget.total=${others[i]}`];
            const reply = await this.surely("change", { sheet: sheet.id, revision: 1, set });
            if (reply === null) return;
            this.took(sheet, reply, set);
            if (sheet.revision !== 2) return;
        }
        shared.may_be(two.map((sheet) => sheet.text));
        const replies = await Promise.all(two.map((sheet) => this.wire.post("save", { sheet: sheet.id, revision: 2 })));
        shared.look();
        if (replies.some((reply) => reply.gone)) return;
        const codes = replies.map((reply) => reply.status);
        if (!this.holds([...codes].sort().join() === "200,409", `two saves of one file: ${codes}`)) return;
        const won = codes.indexOf(200);
        this.holds(shared.text === two[won].text, "the file is not the winner's");
        this.holds(replies[1 - won].json.changed_on_disk === true, "the loser is not told why");
        this.load.duels++;
        if (this.random() < 0.5) return;
        const reply = await this.over(two[1 - won]);
        shared.look();
        if (reply) this.holds(shared.text === two[1 - won].text, "what was saved over is not there");
    }

    // ---- from dumps to a job ------------------------------------------------------------------------

    async put(sheet, name, bytes, size) {
        const of = Math.max(1, Math.ceil(bytes.length / size));
        for (let at = 1; at <= of; at++) {
            const data = bytes.subarray((at - 1) * size, at * size).toString("base64");
            const reply = await this.wire.post("tray", { sheet: sheet.id, name, part: at, of, data }, { manner: at % 5 === 4 ? "slow to send" : "plain" });
            if (reply.gone) return false;
            const there = reply.json?.files?.find((one) => one.name === name);
            if (!this.holds(reply.status === 200 && there?.bytes === Math.min(bytes.length, at * size) && there.whole === (at === of), `part ${at} of ${of} of ${name}: ${reply.status} ${JSON.stringify(there)}`)) return false;
        }
        return true;
    }

    async intake() {
        const sheet = await this.new_sheet();
        const { intake } = this.load;
        if (sheet === null) return;
        const files = fs.readdirSync(first_look).sort();
        for (const name of files) if (!(await this.put(sheet, name, fs.readFileSync(`${first_look}/${name}`), 9000))) return;
        const body = { sheet: sheet.id, revision: 1, files };
        await this.wire.post("dumps", body, { manner: "leaves" }); // without a trace
        let reply = await this.surely("dumps", body);
        if (reply === null) return;
        this.holds(reply.status === 200 && same({ ...reply.json.survey, draft: undefined }, intake.survey), `dumps: another survey, ${reply.status}`);
        this.holds(undated(raw(reply, "draft")) === undated(intake.draft), "dumps: another draft");
        if (this.random() < 0.4 && !(await this.prices(sheet))) return;
        const draft = raw(reply, "draft");
        reply = await this.surely("dumps", { ...body, take: true });
        if (reply === null || !this.holds(reply.status === 200 && reply.json.revision === 2, `the draft is not taken: ${reply.status}`)) return;
        Object.assign(sheet, { text: draft, revision: 2 });
        await this.ask(sheet, "plain");
        for (const many of [0, Math.floor(this.random() * intake.answers.length), intake.answers.length]) {
            reply = await this.surely("interview", { sheet: sheet.id, answers: intake.answers.slice(0, many) });
            if (reply === null) return;
            this.holds(reply.status === 200 && same(anonymous(reply), this.load.told[many]), `the interview after ${many} answers is another than at rest`);
        }
        const take = { sheet: sheet.id, answers: intake.answers, take: true, revision: 2 };
        reply = await this.surely("interview", take);
        if (reply === null || !this.holds(reply.status === 200 && reply.json.revision === 3, `the interview is not taken: ${reply.status}`)) return;
        this.holds(undated(raw(reply, "draft")) === undated(intake.whole), "the interview makes another job than the command line");
        Object.assign(sheet, { text: raw(reply, "draft"), revision: 3 });
        reply = await this.wire.post("open", { sheet: sheet.id });
        if (reply.gone) return;
        this.is_now(reply, sheet, "after the interview");
        this.load.intakes++;
    }

    async prices(sheet) {
        if (!(await this.put(sheet, list.name, fs.readFileSync(list.file), 20000))) return false;
        const reply = await this.surely("prices", { sheet: sheet.id, file: list.name, profile: list.profile });
        if (reply === null) return false;
        this.holds(reply.status === 200 && same(reply.json.prices, this.load.intake.prices), `the price list is told otherwise: ${reply.status}`);
        return true;
    }
}

// Of the members that the load changes.
function changes_between(before, after) {
    const list = [];
    const one = (path, a, b) => {
        if (a !== b) list.push({ path, before: String(a), after: String(b) });
    };
    for (const name of Object.keys(after)) {
        if (name === "budget") one("budget.total", before.budget.total, after.budget.total);
        if (name === "wishes") one("wishes.swings.quiet", before.wishes.swings.quiet, after.wishes.swings.quiet);
    }
    return list;
}
