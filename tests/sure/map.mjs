// map.mjs: the weight map against the checker that tries every bundle, written from FORMATS.md sections 8, 32, 33 and 35.
//
//     map.mjs jobs PROGRAM BUILD WORK FIRST COUNT     random jobs: regions at random weightings, areas, answer, change, likely
//     map.mjs plan PROGRAM WORK SCENARIO COUNT        `plan` at random weightings of a shipped scenario
//     map.mjs hostile PROGRAM BUILD WORK              names that try to be markup
//     map.mjs faults PROGRAM BUILD WORK               each planted fault must be found
import { execFileSync, spawnSync } from "node:child_process";
import { mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { judgeSvg } from "./map_svg.mjs";

const [what, program, ...rest] = process.argv.slice(2);
let passed = 0, failed = 0, weightings = 0, ties = 0, several = 0, changes = 0;

function verdict(name, wrongs) {
    if (wrongs.length === 0) passed++;
    else {
        failed++;
        console.log(`FAILED ${name}: ${wrongs.slice(0, 3).join("; ")}`);
    }
}

let state = 1;
function random(below) { // mulberry32, public domain
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) % below;
}

// ---- the job, as FORMATS says -------------------------------------------------------------------

const milli = (number) => Math.round(number * 1000);

// The weights of section 8, [criterion].
function weightsOf(wishes, ids) {
    if (wishes.ranks) {
        const n = wishes.ranks.length;
        return ids.map((id) => {
            const k = wishes.ranks.indexOf(id);
            let sum = 0;
            for (let i = n; k >= 0 && i > k; i--) sum += 1 / i;
            return sum / n;
        });
    }
    const sum = Object.values(wishes.swings).reduce((all, swing) => all + milli(swing), 0);
    return ids.map((id) => milli(wishes.swings[id] ?? 0) / sum);
}

// Section 35: the criteria that are drawn (indexes), the corners, o.
function frameOf(wishes, criteria) {
    const weights = weightsOf(wishes, criteria.map((c) => c.id));
    const rated = (c) => (criteria[c].kind === "rated" ? 1 : 0);
    const drawn = criteria.map((_, c) => c).filter((c) => weights[c] > 0)
        .sort((a, b) => rated(a) - rated(b) || weights[b] - weights[a] || a - b)
        .slice(0, 3).sort((a, b) => a - b);
    const shares = weights.map((w, c) => (drawn.includes(c) ? 0 : Math.round(w * 1000)));
    const others = shares.reduce((a, b) => a + b, 0), own = Math.max(1, 1000 - others);
    const corners = drawn.map((d) => shares.map((s, c) => (c === d ? own : s)));
    const at = drawn.map((c) => Math.max(1, Math.round(weights[c] * 1e6)));
    return { weights, drawn, others, own, corners, at };
}

// Section 33: the weightings drawn and the extremes, over all criteria.
function halton(length, k, base) {
    let turned = 0n, whole = 1n;
    for (let n = BigInt(k); n > 0n; n /= base) {
        turned = turned * base + (n % base);
        whole *= base;
    }
    return Number((BigInt(length) * turned) / whole);
}

const primes = [2n, 3n, 5n, 7n, 11n, 13n, 17n, 19n];

