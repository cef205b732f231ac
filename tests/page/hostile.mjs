// A hundred hostile texts through every field that reaches the page. node hostile.mjs FOLDER [--whole] [--papers] [--self-test]
// --papers: the pages of the work, not the proposal.
// Quick: ten pages, ten texts in each field; --whole: a hundred pages, one text in each field. In both each text goes
// through each field once (a unit takes 64 bytes: there the quick pages hold the first text or two).
import { execFile } from "node:child_process";
import { mkdirSync, readFileSync, rmSync, writeFileSync, existsSync } from "node:fs";
import path from "node:path";
import { promisify } from "node:util";
import { launch } from "./browser.mjs";
import { judgeHostile, plainCensus } from "./hostile_judge.mjs";
import { fitting, mark, writeJob, writeMeasured } from "./hostile_job.mjs";
import { strings } from "./hostile_strings.mjs";

const run = promisify(execFile);
const program = path.resolve(process.env.SWAPWORTH ?? "build/swapworth");
const root = process.cwd();
const folder = path.resolve(process.argv[2]);
const whole = process.argv.includes("--whole"), papers = process.argv.includes("--papers");
const kinds = papers ? ["bench", "handover"] : ["options"];
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

// Sentences that are filled with numbers take no braces of their own.
const unbraced = (text) => text.replaceAll("{", "(").replaceAll("}", ")");

// What field `number` holds on page `page` of `pages`.
function textOn(page, pages) {
    const each = strings.length / pages;
    return (number, braces) => {
        const group = (number + page) % pages;
        const text = strings.slice(group * each, (group + 1) * each).join(" | ");
        return braces ? text : unbraced(text);
    };
}

async function makePage(name, text) {
    const place = path.join(folder, name);
    const braces = new Map();
    const places = writeJob(root, place, (number, allowed) => {
        braces.set(number, allowed);
        return text(number, allowed);
    });
    const files = Object.fromEntries(kinds.map((kind) => [kind, path.join(place, `${kind}.html`)]));
    const ask = (kind, ...more) => run(program, [kind, path.join(place, "job.json"), "--seconds", "60", ...more, "-o", files[kind]], { maxBuffer: 1 << 26 });
    try {
        if (papers) {
            const bench = JSON.parse((await ask("bench", "--option", "2", "--json")).stdout);
            // What was left out takes its checks with it.
            const leftOut = bench.machine.flatMap(({ tasks }) => tasks).slice(0, 1), fields = places.length, words = (number) => text(number, true);
            const handOver = (...more) => ask("handover", "--option", "2", "--measured", path.join(place, "measured.json"), ...more);
            writeMeasured(place, leftOut, [], fields, words);
            const { checks } = JSON.parse((await handOver("--json")).stdout);
            places.push(...writeMeasured(place, leftOut, checks, fields, words));
            await handOver();
        } else await ask("options");
    } catch (error) {
        return { fault: `the program ended with ${error.code}: ${String(error.stderr ?? error).slice(0, 300)}` };
    }
    // The copy of the catalog has served.
    rmSync(path.join(place, "catalog"), { recursive: true });
    return { files, places, wanted: (number) => fitting(places[number], text(number, braces.get(number) ?? true)) };
}

// Texts that no JSON may hold: refused, and no page is left.
async function refused(what, spoil) {
    const place = path.join(folder, "refused");
    rmSync(place, { recursive: true, force: true });
    writeJob(root, place, () => "plain words");
    const job = path.join(place, "job.json"), file = path.join(place, "page.html");
    const good = readFileSync(job), at = good.indexOf(mark(0));
    writeFileSync(job, Buffer.concat([good.subarray(0, at), spoil, good.subarray(at)]));
    const code = await run(program, ["options", job, "-o", file]).then(() => 0, (error) => error.code);
    tell(`refused: ${what}`, code === 65 && !existsSync(file) ? [] : [`ended with ${code}, a page is ${existsSync(file) ? "" : "not "}there`]);
}

