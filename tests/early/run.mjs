// Every question stopped at many moments of its work, by whoever waits and by the clock, on random jobs.
//
//     node tests/early/run.mjs FIRST COUNT [STOPS]     (STOPS: moments of each question, default 12)
//     node tests/early/run.mjs --renew FIRST COUNT     what blind.sums holds of these jobs
//     node tests/early/run.mjs --self-test
//
// What holds of each: it answers, without a complaint; what does not say that it was cut short is the whole
// answer, to the byte; what says it was says so as JSON and as text, and why. A plan that was cut short is never
// better than the best, costs no more than there is, and its bound holds. Nothing is printed that stands for a
// value which is not there; pages and pictures come to their end. Without a clock nodes stand for the time, so that
// each run gives the same: blind.sums holds it to the byte, bounds and all, which says that something changed, not
// what is right (of jobs as a generator built with gcc draws them).
import fs from 'node:fs';
import path from 'node:path';
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';

const build = process.env.BUILD ?? 'build';
const program = path.resolve(process.env.SWAPWORTH ?? path.join(build, 'swapworth'));
// Both ways to run may be at work at once.
const work = path.resolve(build, 'tests', process.argv[2] === '--self-test' ? 'early-spoilt' : 'early-work');
const HOLES = /\(null\)|\bnan\b|-nan|\binf\b|NaN|undefined|9223372036854775807|-2147483648|%[sdl]/;

let passed = 0;
let failed = 0;
let seen = 0; // by the self-test
let silent = false;
const verdict = (name, faults) => {
  if (faults.length === 0) passed++;
  else {
    failed++;
    if (!silent && failed <= 20) console.log(`FAILED ${name}: ${faults.join('; ').slice(0, 500)}`);
  }
};

const plain = (text) => text.replace(/\s+/g, ' ');
const points = (bundle) => Math.round(Number(bundle.points) * 1000);

// What a plan says while it is not settled, against what the whole one says.
const faultsOfPlan = (json, whole) => {
  const faults = [];
  const [mine, best] = [json.bundles?.[0], whole.bundles?.[0]];
  // Points count from the cheapest bundle: another one that was found so far, and they cannot be compared.
  if (JSON.stringify(json.baseline) !== JSON.stringify(whole.baseline)) return faults;
  if (json.status === 'optimal' && mine && points(mine) !== points(best)) faults.push('is called the best, and is not');
  if (json.status === 'nothing-fits' && best) faults.push('says that nothing fits');
  if (mine && !best) faults.push('a bundle where there is none');
  if (mine && best && points(mine) > points(best)) faults.push('more points than the best');
  if (mine && Number(mine.cost) > Number(json.budget)) faults.push('costs more than there is');
  if (json.status === 'stopped-early' && json.bound !== null && json.bound !== undefined && best &&
    Math.round(Number(json.bound) * 1000) < points(best)) faults.push(`a bound of ${json.bound} where there are ${best.points}`);
  return faults;
};

// Where an answer says that something of it is open.
const isCut = (json) => json.unsettled === true || json.status === 'stopped-early' ||
  (json.verified !== undefined && json.verified.verdict !== 'all') ||
  (json.options ?? []).some((option) => option.stays === null) ||
  Object.entries(json).some(([name, value]) => /(^|_)complete$/.test(name) && value === false);

const judge = (tag, line, whole) => {
  const name = `${tag}: ${line.question} stopped after ${line.after}, ${line.by}`;
  if (line.status !== 0 || line.complaints !== 0) return verdict(name, [`status ${line.status}, ${line.complaints} complaints`]);
  const faults = [];
  let json = {};
  try {
    json = JSON.parse(line.json);
  } catch (error) {
    faults.push(`no JSON: ${error.message}`);
  }
  for (const what of ['text', 'json', 'picture']) {
    const shown = (line[what] ?? '').replace(/<script[^]*?<\/script>/g, '');
    const hole = HOLES.exec(shown);
    if (hole) faults.push(`${what} prints ${hole[0]}: ${shown.slice(Math.max(0, hole.index - 60), hole.index + 40)}`);
  }
  const long = line.text.split('\n').find((l) => [...l].length > 80);
  if (long) faults.push(`a line of ${[...long].length} columns`);
  const picture = line.picture ?? '';
  if (picture.startsWith('<') && !/<\/(html|svg)>\s*$/.test(picture)) faults.push('the page does not come to its end');
  const cut = isCut(json);
  if (!cut && line.json !== whole.json) faults.push('is not the whole answer and does not say so');
  if (!cut && line.text !== whole.text) faults.push('its text is not the whole one and JSON says nothing of it');
  if (cut && !/time ran out|stopped|not settle|not proved|proved again/i.test(plain(line.text)))
    faults.push(`the text does not say that it was cut short: ${plain(line.text).slice(0, 300)}`);
  if (cut && json.unsettled === true && json.stopped !== undefined && json.stopped !== line.by)
    faults.push(`says it was stopped by ${json.stopped}`);
  if (!line.has_clock && line.after === 0 && /^(plan|curve|first|whatif)$/.test(line.question) && !cut)
    faults.push('has no time at all, and no clock, and says nothing of it');
  if (line.question === 'plan' && cut) faults.push(...faultsOfPlan(json, JSON.parse(whole.json)));
  verdict(name, faults);
};