function doubtOf(wishes, criteria) {
    const ids = criteria.map((c) => c.id), doubt = wishes.doubt;
    if (doubt?.any || (wishes.ranks && !doubt)) {
        const ranked = doubt?.any ? null : wishes.ranks.map((id) => ids.indexOf(id));
        const weights = weightsOf(wishes, ids);
        const used = ids.map((_, c) => c).filter((c) => weights[c] > 0), n = used.length;
        const one = (list) => ids.map((_, c) => (list.includes(c) ? 1 : 0));
        const extremes = ranked ? ranked.map((_, k) => one(ranked.slice(0, k + 1))) : used.map((c) => one([c]));
        const drawn = [];
        for (let k = 1; k <= 4096; k++) {
            const cuts = [];
            for (let j = 0; j < n - 1; j++) cuts.push(halton(2 ** 20, k, primes[j]));
            cuts.sort((a, b) => a - b);
            let parts = [...cuts, 2 ** 20].map((cut, i) => cut - (i > 0 ? cuts[i - 1] : 0));
            if (ranked) parts = parts.sort((a, b) => b - a);
            const at = ids.map(() => 0);
            parts.forEach((part, i) => (at[ranked ? ranked[i] : used[i]] = part));
            drawn.push(at);
        }
        return { extremes, drawn };
    }
    const swings = ids.map((id) => milli(wishes.swings[id] ?? 0));
    const measure = swings.indexOf(Math.max(...swings)), low = [...swings], high = [...swings];
    const factor = milli(doubt?.factor ?? 1.5);
    ids.forEach((id, c) => {
        if (c === measure) return;
        if (doubt?.swings) {
            if (doubt.swings[id]) [low[c], high[c]] = doubt.swings[id].map(milli);
        } else {
            low[c] = Math.floor((swings[c] * 1000) / factor);
            high[c] = Math.ceil((swings[c] * factor) / 1000);
        }
    });
    let extremes = [[]];
    ids.forEach((_, c) => {
        extremes = extremes.flatMap((e) => (low[c] < high[c] ? [[...e, low[c]], [...e, high[c]]] : [[...e, low[c]]]));
    });
    const drawn = [];
    for (let k = 1; k <= 4096; k++) {
        let j = 0;
        drawn.push(ids.map((_, c) => low[c] + (low[c] < high[c] ? halton(high[c] - low[c], k, primes[j++]) : 0)));
    }
    return { extremes, drawn };
}

// ---- judging -------------------------------------------------------------------------------------

const worth = (values, at) => values.reduce((sum, value, i) => sum + BigInt(value) * BigInt(at[i]), 0n);

// The first of the lists that are worth most.
function bestOf(lists, at) {
    let best = 0;
    for (let i = 1; i < lists.length; i++) if (worth(lists[i], at) > worth(lists[best], at)) best = i;
    return best;
}

function inside(corners, at) {
    if (at.length === 2) return at[1] > corners[0][1] - 1e-12 && at[1] < corners[1][1] + 1e-12;
    let turn = 0;
    for (let k = 0; k < corners.length; k++) {
        const a = corners[k], b = corners[(k + 1) % corners.length];
        const side = (b[0] - a[0]) * (at[1] - a[1]) - (b[1] - a[1]) * (at[0] - a[0]);
        if (Math.abs(side) < 1e-12) continue;
        if (turn !== 0 && side > 0 !== turn > 0) return false;
        turn = side;
    }
    return true;
}

function areaOf(corners) {
    if (corners[0].length === 1) return 1;
    if (corners[0].length === 2) return corners[1][1] - corners[0][1];
    let twice = 0;
    corners.forEach((a, k) => {
        const b = corners[(k + 1) % corners.length];
        twice += a[0] * b[1] - b[0] * a[1];
    });
    return Math.abs(twice);
}

const near = (a, b, by = 1e-9) => Math.abs(a - b) <= by;
const same = (a, b) => a.length === b.length && a.every((x, i) => x === b[i]);

// The convex hull's area: every extreme must lie in the rim, every corner of the rim be an extreme.
function judgeRim(wrongs, map, frame, extremes) {
    const placed = extremes.map((e) => frame.drawn.map((c) => e[c])).filter((p) => p.some((x) => x > 0))
        .map((p) => p.map((x) => x / p.reduce((a, b) => a + b, 0)));
    for (const corner of map.likely)
        if (!placed.some((p) => p.every((x, i) => near(x, corner[i], 1e-12)))) wrongs.push("a corner of the rim is no extreme");
    if (frame.drawn.length === 1) return;
    const least = map.likely.map((c) => c[1]).sort((a, b) => a - b);
    for (const p of placed) {
        const in2 = p[1] > least[0] - 1e-9 && p[1] < least[least.length - 1] + 1e-9;
        if (frame.drawn.length === 3 && map.likely.length > 2 ? !inside(map.likely, p) : !in2) wrongs.push("an extreme lies outside the rim");
    }
}