// What must be among the texts that reach the page: else nothing was tried.
const mustReach = [/^job\.json\.title$/, /^job\.json\.musts\[\]\.why$/, /^job\.json\.given\[\]\.name$/, /^job\.json\.complaints\[\]\.words$/, /^job\.json\.machine\.pointer\[\]\.name$/,
    /^catalog\/parts\/.*\.name$/, /^catalog\/sellers\.json\.sellers\[\]\.name$/, /^catalog\/roles\.json\.roles\[\]\.name$/,
    /^catalog\/tasks\.json\.tasks\[\]\.name$/, /^catalog\/uses\.json\.uses\[\]\.name$/, /^catalog\/uses\.json\.uses\[\]\.unit$/,
    /^catalog\/complaints\.json\.complaints\[\]\.name$/, /^catalog\/hazards\.json\.hazards\[\]\.danger$/,
    /^catalog\/hazards\.json\.hazards\[\]\.habit$/, /^catalog\/hazards\.json\.hazards\[\]\.limit$/, /^catalog\/complaints\.json\.complaints\[\]\.goal$/,
    /^catalog\/rules\.json\.rules\[\]\.client$/, /^catalog\/proposal\.json\.surprises\[\]\.(name|free\[\]|word\[\])$/, /^catalog\/proposal\.json\.asks\[\]\.words$/, /^catalog\/proposal\.json\.shop$/, /^catalog\/proposal\.json\.promises\[\]$/, /^catalog\/findings\.json\.findings\[\]\.evidence$/];

const mustReachPapers = [/^job\.json\.title$/, /^job\.json\.complaints\[\]\.words$/, /^job\.json\.given\[\]\.name$/, /^measured\.json\.notes\[\]$/,
    /^catalog\/parts\/.*\.name$/, /^catalog\/sellers\.json\.sellers\[\]\.name$/, /^catalog\/roles\.json\.roles\[\]\.name$/, /^catalog\/rules\.json\.rules\[\]\.name$/,
    /^catalog\/tasks\.json\.tasks\[\]\.name$/, /^catalog\/uses\.json\.uses\[\]\.name$/, /^catalog\/uses\.json\.uses\[\]\.unit$/, /^catalog\/proposal\.json\.shop$/,
    /^catalog\/rules\.json\.rules\[\]\.client$/,
    ...["stages[].name", "mounts[].take", "mounts[].fit", "steps[].words", "steps[].caution", "checks[].name", "checks[].words", "checks[].fails", "wiping",
        "call.asks[].words"].map((place) => new RegExp(`^catalog/bench\\.json\\.${place.replaceAll("[", "\\[").replaceAll("]", "\\]").replaceAll(".", "\\.")}$`))];

async function pages() {
    const count = whole ? strings.length : 10;
    const plain = await makePage("plain", () => "plain words");
    if (plain.fault) {
        tell("the page with plain words", [plain.fault]);
        return;
    }
    const todo = Array.from({ length: count }, (_, page) => page), reached = new Set();
    const baseline = {};
    await launch().then(async (browser) => {
        for (const kind of kinds) baseline[kind] = await plainCensus(browser, plain.files[kind]);
        await browser.close();
    });
    const worker = async () => {
        const browser = await launch();
        for (let page = todo.shift(); page !== undefined; page = todo.shift()) {
            const made = await makePage(`page-${page}`, textOn(page, count));
            if (made.fault) {
                tell(`page ${page}`, [made.fault]);
                continue;
            }
            for (const kind of kinds) {
                const found = await judgeHostile(browser, made.files[kind], made.wanted, baseline[kind]);
                for (const number of found.reached) reached.add(number);
                tell(`page ${page}, ${kind}`, found.faults.map((fault) => fault.replace(/^field (\d+)/, (_, number) => `field ${made.places[number]}`)));
            }
        }
        await browser.close();
    };
    await Promise.all([worker(), worker()]);
    const there = [...reached].map((number) => plain.places[number]);
    for (const place of papers ? mustReachPapers : mustReach) tell(`reaches the page: ${place}`, there.some((name) => place.test(name)) ? [] : ["nothing like it does"]);
    console.log(`${reached.size} fields of ${plain.places.length} reach the page, ${new Set(there).size} kinds`);
    if (process.env.PAGE_TIMES) for (const kind of new Set(there)) console.log(`    ${kind}`);
}

