// ask.mjs PROGRAM WORK FROM COUNT [FAULT]: so many interviews of random answers, each at the
// program's own prompts. What comes out must be what ask_right.mjs says, pass `check`, and come again
// byte for byte from the answers that were kept. With FAULT one thing is spoiled in what came out,
// and the judge must find it in some interview.
import { spawn, spawnSync } from "node:child_process";
import { mkdirSync, readFileSync, readdirSync, rmSync, writeFileSync, existsSync } from "node:fs";
import { dirname, join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { TOPICS, money, readCatalog, right, sorted, stayers } from "./ask_right.mjs";

const [program, work, fromText, countText, fault = ""] = process.argv.slice(2);
const root = resolve(dirname(fileURLToPath(import.meta.url)), "..", "..");
const catalogFolder = join(root, "catalog");
const catalog = readCatalog(catalogFolder);
const form = catalog.interview;
let passed = 0, failed = 0;

function verdict(name, faults) {
    if (faults.length === 0) passed++;
    else {
        failed++;
        if (!fault) console.log(`FAILED ${name}:\n    ${faults.slice(0, 6).join("\n    ")}`);
    }
}

// ---- chance -----------------------------------------------------------------------------------------

let state = 0;
function uniform() { // mulberry32, public domain
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
}
const below = (n) => Math.floor(uniform() * n);
const chance = (share) => uniform() < share;
const pick = (list) => list[below(list.length)];
function some(n, least, most) { // distinct numbers from 0
    const all = [...Array(n).keys()], out = [];
    const count = Math.min(n, least + below(most - least + 1));
    while (out.length < count) out.push(all.splice(below(all.length), 1)[0]);
    return out;
}

// ---- drafts -----------------------------------------------------------------------------------------------

const shipped = readdirSync(join(root, "scenarios")).filter((name) => name.endsWith(".json"));

// A shipped job with some of its wishes taken away; now and then as it stands.
function draw() {
    const text = readFileSync(join(root, "scenarios", pick(shipped)), "utf8")
        .replace(/"catalog": *"[^"]*"/, `"catalog": ${JSON.stringify(catalogFolder)}`);
    const draft = JSON.parse(text);
    if (chance(0.2)) return { text, draft };
    for (const name of ["wishes", "budget", "complaints", "surprise", "phases"]) if (chance(0.4)) delete draft[name];
    if (draft.wishes) {
        const uses = draft.wishes.uses;
        for (const name of ["uses", "taste", "keep", "avoid", "limits"]) if (chance(0.3)) delete draft.wishes[name];
        if (chance(0.3)) delete draft.wishes.swings;
        else if (chance(0.2)) { draft.wishes.ranks = Object.keys(draft.wishes.swings); delete draft.wishes.swings; }
        else if (chance(0.2)) draft.wishes.swings = { quiet: 100 };
        // What a whole job must say of itself is left to it.
        if (uses && !draft.wishes.uses && (draft.complaints ?? []).length > 0) delete draft.complaints;
        if (!draft.wishes.uses && draft.wishes.swings && !chance(0.5)) draft.wishes.swings = { quiet: 100 };
        if (!draft.wishes.uses && (draft.wishes.ranks || draft.wishes.swings?.speed > 0)) {
            delete draft.wishes.ranks;
            draft.wishes.swings = { quiet: 100 };
        }
    } else delete draft.complaints;
    if (!draft.phases && chance(0.2)) { delete draft.date; for (const given of draft.given ?? []) delete given.arrives_on; }
    if (chance(0.3)) draft.assumed = ["The room was taken to be a quiet one.", ...chance(0.5)
        ? [pick(form.questions).assumed] : []];
    if (chance(0.2)) draft.beware = ["The case has a sharp edge.", pick(form.dangers).says];
    return { text: JSON.stringify(draft, null, below(5)) + "\n", draft };
}

// ---- answers ----------------------------------------------------------------------------------------------
// Each gives { text, meaning }; `meaning` undefined: it must be refused; `may`: it may be.

const sum = () => below(200000);
const written = (amount) => amount % 100 === 0 && chance(0.5) ? String(amount / 100) : money(amount);
const decimal = (most) => Math.round(uniform() * most * 1000) / 1000 || 1;
const joined = (list) => list.join(pick([", ", "; ", " ,  "]));
const day = (from, days) => new Date(Date.parse(from) + days * 86400000).toISOString().slice(0, 10);

const phrases = form.words.flatMap((group) => group.words);
const fillers = ["my cat", "it is", "not", ...form.not, ...form.fine, ...form.dangers.flatMap((danger) => danger.words.map((words) => words.replace("*", "ing"))), "the machine", "never", "at 1.5 m", "Really", "and", "isn't", "VERY", "\u00fcber"];

// As the list of uses counts it, by its id or its name.
function calledUse(id) {
    const at = catalog.uses.findIndex((use) => use.id === id);
    return pick([at + 1, at + 1, id, catalog.uses[at].name]);
}

const answers = {
    complaint() {
        if (chance(0.15)) return { text: "none", meaning: { text: "none", list: [] } };
        const text = Array.from({ length: 1 + below(8) }, () => chance(0.5)
            ? pick(phrases).replace("*", pick(["", "s", "ing"])) : pick(fillers)).join(pick([" ", ". ", "; ", "! "]));
        return { text, meaning: { text, list: sorted(catalog, text) } };
    },
    uses(draft) {
        const list = some(catalog.uses.length, 1, 4);
        let left = 100;
        const shares = list.map((use, i) => {
            const share = chance(0.3) ? decimal(60) : i === list.length - 1 ? left : Math.ceil(left / 2);
            left -= share;
            return Math.max(share, 0.001);
        }).map((share) => Math.round(share * 1000) / 1000);
        const text = joined(list.map((use, i) => `${pick([use + 1, catalog.uses[use].id, catalog.uses[use].name])} ${shares[i]}${pick(["", "%", " %"])}`));
        return { text, may: (draft.complaints ?? []).length > 0,
            meaning: list.map((use, i) => ({ use: catalog.uses[use].id, share: shares[i] })) };
    },
    rates(draft, said) {
        const named = said.uses?.meaning ?? (draft.wishes?.uses?.length ? draft.wishes.uses : form.assumes.uses);
        if (chance(0.1)) return { text: "none", meaning: "none" };
        const meaning = {};
        for (const u of some(named.length, 1, named.length)) meaning[named[u].use] = { now: decimal(200), ...chance(0.6) ? { wanted: decimal(200) } : {} };
        return { text: joined(Object.entries(meaning).map(([id, one]) => `${calledUse(id)} ${one.now}${one.wanted ? ` ${one.wanted}` : ""}`)), meaning };
    },
    order() {
        const list = some(form.swings.length, 1, form.swings.length);
        return { text: list.map((i) => i + 1).join(pick([" ", ", "])), meaning: list };
    },
    worth(draft, said) {
        if (chance(0.4)) { const preset = pick(form.presets); return { text: preset.preset, meaning: { preset } }; }
        const numbers = {};
        for (const i of said.order.meaning.slice(1)) numbers[i] = chance(0.2) ? 0 : chance(0.7) ? below(101) : decimal(130);
        return { text: joined(Object.entries(numbers).map(([i, worth]) => `${Number(i) + 1} ${worth}`)), meaning: { numbers } };
    },
    taste() {
        if (chance(0.2)) return { text: "none", meaning: {} };
        const meaning = {};
        for (const pair of some(form.pairs.length, 1, form.pairs.length)) meaning[pair] = pick(["a", "b"]);
        return { text: Object.entries(meaning).map(([pair, side]) => `${Number(pair) + 1}${chance(0.3) ? side.toUpperCase() : side}`).join(" "), meaning };
    },
    budget() {
        const total = chance(0.1) ? 0 : sum(), reserve = chance(0.5) ? below(chance(0.8) ? 6000 : 300000) : undefined;
        return { text: `${written(total)}${reserve === undefined ? "" : `, reserve ${written(reserve)}`}`, meaning: { total, reserve } };
    },
    later(draft) {
        if (chance(0.2)) return { text: "none", meaning: { sums: [] } };
        const days = some(900, 1, 5).map((n) => n - (chance(0.15) ? 60 : -1)).sort((a, b) => a - b);
        const sums = [...new Set(days)].map((n) => ({ on: day(draft.date, n), sum: sum() }));
        const until = day(draft.date, 1000 + below(300));
        return { text: `${sums.map((one) => `${one.on} ${written(one.sum)}`).join(", ")}, until ${until}`, meaning: { sums, until } };
    },
    keep(draft) {
        const list = stayers(catalog, draft);
        if (chance(0.1)) return { text: "none", meaning: [] };
        if (chance(0.3)) return { text: "all", meaning: "all" };
        const may = list.map((one, i) => i).filter((i) => !list[i].goes || chance(0.03));
        const numbers = chance(0.2) ? may.filter((i) => list[i].piece !== null || !list.some((o) => o.piece && o.role === list[i].role))
            : some(may.length, 1, may.length).map((i) => may[i]);
        if (numbers.length === 0) return { text: "none", meaning: [] };
        return { text: numbers.map((i) => i + 1).join(" "), meaning: numbers.some((i) => list[i].goes) ? undefined : numbers };
    },
    avoid() {
        if (chance(0.2)) return { text: "none", meaning: [] };
        const meaning = some(catalog.makers.length, 1, 4);
        return { text: meaning.map((i) => chance(0.5) ? i + 1 : catalog.makers[i]).join(", "), meaning };
    },
    limits() {
        if (chance(0.1)) return { text: "none", meaning: { loudness: "none", days: "none", minutes: "none" } };
        const meaning = {};
        for (const i of some(3, 1, 3)) {
            const name = ["loudness", "days", "minutes"][i];
            meaning[name] = chance(0.2) ? "none" : i === 0 ? decimal(6) : below(600);
        }
        return { text: joined(Object.entries(meaning).map(([name, number]) => `${name} ${number}`)), meaning };
    },
    surprise() {
        const i = below(catalog.surprises.length);
        return { text: String(i + 1), meaning: i };
    },
};
const nonsense = ["1,5", "99", "-1", "0", "yes", "1e3", "x".repeat(1200), "a\u202eb", "\u001b[31m1", "\ufeff1", "1.2345", "1 1 1 1 1",
    "2026-13-01 5, until 2027-01-01", "days", "loudness two", "reserve", "3c", "650 crowns", "1 2 3, 1 2 3"];

// ---- one interview ------------------------------------------------------------------------------------------

// The entries that count: { id, topic, main, text, ... }.
function saidOf(entries) {
    const said = {};
    for (const entry of entries) {
        if (entry.main) said[entry.topic] = entry.skipped ? { skipped: true } : { meaning: entry.meaning };
        if (entry.id === "sorted") said.complaint.meaning = { ...said.complaint.meaning, list: entry.list };
    }
    return said;
}

function forget(entries, topic) {
    for (let i = entries.length - 1; i >= 0; i--)
        if (entries[i].main && (topic === null || entries[i].topic === topic)) return entries.splice(i);
    return null;
}

function answerTo(prompt, draft, entries) {
    const said = saidOf(entries);
    if (chance(0.03)) return { text: "back", back: true };
    if (chance(0.02)) return { text: "?", keeps: true };
    const topicLine = prompt.match(/^(\d+) of (\d+) {2}/m);
    if (topicLine) {
        const topic = TOPICS[Number(topicLine[1]) - 1];
        if (chance(0.3)) return { text: "", entry: { topic, id: topic, main: true, skipped: true, text: "" } };
        if (chance(0.08) && topic !== "complaint") return { text: pick(nonsense), nonsense: true, topic };
        const made = answers[topic](draft, said);
        return { text: made.text, may: made.may, refused: made.meaning === undefined,
            entry: { topic, id: topic, main: true, text: made.text, meaning: made.meaning } };
    }
    const last = [...entries].reverse().find((entry) => entry.main);
    if (/^(Understood:|None of the kinds was heard)/m.test(prompt)) {
        const heard = said.complaint.meaning.list;
        const entry = { topic: "complaint", id: "sorted", main: false };
        if (chance(0.1)) return { text: "none", entry: { ...entry, text: "none", list: [] } };
        if (chance(0.6)) return { text: "yes", refused: heard.length === 0, entry: { ...entry, text: "yes", list: heard } };
        const numbers = some(catalog.complaints.length, 1, 3), text = numbers.map((i) => i + 1).join(", ");
        return { text, entry: { ...entry, text, list: numbers.map((i) => {
            const id = catalog.complaints[i].complaint;
            return { complaint: id, words: heard.find((one) => one.complaint === id)?.words ?? said.complaint.meaning.text };
        }) } };
    }
    if (/^This is what was understood:/m.test(prompt))
        return chance(0.85) ? { text: "yes", entry: { id: "agree", text: "yes", main: false } } : { text: "no", refused: true };
    if (chance(0.15)) return { text: "no", no: last.topic };
    return { text: pick(["yes", "y", "YES"]), entry: { id: null, main: false } };
}

function talk(path, out, kept, draft) {
    return new Promise((done) => {
        const child = spawn(program, ["intake", "ask", path, "-o", out, "--keep-answers", kept]);
        const entries = [], faults = [], typed = [];
        let seen = "", errors = "", pending = null;
        const settle = (prompt) => {
            const refused = /^Not taken: /m.test(prompt);
            if (pending?.entry && refused !== (pending.refused ?? false) && !(pending.may && refused))
                faults.push(`"${pending.text}" was ${refused ? "refused" : "taken"}: ${prompt.slice(0, 200)}`);
            if (pending?.nonsense && !refused) faults.push(`nonsense "${pending.text}" was taken for ${pending.topic}`);
            if (pending?.entry && !refused) entries.push({ ...pending.entry, text: pending.text });
            if (pending?.back && !refused && forget(entries, null) === null) faults.push("went back from the first question");
            if (pending?.no && !(forget(entries, pending.no === "worth" || pending.no === "order" ? "order" : pending.no))) faults.push("nothing to forget");
        };
        child.stdout.on("data", (data) => {
            seen += data.toString("utf8");
            if (!seen.endsWith("\n> ")) return;
            settle(seen);
            // A random nonsense that is good at its place must not stop the talk: it is gone back from.
            pending = typed.length > 400 ? { text: "quit" } : answerTo(seen, draft, entries);
            if (pending.nonsense && goodAt(pending)) pending = { text: "?", keeps: true };
            typed.push(pending.text);
            seen = "";
            child.stdin.write(pending.text + "\n");
        });
        child.stderr.on("data", (data) => { errors += data; });
        child.stdin.on("error", () => {});
        child.on("close", (code) => {
            if (pending?.entry?.id === "agree") entries.push(pending.entry);
            done({ code, errors, entries, faults, typed });
        });
    });
}

// Nonsense that means something at that question.
function goodAt({ topic, text }) {
    if (/^[\u0000-\u001f]|[\u202e\ufeff\u001b]/.test(text) || text.length > 1000) return false;
    if (topic === "budget") return text === "99" || text === "0";
    return false;
}

// The bytes of each member of the root, by its name.
function members(text) {
    const out = {};
    let depth = 0, inText = false, from = -1;
    const put = (slice) => {
        const trimmed = slice.trim();
        if (trimmed) out[JSON.parse(trimmed.match(/^"(?:[^"\\]|\\.)*"/)[0])] = trimmed;
    };
    for (let i = 0; i < text.length; i++) {
        const c = text[i];
        if (inText) { if (c === "\\") i++; else if (c === "\"") inText = false; continue; }
        if (c === "\"") inText = true;
        else if (c === "{" || c === "[") { if (++depth === 1) from = i + 1; }
        else if (c === "}" || c === "]") { if (--depth === 0) put(text.slice(from, i)); }
        else if (c === "," && depth === 1) { put(text.slice(from, i)); from = i + 1; }
    }
    return out;
}

const ordered = (value) => value !== null && typeof value === "object" && !Array.isArray(value)
    ? Object.fromEntries(Object.keys(value).sort().map((name) => [name, ordered(value[name])]))
    : Array.isArray(value) ? value.map(ordered) : value;
const same = (a, b) => JSON.stringify(ordered(a)) === JSON.stringify(ordered(b));

const spoils = {
    budget: (text) => text.replace(/"total": "\d/, "\"total\": \"9"),
    title: (text) => text.replace("\"title\": \"", "\"title\": \" "),
    bytes: (text) => text.replace(/\n( *)"machine":/, "\n $1\"machine\":").replace("\"machine\": {", "\"machine\":  {"),
    assumed: (text) => text.replace("\"assumed\": [", "\"assumed\": [\"x\", "),
    share: (text) => text.replace(/"share": \d/, "\"share\": 9"),
    ranks: (text) => text.replace(/"ranks": \["(\w+)", "(\w+)"/, "\"ranks\": [\"$2\", \"$1\""),
    keep: (text) => text.replace(/"keep": \["/, "\"keep\": [\"riser\", \""),
    words: (text) => text.replace(/"words": "/, "\"words\": \"x"),
};

function judge({ text, draft }, talked, result, keptAnswers) {
    const faults = [...talked.faults];
    if (talked.code !== 0) return [...faults, `exit code ${talked.code}: ${talked.errors}`];
    const spoiled = spoils[fault] ? spoils[fault](result) : result;
    const is = JSON.parse(spoiled), wanted = right(catalog, draft, saidOf(talked.entries));
    const compare = (what, a, b) => {
        for (const name of new Set([...Object.keys(a), ...Object.keys(b)]))
            if (!same(a[name], b[name])) faults.push(`${what}${name} is ${JSON.stringify(a[name])}, not ${JSON.stringify(b[name])}`);
    };
    compare("", { ...is, wishes: null }, { ...wanted.scenario, wishes: null });
    compare("wishes.", is.wishes, wanted.scenario.wishes);
    const before = members(text), after = members(spoiled);
    for (const name of Object.keys(before))
        if (same(draft[name], wanted.scenario[name]) && before[name] !== after[name])
            faults.push(`the bytes of "${name}" are not those of the draft`);
    const asked = keptAnswers.answers.map((one) => one.question);
    const due = fault === "questions" ? [...wanted.asked, "more"] : wanted.asked;
    if (asked.join(" ") !== due.join(" ")) faults.push(`asked: ${asked.join(" ")}; due: ${due.join(" ")}`);
    const texts = talked.entries.map((entry) => entry.text);
    if (keptAnswers.answers.map((one) => one.answer).join("\n") !== texts.join("\n"))
        faults.push("the answers kept are not those that counted");
    return faults;
}

async function one(seed) {
    state = seed * 7919;
    const folder = join(work, `ask-${fault || "job"}-${seed}`);
    rmSync(folder, { recursive: true, force: true });
    mkdirSync(folder, { recursive: true });
    const drawn = draw(), path = join(folder, "draft.json"), out = join(folder, "out.json"), kept = join(folder, "answers.json");
    writeFileSync(path, drawn.text);
    const talked = await talk(path, out, kept, drawn.draft);
    writeFileSync(join(folder, "typed.txt"), talked.typed.join("\n") + "\n");
    const whole = existsSync(out) && existsSync(kept);
    const faults = judge(drawn, talked, whole ? readFileSync(out, "utf8") : "", whole ? JSON.parse(readFileSync(kept, "utf8")) : {});
    if (whole && !fault) {
        const again = join(folder, "again.json");
        const replay = spawnSync(program, ["intake", "ask", path, "-o", again, "--answers", kept], { encoding: "utf8" });
        if (replay.status !== 0) faults.push(`from the answers: exit code ${replay.status}: ${replay.stderr}`);
        else if (readFileSync(again, "utf8") !== readFileSync(out, "utf8")) faults.push("other bytes come from the answers kept");
        const check = spawnSync(program, ["check", out], { encoding: "utf8" });
        if (check.status !== 0) faults.push(`check: ${check.stderr}`);
    }
    verdict(`interview ${seed} (${folder})`, faults);
    if (faults.length === 0 || fault) rmSync(folder, { recursive: true, force: true });
}

const from = Number(fromText), count = Number(countText);
for (let seed = from; seed < from + count; seed += 2)
    await Promise.all([seed, seed + 1].filter((n) => n < from + count).map(one));
if (fault) { // found in one of them at least
    const found = failed > 0;
    passed = found ? 1 : 0;
    failed = found ? 0 : 1;
    if (!found) console.log(`FAILED the fault "${fault}" was not found in ${count} interviews`);
}
console.log(`${passed} passed, ${failed} failed`);
process.exit(failed > 0 ? 1 : 0);
