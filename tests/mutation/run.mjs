// A sample of wrong programs: each has one small slip in one line of src/. How many of them do the
// tests notice? At least 80 in 100.
//
//     node tests/mutation/run.mjs [SEED] [COUNT] [FILTER]     (default: 1 100; FILTER: part of a path)
//
// Works in copies of the tree (build/mutation/), one for each core. A slip that does not build, or
// that changes nothing in the object file, does not count; another is drawn. What the quick tests of
// its stage did not notice is printed at the end: whoever reads it judges whether it matters.
import { spawn, spawnSync } from 'node:child_process';
import { cpSync, existsSync, mkdirSync, readFileSync, rmSync, writeFileSync, appendFileSync } from 'node:fs';
import { cpus } from 'node:os';
import { resolve } from 'node:path';
import { sites } from './sites.mjs';
import { allSuites, command, suitesOf } from './suites.mjs';

const [seed = 1, count = 100] = process.argv.slice(2, 4).map(Number);
const filter = process.argv[4] ?? '';
const home = resolve('build/mutation');
const goal = 80;

// Numbers that come out the same everywhere (a linear congruence, Knuth's MMIX constants).
function* draws(state) {
    for (state = BigInt(state); ;) {
        state = (state * 6364136223846793005n + 1442695040888963407n) & 0xffffffffffffffffn;
        yield Number(state >> 33n);
    }
}

const run = (tree, words, seconds) => new Promise(done => {
    const child = spawn(words[0], words.slice(1), {
        cwd: tree, stdio: ['ignore', 'pipe', 'pipe'], detached: true,
        env: { ...process.env, SWAPWORTH: 'build/swapworth', DESK_WORK: `${tree}/build/desk-work` },
    });
    let said = '';
    const hear = part => { said = (said + part).slice(-20000); };
    child.stdout.on('data', hear);
    child.stderr.on('data', hear);
    const begun = Date.now();
    const clock = setTimeout(() => { try { process.kill(-child.pid, 'SIGKILL'); } catch { /* has ended */ } },
        seconds * 1000);
    child.on('close', code => {
        clearTimeout(clock);
        const line = said.match(/^\d+ passed, (\d+) failed$/gm)?.pop();
        const bad = code !== 0 || (line && !line.endsWith(', 0 failed'));
        done({ bad, said, seconds: (Date.now() - begun) / 1000 });
    });
});

const make = (tree, ...what) => spawnSync('make', ['--no-print-directory', ...what], { cwd: tree, encoding: 'utf8' });
const strip = (tree, file, to) => spawnSync('objcopy', ['-g', `build/${file.replace(/\.c$/, '.o')}`, to], { cwd: tree });

function prepare(tree) {
    rmSync(tree, { recursive: true, force: true });
    mkdirSync(tree, { recursive: true });
    for (const name of ['Makefile', 'src', 'include', 'catalog', 'scenarios', 'tests', 'README.md', 'DEVELOPERS.md'])
        cpSync(name, `${tree}/${name}`, { recursive: true, preserveTimestamps: true });
    const made = make(tree, `-j${cpus().length}`, 'build/swapworth', 'build/unit', 'build/libswapworth.so', 'tools', 'deps-page');
    if (made.status !== 0)
        throw new Error(`does not build:\n${made.stderr.slice(-3000)}`);
}

// Tries one slip: 'killed by SUITE', 'alive', or null where it does not count.
async function attempt(tree, slip, limits) {
    const path = `${tree}/${slip.file}`, right = readFileSync(path, 'utf8');
    const lines = right.split('\n');
    if (lines[slip.line - 1] !== slip.before)
        throw new Error(`${slip.file} is not what it was`);
    lines[slip.line - 1] = slip.after;
    strip(tree, slip.file, 'build/before.o');
    writeFileSync(path, lines.join('\n'));
    try {
        if (make(tree, `build/${slip.file.replace(/\.c$/, '.o')}`).status !== 0)
            return null;
        strip(tree, slip.file, 'build/after.o');
        if (readFileSync(`${tree}/build/before.o`).equals(readFileSync(`${tree}/build/after.o`)))
            return null;
        if (make(tree, 'build/swapworth', 'build/unit', 'build/libswapworth.so', 'tools').status !== 0)
            return null;
        for (const suite of suitesOf(slip.file)) {
            if (!existsSync(`${tree}/${command(suite)[0]}`) && command(suite)[0] !== 'node')
                continue;
            const { bad } = await run(tree, command(suite), limits.get(suite));
            if (bad)
                return `killed by ${suite}`;
        }
        return 'alive';
    } finally {
        writeFileSync(path, right);
        make(tree, `build/${slip.file.replace(/\.c$/, '.o')}`);
    }
}

const trees = cpus().map((_, i) => `${home}/${i}`);
trees.forEach(prepare);

// The right program must pass all; how long each suite takes says when a wrong one has hung.
const limits = new Map();
for (const suite of allSuites()) {
    const words = command(suite);
    if (!existsSync(`${trees[0]}/${words[0]}`) && words[0] !== 'node')
        continue;
    const { bad, said, seconds } = await run(trees[0], words, 3600);
    if (bad) {
        console.log(`${suite} does not pass without a slip:\n${said.slice(-1500)}\n0 passed, 1 failed`);
        process.exit(1);
    }
    limits.set(suite, Math.max(60, seconds * 6));
}

const places = sites(trees[0]).filter(slip => slip.file.includes(filter));
const numbers = draws(seed);
const next = () => places.splice(numbers.next().value % places.length, 1)[0];
const report = `${home}/report-${seed}.txt`;
writeFileSync(report, '');
const alive = [];
let killed = 0, begun = 0;
await Promise.all(trees.map(async tree => {
    while (begun < count && places.length > 0) {
        begun++;
        let end = null, slip;
        while (end === null && places.length > 0) {
            slip = next();
            end = await attempt(tree, slip, limits);
        }
        if (end === null)
            break;
        appendFileSync(report, `${end}\n  ${slip.file}:${slip.line}\n  -${slip.before}\n  +${slip.after}\n`);
        if (end === 'alive')
            alive.push(slip);
        else
            killed++;
    }
}));
for (const slip of alive)
    console.log(`not noticed: ${slip.file}:${slip.line}\n  -${slip.before}\n  +${slip.after}`);
const all = killed + alive.length, share = all ? 100 * killed / all : 0;
console.log(`${killed} of ${all} slips noticed, ${share.toFixed(0)} %, goal ${goal} %`);
console.log(share >= goal ? '1 passed, 0 failed' : '0 passed, 1 failed');
process.exit(share >= goal ? 0 : 1);
