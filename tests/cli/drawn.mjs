// Every report over random jobs, as text, JSON, CSV, page and picture.
//
//     node tests/cli/drawn.mjs FIRST COUNT
//     node tests/cli/drawn.mjs 1 12 --renew     writes drawn.sums anew: look at what changed before
//
// What holds of each, whatever the job: the exit code is that of an answer and the same in every form;
// nothing on standard error; text in at most 80 columns, JSON that parses, nothing printed that stands for
// a value which is not there; and the money and the names that the JSON has of the bundles are in the text. And of the jobs of drawn.sums: each output is,
// to the byte, what it was when somebody last looked at it (what was cut short by the time is left out).
import fs from 'node:fs';
import path from 'node:path';
import { createHash } from 'node:crypto';
import { spawnSync } from 'node:child_process';

const [first, count] = process.argv.slice(2, 4).map(Number);
const renew = process.argv[4] === '--renew';
const build = process.env.BUILD ?? 'build';
const program = path.resolve(process.env.SWAPWORTH ?? path.join(build, 'swapworth'));
const generate = path.resolve(build, 'tests/generate');
const work = path.resolve(build, 'tests/drawn');

let passed = 0;
let failed = 0;
const verdict = (name, faults) => {
  if (faults.length === 0) {
    passed++;
    return;
  }
  failed++;
  if (failed <= 20) console.log(`FAILED ${name}: ${faults.join('; ').slice(0, 600)}`);
};

// What each command put out: the first digits of its SHA-256.
const table = 'tests/cli/drawn.sums';
const kept = new Map((renew ? '' : fs.readFileSync(table, 'utf8')).split('\n').filter(Boolean).map((l) => {
  const [sum, name] = l.split(/ (.*)/);
  return [name, sum];
}));
const sums = new Map();
const keep = (words, code, text) => {
  const name = words.map((w) => w.replace(`${work}/`, '')).join(' ');
  sums.set(name, code === 2 ? null : createHash('sha256').update(text).digest('hex').slice(0, 12));
};

const run = (words) => {
  const done = spawnSync(program, words, { cwd: work, encoding: 'utf8', timeout: 120000, maxBuffer: 1 << 26 });
  keep(words, done.status, `${done.status}\n${done.stdout}\n${done.stderr}`);
  return { code: done.status, out: done.stdout, err: done.stderr };
};

// What a missing value, number or text looks like when it is printed all the same.
const HOLES = /\(null\)|\bnan\b|-nan|\binf\b|NaN|undefined|9223372036854775807|-2147483648|%[sdl]/;

const faultsOf = (done, codes) => {
  const faults = [];
  if (!codes.includes(done.code)) faults.push(`exit code ${done.code}`);
  if (done.err !== '') faults.push(`standard error says ${done.err.slice(0, 200)}`);
  if (done.out === '' || !done.out.endsWith('\n')) faults.push('does not end with a line');
  const hole = HOLES.exec(done.out);
  if (hole) faults.push(`prints ${hole[0]}: ${done.out.slice(Math.max(0, hole.index - 60), hole.index + 60)}`);
  return faults;
};

const textFaults = (text) => {
  const long = text.split('\n').find((line) => [...line].length > 80);
  return long === undefined ? [] : [`a line of ${[...long].length} columns: ${long}`];
};

const parsed = (text) => {
  try {
    return JSON.parse(text);
  } catch (error) {
    return { wrong: error.message };
  }
};

// Blanks and line ends of a text are laid out, its words are not.
const plain = (text) => text.replace(/\s+/g, ' ');

const told = (json) => (json.bundles ?? []).flatMap((b) => [
  b.cost, ...(b.swaps ?? []).flatMap((s) => (s.in ?? []).map((p) => p.name)),
]).filter((x) => typeof x === 'string');

const both = (name, words, codes, more = () => []) => {
  const text = run(words);
  const json = run([...words, '--json']);
  const of = parsed(json.out);
  const faults = [...faultsOf(text, codes), ...textFaults(text.out), ...faultsOf(json, codes)];
  if (text.code !== json.code) faults.push(`exit code ${text.code} as text, ${json.code} as JSON`);
  if (of.wrong !== undefined) faults.push(`no JSON: ${of.wrong}`);
  else if (of.schema !== 1) faults.push(`schema ${of.schema}`);
  verdict(name, [...faults, ...more(plain(text.out), of)]);
  return of;
};

