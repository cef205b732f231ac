// Each value of the good cases, moved to an edge: what the reader then says, and whether the schema agrees.
//
//     node tests/schemas/edges.mjs [NTH] [KIND]     each NTH place of a kind (1: every one)
//     node tests/schemas/edges.mjs --renew          writes edges.sums anew: look at what changed before
//
// A place is tried once in each kind, wherever it occurs first. Numbers go to the limits that the kind's schema
// names, just beyond them and just short of them; texts become empty, long, an amount, an id with a blank;
// lists become empty or name the first twice; members go missing, those of their like and strange ones come; all change their type.
// What holds: all is taken or refused, what is refused has complaints that say what, why and how to mend it,
// nothing is taken that the schema refuses; and what is said of each place is, to the byte, what it was when
// it was last read.
import fs from 'node:fs';
import path from 'node:path';
import { cpus } from 'node:os';
import { createHash } from 'node:crypto';
import { execFile } from 'node:child_process';

const renew = process.argv[2] === '--renew';
const nth = renew ? 1 : Number(process.argv[2] ?? 1), only = renew ? undefined : process.argv[3];
const build = path.resolve(process.env.BUILD ?? 'build');
const tool = path.join(build, 'tests/check-many');
const here = 'tests/schemas', table = `${here}/edges.sums`;

let passed = 0, failed = 0;
const verdict = (name, faults) => {
    if (faults.length === 0) {
        passed++;
        return;
    }
    failed++;
    if (failed <= 20)
        console.log(`FAILED ${name}: ${faults.join('; ').slice(0, 600)}`);
};

// Where a file of a kind stands in the host, and the folder that is checked with it: none for a file that is
// checked by itself.
const kinds = {
    parts: ['catalog/parts/all.json', 'catalog'],
    profiles: ['catalog/profiles/all.json', 'catalog'],
    scenario: ['scenario.json'], measured: ['measured.json'], calibration: ['calibration.json'],
};
const of = kind => kinds[kind] ?? [`catalog/${kind}.json`, 'catalog'];

// The limits that a schema names, as far as it says them in numbers.
function limitsOf(schema, found = new Set([0, 1, 1.5, 2])) {
    for (const [name, value] of Object.entries(schema ?? {}))
        if (typeof value === 'object')
            limitsOf(value, found);
        else if (typeof value === 'number' && /imum$/.test(name))
            found.add(value);
    return found;
}

// With each member that another object has which shares a name with it: many belong to some of a kind only.
function* joined(value, objects) {
    const more = new Map();
    for (const other of objects)
        if (Object.keys(other).some(name => name in value))
            for (const [name, of] of Object.entries(other))
                if (!(name in value) && !more.has(name))
                    more.set(name, of);
    for (const [name, of] of more) {
        yield { ...value, [name]: of };
        if (typeof of === 'number')
            yield { ...value, [name]: 0 };
    }
}

const texts = ['', 'x', 'x'.repeat(300), 'a b', '-1', '0', '0.005', '12.50', '10000000.00', '10000000.01', '2026-02-29', '2028-02-29',
    '\u202eab'];
const types = [null, 7, 'x', {}];
function* edgesOf(value, limits, objects) {
    const kind = Array.isArray(value) ? 'list' : value === null ? 'null' : typeof value;
    for (const other of types)
        if (typeof other !== typeof value || Array.isArray(other) !== Array.isArray(value))
            yield other;
    if (kind === 'number')
        for (const limit of limits)
            yield* [limit, limit + 0.001, limit - 0.001];
    if (kind === 'string')
        yield* texts;
    if (kind === 'boolean')
        yield !value;
    if (kind === 'list')
        yield* [[], [...value, ...value.slice(0, 1)]];
    if (kind === 'object') {
        for (const name of Object.keys(value))
            yield Object.fromEntries(Object.entries(value).filter(([other]) => other !== name));
        yield { ...value, strange: 1 };
        yield { ...value, 'a b': 'x' };
        yield* joined(value, objects);
    }
}

// Each place of a value once: [name, the file's value with that place changed].
function* placesOf(whole, value = whole, at = [], name = '$') {
    yield { name, at, value };
    if (Array.isArray(value))
        for (let i = 0; i < value.length; i++)
            yield* placesOf(whole, value[i], [...at, i], `${name}[]`);
    else if (value !== null && typeof value === 'object')
        for (const key of Object.keys(value))
            yield* placesOf(whole, value[key], [...at, key], `${name}.${key}`);
}
const changed = (whole, at, value) => {
    if (at.length === 0)
        return value;
    const copy = Array.isArray(whole) ? [...whole] : { ...whole };
    copy[at[0]] = changed(whole[at[0]], at.slice(1), value);
    return copy;
};

