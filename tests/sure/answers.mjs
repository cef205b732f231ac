// answers.mjs FROM COUNT [FAULT]: random jobs with random doubt about the weights; all that `sure --json` and `ask-next --json`
// say against the checker that lists every bundle (brute --sure; catalog/FORMATS.md sections 32 to 36). With FAULT one thing is
// spoiled in what the program said, and the comparison must find it in some job.
//
//   BUILD      where swapworth, brute and generate are built (default: build)
//   SWAPWORTH  the program to test (default: $BUILD/swapworth)
import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { faults } from "./answers_faults.mjs";

const [fromText = "1", countText = "100", fault = ""] = process.argv.slice(2);
const build = process.env.BUILD ?? "build", program = process.env.SWAPWORTH ?? join(build, "swapworth");
const work = mkdtempSync(join(tmpdir(), "sure-"));
process.on("exit", () => rmSync(work, { recursive: true, force: true }));

// ---- chance ---------------------------------------------------------------------------------

let state = 0;
function uniform() { // mulberry32, public domain
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
}
const below = (n) => Math.floor(uniform() * n);
const round3 = (x) => Number(x.toFixed(3));
const chance = (share) => uniform() < share;

// ---- doubt ----------------------------------------------------------------------------------

function rankInstead(wishes) {
    wishes.ranks = Object.keys(wishes.swings).filter((id) => wishes.swings[id] > 0);
    wishes.ranks.sort(() => uniform() - 0.5);
    delete wishes.swings;
}

function someRanges(swings) {
    const names = Object.keys(swings), most = Math.max(...names.map((id) => swings[id]));
    const rest = names.filter((id) => swings[id] > 0), out = {};
    const others = rest.filter((id) => swings[id] < most);
    for (const id of others) if (chance(0.8)) {
        const low = chance(0.1) ? 0 : below(100), high = low + (chance(0.1) ? 0 : below(120));
        // Of a range of a thousandth nobody says no.
        out[id] = [low, chance(0.05) ? 0.125 + high : chance(0.1) ? low + 0.001 : high];
    }
    return out;
}

// Most jobs are drawn with one or two criteria that weigh: more of them, more to be unsure of.
function weighMore(scenario, criteria) {
    const wishes = scenario.wishes;
    for (const { id, kind } of criteria)
        if (wishes.swings && !(wishes.swings[id] > 0) && (kind !== "speed" || (wishes.uses ?? []).length > 0))
            wishes.swings[id] = 10 + below(10) * 10;
}

// In every tenth job the swings are what they are not elsewhere: uneven, so that halves must be rounded.
function draw(scenario, criteria) {
    if (chance(0.7)) weighMore(scenario, criteria);
    const wishes = scenario.wishes, kind = below(7);
    if (wishes.swings && chance(0.1))
        for (const id of Object.keys(wishes.swings)) if (wishes.swings[id] > 0) wishes.swings[id] = round3(wishes.swings[id] + below(1000) / 1000);
    if (kind === 0 && wishes.swings) rankInstead(wishes);
    else if (kind < 3 && (kind > 0 || !wishes.swings)) wishes.doubt = { any: true };
    else if (kind === 3 && wishes.swings) wishes.doubt = { swings: someRanges(wishes.swings) };
    else if (kind > 4 && wishes.swings) wishes.doubt = { factor: chance(0.05) ? 100 : chance(0.1) ? 1 : round3(1 + below(4000) / 1000) };
    // With more money there is more to choose from.
    if (chance(0.5)) scenario.budget.total = scenario.budget.total.replace(/^[0-9]+/, (whole) => String(Math.min(900000, 3 * whole + 100)));
    return wishes.doubt ?? (wishes.ranks ? { ranks: wishes.ranks } : { usual: true });
}

// ---- running ---------------------------------------------------------------------------------

function run(command, args) {
    const done = spawnSync(command, args, { encoding: "utf8", timeout: 120000, maxBuffer: 1 << 28 });
    return { code: done.status, text: done.stdout, said: done.stderr };
}

function json(of, name, notes) {
    try {
        return JSON.parse(of.text);
    } catch {
        notes.push(`${name}: no JSON, exit code ${of.code}: ${of.said.slice(0, 200)}`);
        return null;
    }
}

// ---- comparing -------------------------------------------------------------------------------

const milli = (text) => Math.round(Number(text) * 1000);
// As text with four decimals; half a last digit of leeway, since a half may be rounded either way.
const near = (text, number, digits) => typeof text === "string" || typeof text === "number"
    ? Math.abs(Number(text) - number) <= 0.5 * 10 ** -digits + 1e-9 : false;

function told(bundle) { // what it does, in one text
    const swaps = bundle.swaps.map((swap) => [swap.role,
        swap.out.map((piece) => `${piece.part}x${piece.count}`).sort().join("+"),
        swap.in.map((piece) => `${piece.part}x${piece.count}@${piece.seller}=${piece.price}`).sort().join("+")].join(":"));
    const tasks = bundle.tasks.map((task) => task.id ?? task);
    return [...swaps.sort(), ...tasks.sort(), bundle.cost].join(" ");
}