const inText = (text, json) =>
  told(json).filter((x) => !text.includes(plain(x))).map((x) => `the text lacks ${x}, which the JSON has`);

const file = (name, words, made, codes) => {
  fs.rmSync(path.join(work, made), { force: true });
  const done = run(words);
  const faults = codes.includes(done.code) ? [] : [`exit code ${done.code}: ${done.err.slice(0, 200)}`];
  const text = fs.existsSync(path.join(work, made)) ? fs.readFileSync(path.join(work, made), 'utf8') : '';
  keep([...words, made], done.code, text);
  if (!/<\/(html|svg)>\s*$/.test(text)) faults.push(`${made} does not come to its end`);
  const hole = /\(null\)|>-?nan|="-?nan|"-?inf"/.exec(text);
  if (hole) faults.push(`${made} holds ${hole[0]}`);
  verdict(name, faults);
};

// A listing of the order gone, then a price of it moved: what is left of the option, each way that is offered
// taken, and each that is not refused.
const WAYS = ['same', 'least', 'anew'];
const judgeGone = (tag, job, words, order) => {
  const line = order.lines[0];
  for (const change of [['--gone', `${line.part}@${order.seller}`], ['--gone', line.part],
    ['--set', `quotes.${line.part}@${order.seller}.price=${Math.ceil(Number(line.price_each) * 1.5) + 1}`]]) {
    const told = both(`${tag}: ${change.join(' ')}`, [...words, ...change], [0, 1, 2], (text, json) => [
      ...(json.changed === true || json.status !== 'optimal' ? [] : ['nothing is said to have changed']),
      ...(json.ways ?? []).filter((w) => !text.includes(w.cost ?? '')).map((w) => `the text lacks the way ${w.way}`),
    ]);
    const offered = (told.ways ?? []).map((w) => w.way);
    for (const way of WAYS) {
      const name = `${tag}: ${change.join(' ')} --take ${way}`;
      // Ways that come to the same are told once: another of them then is taken by the first one's name.
      const done = run([...words, ...change, '--take', way, '--json']);
      if (offered.includes(way)) verdict(name, done.code === 0 && parsed(done.out).taken === way ? [] : [`exit code ${done.code}, takes ${done.out.slice(0, 100)}`]);
      else if (told.unsettled !== true && told.status === 'optimal' && offered.length > 0)
        verdict(name, (done.code === 64 && parsed(done.out).taken === undefined && done.err.includes('--take')) ||
          (done.code === 0 && offered.includes(parsed(done.out).taken)) ? [] : [`exit code ${done.code}, says ${done.err.slice(0, 200)}`]);
      if (done.code === 0) verdict(`${name}, as text`, [...faultsOf(run([...words, ...change, '--take', way]), [0]),
        ...faultsOf(run([...words, ...change, '--take', way, '--csv']), [0])]);
    }
  }
};

// What was measured: fair, poor and nothing in turn; a task left out, where there is one.
const judgeHandover = (tag, job, option, checks, of) => {
  const value = (check, i) => (check.of === 'done' ? { done: i % 4 !== 1 }
    : { value: Math.round(1000 * (i % 3 === 1 ? Number(check.low ?? check.high ?? 1) * 0.5 : Number(check.foretold ?? check.low ?? check.high ?? 1))) / 1000 });
  const list = checks.map((check, i) => ({ check: check.check, ...(check.use && { use: check.use }), ...value(check, i) }));
  const after = list.filter((_, i) => i % 5 !== 4);
  const tasks = of.bundle.tasks.map((task) => task.id);
  for (const leftOut of tasks.length > 0 ? [[], tasks.slice(0, 1)] : [[]]) {
    const measured = { schema: 1, job: 'drawn', date: '2027-01-31', left_out: leftOut, after,
      before: list.filter((check) => check.value !== undefined).slice(0, 2), notes: ['Nothing was opened.', 'A second note.'] };
    fs.writeFileSync(path.join(work, 'measured.json'), JSON.stringify(measured));
    const words = ['handover', job, '--option', option, '--measured', 'measured.json', '--seconds', '60'];
    // A check of a task that was left out is no check of this job any more.
    const done = run(words);
    if (leftOut.length > 0 && done.code === 65 && done.err.includes('which this job has not')) continue;
    both(`${tag}${leftOut.length > 0 ? ' without a task' : ''}`, words, [0, 1, 2], (text) =>
      (measured.notes.every((note) => text.includes(note)) ? [] : ['a note is not told']));
    file(`${tag}: page`, [...words, '-o', 'handover.html'], 'handover.html', [0, 1, 2]);
  }
};