// The least share that must move before another is better, by trying all.
function changeOf(lists, at) {
    const best = bestOf(lists, at), sum = at.reduce((a, b) => a + b, 0);
    let least = { share: Infinity };
    lists.forEach((list, v) => {
        for (let from = 0; from < at.length && v !== best; from++)
            for (let to = 0; to < at.length; to++) {
                const lead = Number(worth(lists[best], at) - worth(list, at)) / sum;
                const loss = lists[best][from] - list[from] - (lists[best][to] - list[to]);
                const share = loss > 0 ? lead / loss : Infinity;
                if (share <= at[from] / sum && share < least.share) least = { share, from, to, v };
            }
    });
    return least;
}

// `lists`: P of the checker's non-dominated bundles, in their order.
function judge(map, frame, doubt, ids, lists, tries) {
    const wrongs = [], regions = map.regions, n = frame.drawn.length;
    const numbers = [map.here, ...map.axes.map((axis) => axis.best), ...(map.nearest_change ? [map.nearest_change.then] : [])];
    if (numbers.some((number) => number > regions.length)) return ["a number of no region"];
    const own = regions.map((r) => frame.corners.map((corner) =>
        r.brings.reduce((sum, one) => sum + corner[ids.indexOf(one.criterion)] * Math.round(Number(one.points) * 1000), 0)));
    if (!same(map.axes.map((a) => a.criterion), frame.drawn.map((c) => ids[c]))) return ["other criteria are drawn"];
    if (Math.round(Number(map.others) * 1000) !== frame.others) wrongs.push("others");
    const sum = frame.at.reduce((a, b) => a + b, 0);
    map.axes.forEach((axis, a) => near(axis.at, frame.at[a] / sum, 1e-12) || wrongs.push("the client's answer"));
    if (!near(regions.reduce((all, r) => all + r.area, 0), 1)) wrongs.push("the areas do not add up to 1");
    regions.forEach((r, i) => {
        if (!near(r.area, areaOf(r.corners))) wrongs.push(`area of ${i + 1}`);
        if (r.number !== i + 1 || (i > 0 && r.area > regions[i - 1].area)) wrongs.push("the order of regions");
        if (!lists.some((list) => same(list, own[i]))) wrongs.push(`region ${i + 1} is no bundle of the checker's`);
        const points = own[i].reduce((all, value, a) => all + (value * frame.at[a]) / sum, 0) / (frame.others + frame.own);
        if (!near(points, Number(r.points) * 1000, 0.501)) wrongs.push(`points of ${i + 1}`);
    });
    for (let t = 0; t < (regions.length > 1 ? tries : tries / 8); t++) {
        const at = frame.drawn.map(() => random(100001));
        at[t % n]++;
        const all = at.reduce((a, b) => a + b, 0), share = at.map((x) => x / all);
        const most = worth(lists[bestOf(lists, at)], at);
        const here = regions.map((_, i) => i).filter((i) => inside(regions[i].corners, share));
        weightings++;
        if (here.length > 1) ties++;
        if (here.length === 0) wrongs.push(`no region at ${share}`);
        for (const i of here)
            if (worth(own[i], at) !== most && !(here.length > 1 && Number(most - worth(own[i], at)) / Number(most || 1n) < 1e-9))
                wrongs.push(`another is better than region ${i + 1} at ${share}`);
    }
    frame.drawn.forEach((_, a) => {
        const at = frame.drawn.map((_, i) => (i === a ? 1 : 0));
        if (map.axes[a].best !== bestOf(own, at) + 1) wrongs.push("best in a corner");
        if (worth(own[map.axes[a].best - 1], at) !== worth(lists[bestOf(lists, at)], at)) wrongs.push("better in a corner");
    });
    if (map.here !== bestOf(own, frame.at) + 1) wrongs.push("best at the answer");
    if (worth(own[map.here - 1], frame.at) !== worth(lists[bestOf(lists, frame.at)], frame.at)) wrongs.push("better at the answer");
    const change = changeOf(own, frame.at), any = changeOf(lists, frame.at), told = map.nearest_change;
    if ((told === null) !== (change.share === Infinity)) wrongs.push("a change or none");
    else if (told !== null) {
        changes++;
        if (!near(told.share, change.share) || !near(told.share, Math.min(any.share, 1), 1e-6)) wrongs.push("how far to the change");
        if (told.from !== ids[frame.drawn[change.from]] || told.to !== ids[frame.drawn[change.to]]) wrongs.push("which way to the change");
        if (told.then !== change.v + 1) wrongs.push("what the change leads to");
    }
    const won = regions.map(() => 0);
    let counted = 0;
    for (const weighs of doubt.drawn) {
        const at = frame.drawn.map((c) => weighs[c]);
        if (at.every((x) => x === 0)) continue;
        won[bestOf(own, at)]++;
        counted++;
    }
    regions.forEach((r, i) => near(r.of_likely, won[i] / counted, 1e-12) || wrongs.push(`likely share of ${i + 1}`));
    judgeRim(wrongs, map, frame, doubt.extremes);
    return wrongs;
}