function compareBundle(notes, where, is, right) {
    if (told(is) !== told(right)) notes.push(`${where}: ${told(is)}, not ${told(right)}`);
    for (const id of Object.keys(right.points))
        if (milli(is.points[id]) !== right.points[id]) notes.push(`${where}: ${id} ${is.points[id]}, not ${right.points[id]}`);
    if (Object.keys(is.points).length !== Object.keys(right.points).length) notes.push(`${where}: points of other criteria`);
}

function compareThing(notes, where, is, right, sizes) {
    const share = (name) => right[name] / sizes[name];
    const ends = ["base", "dear", "cheap"].filter((name) => sizes[name] > 0).map(share);
    if (!near(is.index, share("base"), 4)) notes.push(`${where}: index ${is.index}, not ${share("base")}`);
    if (!near(is.share, right.drawn / 4096, 4)) notes.push(`${where}: share ${is.share}, not ${right.drawn / 4096}`);
    if (!near(is.estimates, share("wide"), 4)) notes.push(`${where}: estimates ${is.estimates}, not ${share("wide")}`);
    if (!near(is.prices[0], Math.min(...ends), 4) || !near(is.prices[1], Math.max(...ends), 4))
        notes.push(`${where}: prices ${is.prices}, not ${Math.min(...ends)} to ${Math.max(...ends)}`);
}

// Everything that N has is told, and nothing that no set has; a role that holds nothing need not be told of as it is.
function compareThings(notes, kind, is, right, sizes) {
    for (const [id, thing] of is)
        if (right[id]) compareThing(notes, `${kind} ${id}`, thing, right[id], sizes);
        else notes.push(`${kind} ${id}: told, but nothing has it`);
    for (const id of Object.keys(right))
        if (!is.some(([name]) => name === id) && (right[id].holds ?? right[id].base > 0)) notes.push(`${kind} ${id}: not told`);
}

// Of each option; its weights where it is best at the client's own.
function compareOptions(notes, is, right) {
    if (is.map(({ option, cost }) => option + cost).join() !== right.map(({ option, cost }) => option + cost).join())
        return void notes.push(`options ${is.map(({ option, cost }) => option + cost)}, not ${right.map(({ option, cost }) => option + cost)}`);
    right.forEach((option, o) => {
        const own = is[o], where = `option ${option.option}`;
        if (!near(own.regret, option.regret, 3)) notes.push(`${where}: regret ${own.regret}, not ${option.regret}`);
        if (!near(own.stays, option.stays / 4096, 4)) notes.push(`${where}: stays ${own.stays}, not ${option.stays / 4096}`);
        const [ids, wanted] = [own, option].map(({ weights }) => Object.keys(weights).sort().join());
        if (ids !== wanted) return void notes.push(`${where}: weights of ${ids}, not ${wanted}`);
        for (const [id, ends] of Object.entries(option.weights))
            if (!ends.every((end, i) => near(own.weights[id][i], end, 4))) notes.push(`${where}: ${id} from ${own.weights[id]}, not ${ends}`);
        seen.kept += ids !== "";
        seen.ended += Object.values(option.weights).some(([from, to]) => from > 0 && to < 1);
    });
}

function compareSure(notes, is, right) {
    if (is.status !== right.status) return void notes.push(`status ${is.status}, not ${right.status}`);
    if (right.status !== "complete") return;
    if (JSON.stringify(is.criteria) !== JSON.stringify(right.criteria)) notes.push(`criteria ${is.criteria}`);
    if (JSON.stringify(is.extremes) !== JSON.stringify(right.extremes))
        notes.push(`extremes ${JSON.stringify(is.extremes)}, not ${JSON.stringify(right.extremes)}`);
    if (is.bundles.length !== right.bundles.length)
        return void notes.push(`${is.bundles.length} bundles, not ${right.bundles.length}`);
    right.bundles.forEach((bundle, i) => {
        compareBundle(notes, `bundle ${i}`, is.bundles[i], bundle);
        if (!near(is.bundles[i].regret, bundle.regret, 3)) notes.push(`bundle ${i}: regret ${is.bundles[i].regret}, not ${bundle.regret}`);
    });
    for (const name of ["best", "least_regret"]) if (is[name] !== right[name]) notes.push(`${name} ${is[name]}, not ${right[name]}`);
    compareThings(notes, "as it is", is.roles.filter((role) => role.as_it_is).map((role) => [role.role, role.as_it_is]),
        right.as_it_is, right.sizes);
    compareThings(notes, "part", is.roles.flatMap((role) => (role.parts ?? []).map((part) => [part.part, part])), right.parts, right.sizes);
    compareOptions(notes, is.options, right.options);
    compareThings(notes, "task", is.tasks.map((task) => [task.task, task]), right.tasks, right.sizes);
}