// Prices a thousand times as high: what a point costs then has many digits, and little comes of a hundred.
const judgeDear = (tag, folder, scenario) => {
  const dear = `${folder}-dear`;
  fs.rmSync(dear, { recursive: true, force: true });
  fs.cpSync(folder, dear, { recursive: true });
  const [head, ...rows] = fs.readFileSync(path.join(folder, 'listings.csv'), 'utf8').trim().split('\n').map((line) => line.split(','));
  const at = head.indexOf('price');
  for (const row of rows) row[at] = (Number(row[at]) * 1000).toFixed(scenario.currency === 'JPY' ? 0 : 2);
  fs.writeFileSync(path.join(dear, 'listings.csv'), [head, ...rows].map((row) => `${row.join(',')}\n`).join(''));
  const job = path.join(dear, 'scenario.json');
  fs.writeFileSync(job, JSON.stringify({ ...scenario, budget: { ...scenario.budget, total: '999999' } }));
  both(`${tag}: dear curve`, ['curve', job, '--seconds', '60'], [0, 1, 2]);
  file(`${tag}: dear picture`, ['curve', job, '--svg', 'curve.svg', '-o', 'curve.txt', '--seconds', '60'], 'curve.svg', [0, 1, 2]);
};

const judge = (seed, how) => {
  const folder = path.join(work, String(seed));
  fs.rmSync(folder, { recursive: true, force: true });
  const made = spawnSync(generate, [String(seed), folder, ...how]);
  if (made.status !== 0) return verdict(`${seed}: generate`, [String(made.stderr)]);
  const job = path.join(folder, 'scenario.json');
  const scenario = JSON.parse(fs.readFileSync(job));
  const parts = JSON.parse(fs.readFileSync(path.join(folder, 'parts/parts.json'))).parts;
  const held = new Set(Object.values(scenario.machine).flat().map((p) => p.part));
  const offered = parts.map((p) => p.id).filter((id) => !held.has(id));
  const part = offered[seed % offered.length];
  // As many of it as its role takes at once, at least.
  const { role } = parts.find((p) => p.id === part);
  const { counts = [1] } = JSON.parse(fs.readFileSync(path.join(folder, 'roles.json'))).roles.find((r) => r.role === role);
  const tag = `seed ${seed}`;
  const seconds = ['--seconds', '60'];
  const ANSWERED = [0, 1, 2];
  const plan = both(`${tag}: plan`, ['plan', job, '--best', '4', ...seconds], ANSWERED, inText);
  both(`${tag}: plan apart`, ['plan', job, '--best', '3', '--apart', '2', '--brief'], ANSWERED, inText);
  both(`${tag}: plan without money`, ['plan', job, '--budget', '0', ...seconds], ANSWERED, inText);
  both(`${tag}: curve`, ['curve', job, ...seconds], ANSWERED);
  both(`${tag}: foot of the curve`, ['curve', job, '--to', scenario.budget.total, ...seconds], ANSWERED);
  verdict(`${tag}: curve --csv`, faultsOf(run(['curve', job, '--csv', ...seconds]), ANSWERED));
  const options = both(`${tag}: options`, ['options', job, ...seconds], ANSWERED);
  both(`${tag}: look`, ['look', job], [0]);
  both(`${tag}: explain`, ['explain', job], [0]);
  both(`${tag}: explain a part`, ['explain', job, part], [0, 1]);
  both(`${tag}: fits`, ['fits', job, ...Array(counts[0]).fill(part)], ANSWERED);
  both(`${tag}: fits today`, ['fits', job], ANSWERED);
  both(`${tag}: why`, ['why', job, part, ...seconds], ANSWERED);
  const other = offered.find((id) => id !== part && parts.find((p) => p.id === id).role === role);
  if (other) both(`${tag}: why over`, ['why', job, part, '--over', other, ...seconds], ANSWERED);
  if (held.size > 0) both(`${tag}: why what is there`, ['why', job, [...held][seed % held.size], ...seconds], ANSWERED);
  both(`${tag}: first`, ['first', job, ...seconds], ANSWERED);
  both(`${tag}: ranges`, ['ranges', job, ...seconds], ANSWERED);
  both(`${tag}: what if`, ['whatif', job, '--set', `budget.total=${scenario.budget.total},0,1`, ...seconds], ANSWERED);
  both(`${tag}: what if not`, ['whatif', job, '--set', `wishes.avoid.${part}=yes`, ...seconds], ANSWERED);
  both(`${tag}: sure`, ['sure', job, '--seconds', '20'], ANSWERED);
  both(`${tag}: sure of the options`, ['sure', job, '--options', '--prices', '0', '--estimates', '0', '--seconds', '20'], ANSWERED);
  both(`${tag}: map`, ['map', job, '--seconds', '20'], ANSWERED);
  both(`${tag}: ask-next`, ['ask-next', job, '--seconds', '20'], ANSWERED);
  file(`${tag}: picture of the curve`, ['curve', job, '--svg', 'curve.svg', '-o', 'curve.txt', ...seconds], 'curve.svg', ANSWERED);
  file(`${tag}: picture of the map`, ['map', job, '--svg', 'map.svg', '-o', 'map.txt', '--seconds', '20'], 'map.svg', ANSWERED);
  judgeDear(tag, folder, scenario);
  file(`${tag}: page`, ['options', job, '-o', 'page.html', ...seconds], 'page.html', ANSWERED);
  if (plan.status !== 'optimal' || !how.includes('--bench')) return;
  for (const option of (options.options ?? []).map((_, at) => String(at + 1))) {
    const words = ['shopping', job, '--option', option, ...seconds];
    const { orders: all = [] } = both(`${tag}: shopping ${option}`, words, ANSWERED);
    const orders = all.filter((o) => o.seller !== 'client');
    if (orders.length > 0) judgeGone(`${tag}: shopping ${option}`, job, words, orders[seed % orders.length]);
    file(`${tag}: bench ${option}`, ['bench', job, '--option', option, '-o', 'bench.html', ...seconds], 'bench.html', ANSWERED);
    const { checks = [] } = both(`${tag}: bench ${option}`, ['bench', job, '--option', option, ...seconds], ANSWERED);
    if (checks.length > 0) judgeHandover(`${tag}: handover ${option}`, job, option, checks, options.options[option - 1]);
  }
};