// ---- random jobs ------------------------------------------------------------------------------

const kinds = [[], ["--waivers"], ["--rich"], ["--untaxed"]];

// Now and then other wishes, so that every kind of doubt is met, and more than three criteria.
function reword(wishes, ids, seed) {
    if (wishes.swings && seed % 3 === 0 && wishes.uses)
        wishes.swings = Object.fromEntries(ids.map((id) => [id, 5 + random(96)]));
    const way = seed % 5;
    if (way === 1) wishes.doubt = { any: true };
    else if (way === 2 && wishes.swings) wishes.doubt = { factor: 1 + random(40) / 8 };
    else if (way === 3 && wishes.swings) {
        const swings = wishes.swings, most = Math.max(...ids.map((id) => swings[id] ?? 0));
        const measure = ids.find((id) => swings[id] === most);
        const named = ids.filter((id) => swings[id] > 0 && id !== measure);
        wishes.doubt = { swings: Object.fromEntries(named.map((id) => {
            const low = random(60);
            return [id, [low, low + random(80) + 1]];
        })) };
    }
}

function makeJob(build, work, seed) {
    rmSync(join(work, "job"), { recursive: true, force: true });
    execFileSync(join(build, "tests/generate"), [String(seed), join(work, "job"), ...kinds[seed % 4]]);
    const path = join(work, "job", "scenario.json"), job = JSON.parse(readFileSync(path, "utf8"));
    const criteria = JSON.parse(readFileSync(join(work, "job", "criteria.json"), "utf8")).criteria;
    state = seed * 7919;
    reword(job.wishes, criteria.map((c) => c.id), seed);
    writeFileSync(path, JSON.stringify(job));
    return { path, job, criteria };
}

function listsOf(build, path, frame, ids) {
    const extremes = frame.corners.map((corner) =>
        corner.map((w, c) => (w > 0 ? `${ids[c]}:${w}` : "")).filter((text) => text).join(",")).join(";");
    const run = spawnSync(join(build, "tests/brute"), [path, "--extremes", extremes], { encoding: "utf8", maxBuffer: 1 << 28 });
    if (run.status !== 0) return run.status === 1 ? [] : null;
    return run.stdout.split("\n").filter((line) => line.startsWith("values"))
        .map((line) => line.split(" ").slice(1, 1 + frame.corners.length).map(Number));
}

function runMap(path, svg, more = []) {
    const run = spawnSync(program, ["map", path, "--json", "--svg", svg, ...more], { encoding: "utf8", maxBuffer: 1 << 28 });
    return { code: run.status, map: run.status <= 2 ? JSON.parse(run.stdout) : null, says: run.stderr };
}

function oneJob(build, work, seed, tries, spoil) {
    const { path, job, criteria } = makeJob(build, work, seed), ids = criteria.map((c) => c.id);
    const frame = frameOf(job.wishes, criteria), svg = join(work, "map.svg");
    const lists = listsOf(build, path, frame, ids);
    const { code, map, says } = runMap(path, svg);
    if (lists === null || map === null) return [`exit code ${code}: ${says}`];
    if (lists.length === 0) return code === 1 && map.regions.length === 0 ? [] : ["fits nothing, but is drawn"];
    if (code !== 0) return [`exit code ${code}: ${says}`];
    if (map.regions.length > 1) several++;
    const spoiled = spoil ? spoil(map) : true;
    if (spoiled === false) return null;
    const wrongs = judge(map, frame, doubtOf(job.wishes, criteria), ids, lists, tries);
    return [...wrongs, ...judgeSvg(svg, map)];
}