const run = (file, words, cwd, given = '') => new Promise(done => {
    const child = execFile(file, words, { cwd, maxBuffer: 1 << 30, encoding: 'utf8' }, (error, out, err) =>
        done({ code: error ? error.code ?? error.signal : 0, out, err }));
    child.stdin.on('error', () => {});
    child.stdin.end(given);
});

// What the schema says of all of a kind's files, by one call: the validator is slow to start.
async function refusedBySchema(kind, files) {
    const refused = new Set();
    for (let i = 0; i < files.length; i += 400) {
        const words = files.slice(i, i + 400).flatMap(file => ['-i', file]);
        const { out, err } = await run('/usr/bin/jsonschema', ['--output', 'pretty', ...words, `catalog/schemas/${kind}.schema.json`], '.');
        for (const [, name, file] of `${out}${err}`.matchAll(/^===\[([A-Za-z]+)\]===\((.*)\)===$/gm))
            if (name !== 'SUCCESS')
                refused.add(file);
    }
    return refused;
}

const kept = new Map(renew ? [] : fs.readFileSync(table, 'utf8').split('\n').filter(Boolean).map(line => {
    const [sum, name] = line.split(/ (.*)/);
    return [name, sum];
}));
const sums = new Map();

const OK = '0', BAD_DATA = '1', CANNOT_READ = '2'; // of sw_status
async function judge(kind) {
    const work = path.join(build, 'tests/edges', kind), host = path.join(work, 'host');
    fs.rmSync(work, { recursive: true, force: true });
    fs.cpSync(`${here}/host`, host, { recursive: true });
    const limits = limitsOf(JSON.parse(fs.readFileSync(`catalog/schemas/${kind}.schema.json`)));
    const seen = new Set(), all = [];
    const cases = fs.readdirSync(`${here}/cases/${kind}`).filter(name => name.startsWith('good-')).sort();
    const wholes = cases.map(name => JSON.parse(fs.readFileSync(`${here}/cases/${kind}/${name}`)));
    const objects = wholes.flatMap(whole => [...placesOf(whole)].map(at => at.value))
        .filter(of => of !== null && typeof of === 'object' && !Array.isArray(of));
    for (const whole of wholes) {
        for (const at of placesOf(whole)) {
            if (seen.has(at.name))
                continue;
            seen.add(at.name);
            if (seen.size % nth !== 0)
                continue;
            for (const value of edgesOf(at.value, limits, objects)) {
                const copy = path.join(work, `${all.length}.json`);
                fs.writeFileSync(copy, JSON.stringify(changed(whole, at.at, value)));
                all.push({ copy, place: `${kind} ${at.name}`, value: JSON.stringify(value).slice(0, 80) });
            }
        }
    }
    const done = await run(tool, of(kind), host, all.map(one => `${one.copy}\n`).join(''));
    const lines = done.out.split('\n');
    verdict(`${kind}: ${tool}`, done.code === 0 && lines.length === all.length + 1 ? [] : [`code ${done.code}, ${lines.length - 1} of ${all.length} answers: ${done.err.slice(0, 300)}`]);
    const refused = await refusedBySchema(kind, all.map(one => one.copy));
    const said = new Map();
    all.forEach(({ copy, place, value }, i) => {
        const [status, count, ...texts] = (lines[i] ?? '').split('\t');
        const good = status === OK;
        said.set(place, (said.get(place) ?? createHash('sha256')).update(`${lines[i]}\n`));
        verdict(`${place} = ${value}`, [
            ...(good || status === BAD_DATA || (status === CANNOT_READ && place === 'scenario $.catalog') ? [] : [`status ${status}`]),
            ...((count === '0') === good ? [] : [`${count} complaints with status ${status}`]),
            ...(texts.every((text, t) => text !== '' || t % 5 === 1) ? [] : [`a complaint lacks a part: ${texts.join(' | ')}`]),
            ...(good && refused.has(copy) ? ['is taken, and the schema refuses it'] : []),
        ]);
    });
    for (const [place, sum] of said)
        sums.set(place, sum.digest('hex').slice(0, 12));
    fs.rmSync(work, { recursive: true, force: true });
}

// The price list's confirmations are read with a list only.
const others = new Set(['patterns', 'confirmed']);
const waiting = fs.readdirSync(`${here}/cases`).filter(kind => !others.has(kind) && (!only || kind === only));
await Promise.all(cpus().map(async () => {
    while (waiting.length > 0)
        await judge(waiting.shift());
}));
if (renew)
    fs.writeFileSync(table, [...sums].sort().map(([name, sum]) => `${sum} ${name}\n`).join(''));
else
    for (const [name, sum] of sums)
        verdict(name, kept.get(name) === sum ? [] : [kept.has(name) ? 'other words than before' : 'is new: edges.sums lacks it']);
for (const name of renew || nth !== 1 || only ? [] : kept.keys())
    verdict(name, sums.has(name) ? [] : ['was not tried']);
console.log(`${passed} passed, ${failed} failed`);
process.exit(failed === 0 && passed > 0 ? 0 : 1);