// Pages written here, with right and with missing care: the judge must tell them apart.
async function selfTest() {
    const letters = { "&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;", "'": "&#39;" };
    const safe = (text) => text.replace(/[&<>"']/g, (letter) => letters[letter]).replace(/[\u0001-\u0008\u000b-\u001f\u007f-\u009f\u2028-\u202e\u2066-\u2069\u061c\u200f]/g, "?");
    const json = (value) => JSON.stringify(value).replace(/[<>&\u2028\u2029]/g, (letter) => `\\u${letter.charCodeAt(0).toString(16).padStart(4, "0")}`);
    const ways = { text: safe, attribute: safe, script: json, css: safe };
    const page = (fields, { text, attribute, script, how = "textContent" } = {}) => {
        const care = { ...ways, ...(text && { text }), ...(attribute && { attribute }), ...(script && { script }) };
        return `<!DOCTYPE html><html lang="en"><meta charset="utf-8"><title>${care.text(fields[0])}</title>
<style>* { overflow-wrap: anywhere; }</style><h1>${care.text(fields[1])}</h1>
<p>${care.text(fields[2])} <b data-is="x">12.34</b></p><p title="${care.attribute(fields[3])}">x</p>
<input type="range" min="0" max="12" aria-label="a"><p id="shown"></p>
<script>const words = ${care.script(fields)};
document.querySelector("input").addEventListener("input", (event) => { document.getElementById("shown").${how} = words[event.target.value % 4]; });</script></html>`;
    };
    const withoutEscapes = (letters_) => (text) => text.replace(new RegExp(letters_, "g"), (letter) => letters[letter]);
    const cases = [
        ["all care", {}, false],
        ["< as it is", { text: withoutEscapes("[&>\"']") }, true],
        ["& as it is", { text: withoutEscapes("[<>\"']") }, true],
        ["quotes in attributes as they are", { attribute: withoutEscapes("[&<>']") }, true],
        ["letters that turn the text round", { text: (text) => text.replace(/[&<>"']/g, (letter) => letters[letter]) }, true],
        ["</script> within a script", { script: JSON.stringify }, true],
        ["shown as HTML", { how: "innerHTML" }, true],
        ["texts cut short", { text: (text) => safe(text.slice(0, 60)) }, true],
        ["letters lost", { text: (text) => safe(text.replaceAll("<", "")) }, true],
        ["letters doubly replaced", { text: (text) => safe(safe(text)) }, true],
    ];
    const browser = await launch();
    mkdirSync(folder, { recursive: true });
    for (const [what, care, faulty] of cases) {
        const file = path.join(folder, "self.html"), found = [];
        const fields = (text) => [0, 1, 2, 3].map((number) => `${mark(number)}${text(number)}q${number}Z`);
        writeFileSync(file, page(fields(() => "plain words")));
        const plain = await plainCensus(browser, file);
        for (let at = 0; at < 10 && found.length === 0; at++) {
            const wanted = (number) => textOn(at, 10)(number, true);
            writeFileSync(file, page(fields(wanted), care));
            found.push(...(await judgeHostile(browser, file, wanted, plain)).faults);
        }
        tell(`self-test: ${what}`, (found.length > 0) === faulty ? [] : [faulty ? "not seen" : found.slice(0, 3).join("; ")]);
        if (process.env.PAGE_TIMES) console.log(`${what}: ${found[0] ?? "nothing"}`);
    }
    await browser.close();
}

tell("a hundred different texts", strings.length === 100 && new Set(strings).size === 100 ? [] : [`${strings.length}`]);
rmSync(folder, { recursive: true, force: true });
if (process.argv.includes("--self-test")) await selfTest();
else {
    await pages();
    await refused("a lone surrogate", Buffer.from("\\ud800"));
    await refused("the other half of a pair alone", Buffer.from("\\udc00x"));
    await refused("NUL", Buffer.from("\\u0000"));
    await refused("a byte that is no UTF-8", Buffer.from([0xff]));
    await refused("a surrogate as bytes", Buffer.from([0xed, 0xa0, 0x80]));
    await refused("a control as it is", Buffer.from([0x07]));
}
console.log(`${passed} passed, ${failed} failed`);
process.exitCode = failed === 0 ? 0 : 1;