function jobs(build, work, first, count) {
    for (let seed = first; seed < first + count; seed++) verdict(`seed ${seed}`, oneJob(build, work, seed, 120));
    console.log(`${weightings} weightings, ${ties} of them on a border; ${several} maps of several regions, ${changes} with a change`);
    if (several === 0 || changes === 0) verdict("the jobs", ["none has several regions and a change"]);
}

// ---- a shipped scenario, planned at random weightings ---------------------------------------------

const contents = (of) => JSON.stringify([of.swaps.map((s) => [s.role, s.in.map((p) => [p.part, p.count, p.seller])]), of.tasks.map((t) => t.id)]);

// Criterion by criterion a term is rounded at its own weight, so that points differ by a thousandth per term at most.
const ROUNDING = 0.05;

function plans(work, scenario, count) {
    const job = JSON.parse(readFileSync(scenario, "utf8"));
    const criteria = JSON.parse(readFileSync("catalog/criteria.json", "utf8")).criteria, ids = criteria.map((c) => c.id);
    const frame = frameOf(job.wishes, criteria), n = frame.drawn.length;
    const { code, map } = runMap(scenario, join(work, "map.svg"), ["--catalog", "catalog", "--seconds", "300"]);
    if (code !== 0) return verdict(scenario, [`exit code ${code}`]);
    verdict(`${scenario}, its picture`, judgeSvg(join(work, "map.svg"), map));
    let rounded = 0;
    state = 20261129;
    for (let t = 0; t < count; t++) {
        const cuts = [random(1000001), random(1000001)].slice(0, n - 1).sort((a, b) => a - b);
        const share = [...cuts, 1000000].map((cut, i) => (cut - (i > 0 ? cuts[i - 1] : 0)) / 1e6);
        const swings = Object.fromEntries(ids.map((id, c) => [id, frame.corners[0][c]]).filter(([id, w]) => w > 0));
        frame.drawn.forEach((c, a) => (swings[ids[c]] = Math.round(share[a] * frame.own * 1000) / 1000));
        const at = frame.drawn.map((c) => milli(swings[ids[c]]));
        const all = at.reduce((a, b) => a + b, 0);
        const changed = { ...job, catalog: undefined, wishes: { ...job.wishes, swings, ranks: undefined, doubt: undefined } };
        const path = join(work, "changed.json");
        writeFileSync(path, JSON.stringify(changed));
        const run = spawnSync(program, ["plan", path, "--catalog", "catalog", "--json"], { encoding: "utf8", maxBuffer: 1 << 28 });
        const best = JSON.parse(run.stdout).bundles?.[0];
        const here = map.regions.filter((r) => inside(r.corners, at.map((x) => x / all)));
        const wrongs = [];
        if (run.status !== 0 || !best || here.length === 0) wrongs.push(`plan ends with ${run.status}, ${here.length} regions`);
        else if (!here.some((r) => contents(r) === contents(best))) {
            const points = (r) => r.brings.reduce((sum, b) => sum + (Number(b.points) * (swings[b.criterion] ?? 0)) / Object.values(swings).reduce((x, y) => x + y, 0), 0);
            const apart = Math.min(...here.map((r) => Math.abs(Number(best.points) - points(r))));
            if (apart <= ROUNDING) rounded++;
            else wrongs.push(`plan's bundle has ${best.points} points, the region's ${here.map(points)}`);
        }
        verdict(`${scenario} at ${share}`, wrongs);
    }
    console.log(`${scenario}: ${count} plans, ${rounded} with another bundle of the same points but for rounding`);
}

// ---- hostile names --------------------------------------------------------------------------------