fs.mkdirSync(work, { recursive: true });
const kinds = [['--options', '--bench'], ['--tight'], ['--rich'], ['--options', '--bench', '--waivers'], ['--crowded']];
for (let seed = first; seed < first + count; seed++) judge(seed, kinds[seed % kinds.length]);
// The pages and pictures of jobs with names, words and cautions that the drawn ones have not.
const shipped = (name) => path.relative(work, path.resolve('scenarios', `${name}.json`));
for (const name of first === 1 ? ['saver-box', 'good-enough'] : []) {
  file(`${name}: page`, ['options', shipped(name), '-o', 'page.html', '--seconds', '60'], 'page.html', [0, 2]);
  file(`${name}: bench`, ['bench', shipped(name), '--option', '1', '-o', 'bench.html', '--seconds', '60'], 'bench.html', [0, 2]);
  file(`${name}: picture`, ['curve', shipped(name), '--svg', 'curve.svg', '-o', 'curve.txt', '--seconds', '60'], 'curve.svg', [0, 2]);
}
if (first === 1) file('saver-box: map', ['map', shipped('saver-box'), '--svg', 'map.svg', '-o', 'map.txt', '--seconds', '60'], 'map.svg', [0, 2]);
if (renew) fs.writeFileSync(table, [...sums].filter(([, sum]) => sum).map(([name, sum]) => `${sum} ${name}\n`).join(''));
const seedOf = (name) => Number(/(?:^| )(\d+)(?:-dear)?\/scenario\.json/.exec(name)?.[1]);
for (const [name, sum] of renew ? [] : kept)
  if ((Number.isNaN(seedOf(name)) ? first === 1 : seedOf(name) >= first && seedOf(name) < first + count) && sums.get(name) !== null)
    verdict(name, sums.get(name) === sum ? [] : [sums.has(name) ? 'puts out other bytes than before' : 'was not asked']);
console.log(`${passed} passed, ${failed} failed`);
process.exit(failed === 0 && passed > 0 ? 0 : 1);
