// check.mjs FIRST COUNT | --self-test: random jobs translated into MiniZinc and solved by Gecode; the
// best bundle of `plan` must be the same one: points, cost, parts, sellers, tasks. Every third job is
// asked again with just the money for its best bundle.
//   BUILD  the build folder (default: build); SWAPWORTH the program
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { FAULTS } from './faults.mjs';
import { readJob } from './job.mjs';
import { solveJob } from './solve.mjs';

const build = process.env.BUILD ?? 'build';
const program = process.env.SWAPWORTH ?? join(build, 'swapworth');
const work = mkdtempSync(join(tmpdir(), 'cross-'));

function draw(seed) {
  const folder = join(work, 'job');
  rmSync(folder, { recursive: true, force: true });
  const told = spawnSync(join(build, 'tests/generate'), [String(seed), folder, '--size', 'small']);
  if (told.status !== 0) throw new Error(`seed ${seed}: not generated`);
  return folder;
}

function planned(folder) {
  const told = spawnSync(program, ['plan', join(folder, 'scenario.json'), '--json', '--seconds', '120'],
    { encoding: 'utf8', maxBuffer: 1 << 28 });
  if (told.status > 1) throw new Error(`plan ended with ${told.status}: ${told.stderr}`);
  const answer = JSON.parse(told.stdout);
  if (told.status === 1 || answer.status !== 'optimal') return { fits: false };
  const bundle = answer.bundles[0], minor = (text) => Number(text.replace('.', ''));
  const pieces = (list, sold) => list.map((p) => `${p.part} x${p.count}${sold ? '' : ` of ${p.seller}`}`).sort().join(', ');
  return { fits: true, points: Math.round(Number(bundle.points) * 1000), cost: minor(bundle.cost),
    swaps: bundle.swaps.map((s) => `${s.role}: out ${pieces(s.out, true)}; in ${pieces(s.in, false)}`).sort().join('\n'),
    tasks: bundle.tasks.map((t) => t.id).sort().join(' ') };
}

function solved(folder, plant) {
  const world = readJob(folder);
  plant?.(world);
  const best = solveJob(world, folder);
  if (!best) return { fits: false };
  const swaps = [...best.at.values()].filter((c) => c.changed).map((c) => {
    const out = c.role.present.map((p, i) => [p.id, p.count - c.kept[i]]).filter(([, n]) => n > 0);
    return `${c.role.id}: out ${out.map(([id, n]) => `${id} x${n}`).sort().join(', ')}; in ${
      c.lines.map((l) => `${l.part} x${l.count} of ${l.seller}`).sort().join(', ')}`;
  });
  return { fits: true, points: best.points, cost: best.cost, swaps: swaps.sort().join('\n'),
    tasks: [...best.at.values()].flatMap((c) => c.tasks.map((t) => t.id)).sort().join(' ') };
}

/** What differs, or null. */
function difference(a, b) {
  for (const name of ['fits', 'points', 'cost', 'swaps', 'tasks'])
    if (a[name] !== b[name]) return `${name}: MiniZinc ${a[name]}, the program ${b[name]}`;
  return null;
}

/** Leaves just the money for the best bundle. */
function tighten(folder, answer) {
  const file = join(folder, 'scenario.json'), job = JSON.parse(readFileSync(file, 'utf8'));
  const digits = { EUR: 2, JPY: 0, TND: 3 }[job.currency];
  job.budget = { total: (answer.cost / 10 ** digits).toFixed(digits) };
  writeFileSync(file, JSON.stringify(job));
}

/** How the two answers differ on a job, with a fault PLANTed in the translator's or a CHANGE of the program's. */
function check(seed, { plant, change = (a) => a, tight = false }) {
  const folder = draw(seed), answer = planned(folder);
  // A fault that is looked for with just the money is not looked for with more.
  const why = tight && plant ? null : difference(solved(folder, plant), change(answer));
  if (why || !tight || !answer.fits) return { why, answer };
  tighten(folder, answer);
  const again = difference(solved(folder, plant), change(planned(folder)));
  return { why: again && `with just the money for it: ${again}`, answer };
}

function checkAll(first, count) {
  let passed = 0, failed = 0, fitting = 0;
  for (let seed = first; seed < first + count; seed++) {
    try {
      const { why, answer } = check(seed, { tight: seed % 3 === 0 });
      fitting += answer.fits ? 1 : 0;
      if (why) throw new Error(why);
      passed++;
    } catch (error) {
      failed++;
      console.log(`seed ${seed}: ${error.message}`);
    }
  }
  console.log(`${fitting} of ${count} jobs have a best bundle`);
  return { passed, failed };
}

/** That a fault planted changes what was read of a job at all: where not, Gecode need not be asked. */
function changes(seed, plant) {
  const folder = draw(seed);
  const told = (world) => JSON.stringify(world, (_, v) => (v instanceof Map || v instanceof Set ? [...v] : v));
  const world = readJob(folder), before = told(world);
  plant(world);
  return told(world) !== before;
}

/** Each fault must be seen on one of the jobs at least. */
function selfTest() {
  let passed = 0, failed = 0;
  for (const { name, seeds, ...fault } of FAULTS) {
    const seen = seeds.find((seed) => (!fault.plant || changes(seed, fault.plant)) && check(seed, fault).why);
    if (seen === undefined) console.log(`not seen: ${name}`);
    else console.log(`${name}: seen on job ${seen}`);
    if (seen === undefined) failed++;
    else passed++;
  }
  return { passed, failed };
}

const [, , first, count] = process.argv;
let told;
try {
  told = first === '--self-test' ? selfTest() : checkAll(Number(first), Number(count));
} finally {
  rmSync(work, { recursive: true, force: true });
}
console.log(`${told.passed} passed, ${told.failed} failed`);
process.exit(told.failed ? 1 : 0);