const draw = (seed) => {
  const folder = path.join(work, String(seed));
  fs.rmSync(folder, { recursive: true, force: true });
  const made = spawnSync(path.resolve(build, 'tests/generate'), [String(seed), folder, '--options', '--bench']);
  if (made.status !== 0) throw new Error(`no job of seed ${seed}: ${made.stderr}`);
  const file = path.join(folder, 'scenario.json');
  const job = JSON.parse(fs.readFileSync(file));
  const { date, budget: { total } } = job;
  job.phases = { until: `${Number(date.slice(0, 4)) + 1}${date.slice(4)}`,
    sums: [{ on: date, sum: total }, { on: `${Number(date.slice(0, 4)) + 1}${date.slice(4, 8)}01`, sum: total }] };
  fs.writeFileSync(file, JSON.stringify(job));
  const parts = JSON.parse(fs.readFileSync(path.join(folder, 'parts/parts.json'))).parts;
  const held = new Set(Object.values(job.machine).flat().map((p) => p.part));
  const offered = parts.filter((p) => !held.has(p.id));
  const part = offered[seed % offered.length];
  const other = offered.find((p) => p.role === part.role && p.id !== part.id) ?? parts.find((p) => p.role === part.role && p.id !== part.id);
  const done = spawnSync(program, ['shopping', file, '--option', '1', '--json'], { encoding: 'utf8' });
  const order = done.status === 0 ? JSON.parse(done.stdout).orders.find((o) => o.seller !== 'client') : undefined;
  const gone = order ? `${order.lines[0].part}@${order.seller}` : '-';
  return { folder, file, part: part.id, other: (other ?? part).id, gone };
};

const lines = (job, stops) => {
  const done = spawnSync(path.resolve(build, 'tests/early'), [job.file, job.part, job.other, job.gone, String(stops)],
    { encoding: 'utf8', maxBuffer: 1 << 30, timeout: 600000 });
  if (done.status !== 0) throw new Error(`early ${job.file}: ${done.status} ${done.signal} ${done.stderr}`);
  return done.stdout.trim().split('\n').map((line) => JSON.parse(line));
};

const sumsFile = path.join(import.meta.dirname, 'blind.sums');
const renews = process.argv[2] === '--renew';
const sums = new Map(fs.existsSync(sumsFile)
  ? fs.readFileSync(sumsFile, 'utf8').trim().split('\n').map((row) => [row.slice(0, row.lastIndexOf(' ')), row.slice(row.lastIndexOf(' ') + 1)]) : []);

const holdSum = (tag, line) => {
  // The linear solver, which proves again, has a clock of its own.
  if (/"verified":/.test(line.json ?? '')) return;
  const name = `${tag}: ${line.question} ${line.after}`;
  const sum = createHash('md5').update(JSON.stringify([line.status, line.json ?? '', line.text ?? ''])).digest('hex').slice(0, 12);
  if (renews) sums.set(name, sum);
  else if (sums.has(name)) verdict(`${name}: as blind.sums has it`, sums.get(name) === sum ? [] : ['says other things than before']);
};

const all = (tag, told) => {
  const whole = new Map();
  for (const line of told) {
    if (!line.has_clock) holdSum(tag, line);
    if (line.after < 0) {
      // The clock that never jumps and nobody who asks: one answer.
      if (whole.has(line.question)) verdict(`${tag}: ${line.question}, whole by the clock`, line.json === whole.get(line.question).json ? [] : ['another answer']);
      else whole.set(line.question, line);
    } else if (whole.get(line.question).status !== 0) {
      verdict(`${tag}: ${line.question} refused`, line.status === whole.get(line.question).status || line.status === 0 ? [] : [`status ${line.status}`]);
    } else judge(tag, line, whole.get(line.question));
  }
};

// What an answer that was cut short must not be able to say unseen.
const selfTest = () => {
  silent = true;
  const told = lines(draw(3), 8);
  const faults = {
    'says nothing of it': (l) => ({ ...l, json: l.json.replace('"unsettled":\ttrue', '"unsettled":\tfalse').replace('stopped-early', 'optimal') }),
    'says so in JSON alone': (l) => ({ ...l, text: l.text.replace(/time ran out|stopped|not settle|not proved|proved again/gi, 'well') }),
    'prints a hole': (l) => ({ ...l, text: `${l.text}\n(null)` }),
    complains: (l) => ({ ...l, complaints: 1 }),
    'ends its page early': (l) => ({ ...l, picture: l.picture?.startsWith('<') ? l.picture.slice(0, -20) : '<svg>' }),
    'has too low a bound': (l) => (l.question === 'plan' ? { ...l, json: l.json.replace(/"bound":\t"[^"]*"/, '"bound":\t"-99999.000"') } : l),
  };
  for (const [what, spoil] of Object.entries(faults)) {
    passed = failed = 0;
    all(what, told.map((l) => (l.after < 0 ? l : spoil(l))));
    if (failed > 0) seen++;
    else console.log(`FAILED a planted fault was not seen: ${what}`);
  }
  const count = Object.keys(faults).length;
  console.log(`${seen} passed, ${count - seen} failed`);
  process.exit(seen === count ? 0 : 1);
};

fs.mkdirSync(work, { recursive: true });
if (process.argv[2] === '--self-test') selfTest();
const [first, count, stops = 12] = process.argv.slice(renews ? 3 : 2).map(Number);
for (let seed = first; seed < first + count; seed++) {
  const job = draw(seed);
  all(`seed ${seed}`, lines(job, stops));
  fs.rmSync(job.folder, { recursive: true, force: true });
}
if (renews)
  fs.writeFileSync(sumsFile, [...sums].map(([name, sum]) => `${name} ${sum}\n`).join(''));
console.log(`${passed} passed, ${failed} failed`);
process.exit(failed === 0 && passed > 0 ? 0 : 1);