function compareAnswer(notes, where, is, right, next, all) {
    if (is.of_drawn !== right.given) notes.push(`${where}: ${is.of_drawn} drawn, not ${right.given}`);
    if ((right.given === 0) !== (is.bundle === null)) notes.push(`${where}: a bundle of an answer that nobody gives`);
    else if (right.given > 0) compareBundle(notes, where, next.bundles[is.bundle], all[right.bundle]);
}

function compareNext(notes, is, right) {
    if (is.status !== right.status) return void notes.push(`ask-next: status ${is.status}, not ${right.status}`);
    if (right.status !== "complete") return;
    if (is.found !== right.bundles.length) notes.push(`ask-next: ${is.found} bundles, not ${right.bundles.length}`);
    if ((is.ask ?? -1) !== right.ask) notes.push(`ask ${is.ask}, not ${right.ask}`);
    compareBundle(notes, "without asking", is.bundles[0], right.bundles[right.b0]);
    if (is.questions.length !== right.questions.length) return void notes.push(`${is.questions.length} questions`);
    right.questions.forEach((question, i) => {
        const where = `question ${i}`, own = is.questions[i];
        for (const name of ["is", "criterion", "other"]) if (own[name] !== question[name]) notes.push(`${where}: ${name} ${own[name]}`);
        for (const name of ["worth", "beside"])
            if (question[name] !== undefined && milli(own[name]) !== question[name]) notes.push(`${where}: ${name} ${own[name]}`);
        if (milli(own.value) !== question.value) notes.push(`${where}: value ${own.value}, not ${question.value}`);
        question.answers.forEach((answer, k) => compareAnswer(notes, `${where}, ${"yes no".split(" ")[k]}`, own.answers[k], answer, is, right.bundles));
    });
}

// ---- one job ---------------------------------------------------------------------------------

const seen = { several: 0, asked: 0, between: 0, nothing: 0, regret: 0, kept: 0, ended: 0 };

function one(seed) {
    const notes = [], folder = join(work, "job"), place = join(folder, "scenario.json");
    const kinds = [[], ["--waivers"], ["--rich"], ["--untaxed"], ["--options"]];
    state = seed * 2654435761 | 0;
    rmSync(folder, { recursive: true, force: true });
    if (run(join(build, "tests/generate"), [String(seed), folder, ...kinds[seed % 5]]).code !== 0) return ["no job"];
    const scenario = JSON.parse(readFileSync(place, "utf8")), criteria = JSON.parse(readFileSync(join(folder, scenario.catalog, "criteria.json"), "utf8")).criteria;
    const doubt = draw(scenario, criteria);
    const prices = chance(0.5) ? 5 : 1 + below(50), estimates = chance(0.5) ? 10 : 1 + below(50);
    writeFileSync(place, JSON.stringify(scenario));
    const checked = run(join(build, "tests/brute"), [place, "--sure", `${prices},${estimates}`]);
    const sure = run(program, ["sure", place, "--options", "--json", "--prices", String(prices), "--estimates", String(estimates)]);
    const next = run(program, ["ask-next", place, "--json"]);
    const right = json(checked, "checker", notes), is = json(sure, "sure", notes), asks = json(next, "ask-next", notes);
    if (notes.length > 0) return notes;
    if (checked.code !== sure.code || checked.code !== next.code)
        notes.push(`exit codes ${sure.code} and ${next.code}, not ${checked.code}`);
    if (fault) faults[fault](is, asks);
    compareSure(notes, is, right);
    compareNext(notes, asks, right);
    if (right.status !== "complete") seen.nothing++;
    else {
        seen.several += right.bundles.length > 1;
        seen.asked += right.ask >= 0;
        seen.between += Object.values(right.parts).some((part) => part.base > 0 && part.base < right.sizes.base);
        seen.regret += right.best !== right.least_regret;
    }
    if (notes.length > 0) notes.unshift(`doubt ${JSON.stringify(doubt)}, prices ${prices}, estimates ${estimates}`);
    return notes;
}

let good = 0, bad = 0;
for (let seed = Number(fromText); seed < Number(fromText) + Number(countText); seed++) {
    const notes = one(seed);
    if (notes.length === 0) good++;
    else {
        bad++;
        if (fault) break;
        console.log(`FAILED seed ${seed}:\n    ${notes.slice(0, 6).join("\n    ")}`);
    }
}
if (fault) {
    console.log(`${fault}: ${bad > 0 ? `found after ${good} jobs` : "NOT FOUND"}`);
    process.exit(bad > 0 ? 0 : 1);
}
console.log(`${seen.several} jobs with more than one bundle, ${seen.asked} with a question worth asking, ` +
    `${seen.between} with a part to ask about, ${seen.regret} where the best is not that of least regret, ${seen.nothing} where nothing fits, ` +
    `${seen.kept} options best for their money, ${seen.ended} of them not at all weights`);
for (const name of ["several", "asked", "between", "regret", "kept", "ended"]) // a test that meets none of these tests nothing
    if (seen[name] === 0 && Number(countText) >= 50) {
        console.log(`FAILED: no job with ${name}`);
        bad++;
    }
console.log(`${good} passed, ${bad} failed`);
process.exit(bad > 0 ? 1 : 0);