function hostile(build, work) {
    const evil = ["<script>alert(1)</script>", "\"><b onload=x>&amp;]]>", "-->\u202e\u0001\u0085&#0;", "W".repeat(1500)];
    for (let i = 0; i < evil.length; i++) {
        const { path, job } = makeJob(build, work, 1 + i);
        job.title = evil[i];
        writeFileSync(path, JSON.stringify(job));
        for (const name of ["criteria", "roles"]) {
            const file = join(work, "job", `${name}.json`), data = JSON.parse(readFileSync(file, "utf8"));
            data[name].forEach((one, k) => (one.name = `${evil[(i + k) % evil.length]} ${k}`));
            writeFileSync(file, JSON.stringify(data));
        }
        const svg = join(work, "map.svg"), { code, map, says } = runMap(path, svg);
        const wrongs = code === 0 ? judgeSvg(svg, map) : [`exit code ${code}: ${says}`];
        const text = code === 0 ? readFileSync(svg, "utf8") : "";
        if (/<(script|b)\b|on[a-z]+=|\u202e|\u0001|\u0085/.test(text.replace(/>[^<]*</g, "><").replace(/"[^"]*"/g, "")) || /\u202e|\u0001|\u0085/.test(text))
            wrongs.push("markup or a control character came through");
        verdict(`hostile ${i}`, wrongs);
    }
}

// ---- planted faults ---------------------------------------------------------------------------

const planted = {
    "two regions change bundles": (m) => m.regions.length > 1 && ([m.regions[0].brings, m.regions[1].brings] = [m.regions[1].brings, m.regions[0].brings], true),
    "an area": (m) => (m.regions[0].area *= 1.001, true),
    "a corner": (m) => m.regions.length > 1 && (m.regions[0].corners[0] = m.regions[0].corners[0].map((x, i) => x + (i === 0 ? 0.01 : i === 1 ? -0.01 : 0)), true),
    "a region left out": (m) => m.regions.length > 2 && (m.regions.pop(), true),
    "the best here": (m) => m.regions.length > 1 && (m.here = m.here === 1 ? 2 : 1, true),
    "the best in a corner": (m) => m.regions.length > 1 && (m.axes[0].best = m.axes[0].best === 1 ? 2 : 1, true),
    "the answer": (m) => m.axes.length > 1 && (m.axes[0].at += 0.001, true),
    "how far": (m) => m.nearest_change !== null && (m.nearest_change.share += 1e-4, true),
    "which way": (m) => m.nearest_change !== null && (m.nearest_change.from = m.nearest_change.to, true),
    "what then": (m) => m.nearest_change !== null && (m.nearest_change.then = m.here, true),
    "no change": (m) => m.nearest_change !== null && (m.nearest_change = null, true),
    "a likely share": (m) => (m.regions[0].of_likely = Math.abs(m.regions[0].of_likely - 1 / 4096), true),
    "the rim": (m) => m.likely.length > 2 && (m.likely.pop(), true),
    "points": (m) => (m.regions[0].points = String(Number(m.regions[0].points) + 0.002), true),
    "a cost in the picture": (m) => m.axes.length > 1 && (m.regions[0].cost = `${m.regions[0].cost}9`, true),
};

function faults(build, work) {
    for (const [name, spoil] of Object.entries(planted)) {
        let met = 0, missed = 0;
        for (let seed = 1; seed <= 60 && met < 3; seed++) {
            let did = false;
            const found = oneJob(build, work, seed, 40, (m) => (m.regions.length > 0 && spoil(m) ? (did = true) : false));
            if (!did) continue;
            met++;
            if (found !== null && found.length === 0) missed++;
        }
        verdict(name, met === 0 ? ["no job to plant it in"] : missed > 0 ? [`not found in ${missed} of ${met} jobs`] : []);
    }
}

if (what === "jobs") {
    mkdirSync(rest[1], { recursive: true });
    jobs(rest[0], rest[1], Number(rest[2]), Number(rest[3]));
} else if (what === "plan") {
    mkdirSync(rest[0], { recursive: true });
    plans(rest[0], rest[1], Number(rest[2]));
} else if (what === "hostile" || what === "faults") {
    mkdirSync(rest[1], { recursive: true });
    (what === "hostile" ? hostile : faults)(rest[0], rest[1]);
}
console.log(`${passed} passed, ${failed} failed`);
process.exit(failed === 0 ? 0 : 1);
