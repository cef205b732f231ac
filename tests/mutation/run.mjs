// A sample of wrong programs: each has one small slip in one line of src/. How many of them do the
// tests notice? At least 80 in 100.
//
//     node tests/mutation/run.mjs [SEED] [COUNT] [FILTER]     (default: 1 100; FILTER: part of a path)
//     node tests/mutation/run.mjs --again FILE:LINE [LINE OF C AS IT BECOMES]   that slip alone
//
// Works in copies of the tree (build/mutation/), one for each core. A slip that does not build, or
// that changes nothing in the object file, does not count; another is drawn. A suite is stopped at its
// first complaint, and each passes on a copy without a slip before it is believed. What nothing noticed is
// printed at the end with what survivors.md says of it.
import { spawn, spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { appendFileSync, existsSync, mkdirSync, readdirSync, readFileSync, renameSync, rmSync, statSync, symlinkSync,
    utimesSync, writeFileSync } from 'node:fs';
import { cpus } from 'node:os';
import { dirname, resolve } from 'node:path';
import { sites } from './sites.mjs';
import { command, isStrict, needs, strictObject, suitesOf, watchesClock } from './suites.mjs';

const again = process.argv[2] === '--again' ? process.argv.slice(3) : null;
const [seed = 1, wanted = 100] = again ? [0, 1] : process.argv.slice(2, 4).map(Number);
let count = wanted;
const filter = again ? '' : process.argv[4] ?? '';
const home = resolve('build/mutation');
const goal = 80;
// A process that takes more seconds of the processor than any does for the right program has hung; by the
// clock on the wall nobody can tell, on a machine that others use too. That one is for what waits for ever.
const hung = 30, waits = 900;
// Compiled and linked sooner; a slip is the same slip.
const quick = ['OPT=-O1', 'CFLAGS=-g0'];
// How each suite tells of a failure, before its end.
const complaint = /^(FAILED .*|seed \d+: .*|[^\n]*\[.{0,12}(?:FAIL|CRASH).*|[^\n]*: got .*, expected .*)$/m;

// Numbers that come out the same everywhere (a linear congruence, Knuth's MMIX constants).
function* draws(state) {
    for (state = BigInt(state); ;) {
        state = (state * 6364136223846793005n + 1442695040888963407n) & 0xffffffffffffffffn;
        yield Number(state >> 33n);
    }
}

const run = (tree, words) => new Promise(done => {
    const child = spawn('sh', ['-c', `ulimit -S -t ${hung}; exec "$@"`, 'sh', ...words], {
        cwd: tree, stdio: ['ignore', 'pipe', 'pipe'], detached: true,
        env: { ...process.env, SWAPWORTH: 'build/swapworth', DESK_WORK: `${tree}/build/desk-work` },
    });
    const end = () => { try { process.kill(-child.pid, 'SIGKILL'); } catch { /* has ended */ } };
    let said = '', why = null;
    const hear = part => {
        said = (said + part).slice(-20000);
        if (why === null && (why = said.slice(0, said.lastIndexOf('\n')).match(complaint)?.[0] ?? null) !== null)
            end();
    };
    child.stdout.on('data', hear);
    child.stderr.on('data', hear);
    const begun = Date.now();
    const clock = setTimeout(() => { why ??= `not done after ${waits} s`; end(); }, waits * 1000);
    child.on('close', code => {
        clearTimeout(clock);
        const line = said.match(/^\d+ passed, (\d+) failed$/gm)?.pop();
        if (why === null && (code !== 0 || (line && !line.endsWith(', 0 failed'))))
            why = `${line ?? 'no count'}, code ${code}`;
        done({ bad: why !== null, why, said, seconds: (Date.now() - begun) / 1000 });
    });
});

const make = (tree, ...what) => spawnSync('make', ['--no-print-directory', ...what], { cwd: tree, encoding: 'utf8' });
const makeAll = (tree, what, ...words) => {
    const made = make(tree, ...words, ...what);
    if (made.status !== 0)
        throw new Error(`does not build:\n${made.stderr.slice(-3000)}`);
};
// Without what is there for debuggers, whichever flags the right one was made with.
const isSame = (tree, a, b) => {
    const [one, other] = [a, b].map((object, i) => {
        spawnSync('objcopy', ['-g', object, `${tree}/build/bare-${i}.o`]);
        return readFileSync(`${tree}/build/bare-${i}.o`);
    });
    return one.equals(other);
};
const objectOf = file => `build/${file.replace(/\.c$/, '.o')}`;
const isProgram = what => what === 'build/swapworth' || what === 'build/unit';

// Makes what a suite needs, as little as is possible; the tools that share no code with the program as they
// always are, since they work longest.
function provide(tree, suite, there = new Set()) {
    if (isStrict(suite))
        return make(tree, 'asan-build').status === 0;
    const what = needs(suite).filter(one => !there.has(one));
    const own = what.filter(isProgram), tools = what.filter(one => !isProgram(one));
    what.forEach(one => there.add(one));
    return (own.length === 0 || make(tree, ...quick, ...own).status === 0) &&
        (tools.length === 0 || make(tree, 'CFLAGS=-g0', ...tools).status === 0);
}

const copy = (from, to) => {
    if (spawnSync('cp', ['-a', ...from, to]).status !== 0)
        throw new Error(`${to} cannot be made`);
};
const rightTree = `${home}/right`;
function prepare() {
    mkdirSync(rightTree, { recursive: true });
    const names = ['Makefile', 'src', 'include', 'catalog', 'scenarios', 'tests', 'README.md', 'DEVELOPERS.md'];
    for (const name of names)
        rmSync(`${rightTree}/${name}`, { recursive: true, force: true });
    copy(names, rightTree);
    makeAll(rightTree, ['build/swapworth', 'build/unit'], `-j${cpus().length}`, ...quick);
    makeAll(rightTree, ['tools'], `-j${cpus().length}`, 'CFLAGS=-g0');
    const there = `${rightTree}/build/tests/page/node_modules`;
    if (existsSync('build/tests/page/node_modules') && !existsSync(there)) {
        mkdirSync(dirname(there), { recursive: true });
        symlinkSync(resolve('build/tests/page/node_modules'), there);
    }
}

// Whether the right program passes the suite: asked when it is first needed, and remembered for as long as
// program and tests are the same. A suite that looks at the clock may fail on a busy machine: it has three
// tries on a slip, and six here.
const known = `${home}/trusted.json`;
const trusted = new Map();
let program;
function hashAll() {
    const hash = createHash('sha256');
    const add = path => {
        for (const entry of readdirSync(path, { withFileTypes: true }))
            if (entry.isDirectory() && entry.name !== 'mutation')
                add(`${path}/${entry.name}`);
            else if (entry.isFile())
                hash.update(readFileSync(`${path}/${entry.name}`));
    };
    add(`${rightTree}/tests`);
    for (const made of ['build/swapworth', 'build/unit'])
        hash.update(readFileSync(`${rightTree}/${made}`));
    return hash.digest('hex');
}
const remembered = () => {
    const last = existsSync(known) ? JSON.parse(readFileSync(known)) : {};
    return last.program === program ? last.suites : [];
};
async function passes(suite) {
    if (!provide(rightTree, suite))
        return false;
    for (let tries = watchesClock(suite) ? 6 : 1; tries > 0; tries--) {
        const { bad, why, seconds } = await run(rightTree, command(suite));
        note(`${bad ? `without a slip ${suite} says ${why}` : `passes: ${suite}`}, ${seconds.toFixed(0)} s`);
        if (bad)
            continue;
        writeFileSync(known, JSON.stringify({ program, suites: [...remembered(), suite] }));
        return true;
    }
    return false;
}
function trust(suite) {
    if (!trusted.has(suite))
        trusted.set(suite, passes(suite));
    return trusted.get(suite);
}

// Tries one slip: what noticed it, and why; `end` is null where it does not count.
async function attempt(tree, slip) {
    const path = `${tree}/${slip.file}`, object = `${tree}/${objectOf(slip.file)}`;
    const right = readFileSync(path, 'utf8'), made = statSync(path), lines = right.split('\n');
    if (lines[slip.line - 1] !== slip.before)
        throw new Error(`${slip.file} is not what it was`);
    lines[slip.line - 1] = slip.after;
    renameSync(object, `${tree}/build/right.o`);
    writeFileSync(path, lines.join('\n'));
    try {
        if (make(tree, ...quick, objectOf(slip.file)).status !== 0)
            return { end: null };
        if (isSame(tree, `${tree}/build/right.o`, object))
            return { end: null };
        const there = new Set();
        for (const suite of suitesOf(slip.file)) {
            if (!await trust(suite))
                continue;
            if (!provide(tree, suite, there))
                return { end: null };
            let why = null;
            for (let tries = watchesClock(suite) ? 3 : 1, bad = true; tries > 0 && bad; tries--)
                ({ bad, why } = await run(tree, command(suite)));
            if (why !== null)
                return { end: suite, why };
        }
        return { end: 'alive' };
    } finally {
        // The right object again, newer than the libraries that hold the wrong one.
        writeFileSync(path, right);
        utimesSync(path, made.atime, made.mtime);
        rmSync(object, { force: true });
        rmSync(`${tree}/${strictObject(objectOf(slip.file))}`, { force: true });
        renameSync(`${tree}/build/right.o`, object);
        const now = new Date();
        utimesSync(object, now, now);
    }
}

// What survivors.md says of a slip: a row of its table begins with the file, and holds the line as it becomes.
// Not by number: lines move.
const table = 'tests/mutation/survivors.md';
const explained = existsSync(table) ? readFileSync(table, 'utf8').split('\n') : [];
const wordsOn = slip => explained.some(row => row.startsWith(`| ${slip.file} |`) &&
    row.includes(`\`${slip.after.trim().replaceAll('|', '\\|')}\``));

mkdirSync(home, { recursive: true });
const report = `${home}/report-${seed}.txt`;
writeFileSync(report, '');
const note = text => appendFileSync(report, `${text}\n`);
prepare();
program = hashAll();
for (const suite of remembered())
    trusted.set(suite, Promise.resolve(true));
let places = sites(rightTree).filter(slip => slip.file.includes(filter));
if (again)
    places = places.filter(slip => `${slip.file}:${slip.line}` === again[0] && (!again[1] || slip.after.trim() === again[1].trim()));
const numbers = draws(seed);
const next = () => places.splice(numbers.next().value % places.length, 1)[0];

const trees = cpus().map((_, i) => `${home}/${i}`);
for (const tree of trees) {
    rmSync(tree, { recursive: true, force: true });
    copy([rightTree], tree);
}
const alive = [];
let killed = 0, begun = 0;
// Those that have begun come to their end: the ones that take longest are the ones that nothing notices.
process.once('SIGINT', () => { count = begun; });
await Promise.all(trees.map(async tree => {
    while (begun < count && places.length > 0) {
        begun++;
        let got = { end: null }, slip;
        while (got.end === null && places.length > 0) {
            slip = next();
            got = await attempt(tree, slip);
        }
        if (got.end === null)
            break;
        note(`${got.end === 'alive' ? 'not noticed' : `noticed by ${got.end}: ${got.why.slice(0, 160)}`}\n` +
            `  ${slip.file}:${slip.line}\n  -${slip.before}\n  +${slip.after}`);
        if (got.end === 'alive')
            alive.push(slip);
        else
            killed++;
    }
}));
for (const slip of alive)
    console.log(`not noticed: ${slip.file}:${slip.line}${wordsOn(slip) ? ' (in survivors.md)' : ''}\n  -${slip.before}\n  +${slip.after}`);
const all = killed + alive.length, share = all ? 100 * killed / all : 0;
const left = (await Promise.all([...trusted].map(async ([suite, good]) => await good ? [] : [suite]))).flat();
if (left.length > 0)
    console.log(`could not be asked, since they fail without a slip: ${left.join(', ')}`);
console.log(`${killed} of ${all} slips noticed, ${share.toFixed(0)} %, goal ${goal} %; ` +
    `survivors.md explains ${alive.filter(wordsOn).length} of the ${alive.length} others`);
console.log(share >= goal ? '1 passed, 0 failed' : '0 passed, 1 failed');
process.exit(share >= goal ? 0 : 1);
