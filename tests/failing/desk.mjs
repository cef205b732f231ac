// The desk while memory is refused: each step of a sitting, with each request for memory refused, once and from
// then on.
//
//     node tests/failing/desk.mjs [--whole] [--from K]     (quick: one request in many; whole: each, of the shipped catalog some)
//
// Refused once: the desk goes on; the step that was refused says so (500), or answers as ever; asked again it answers as if
// nothing had been, and so do all behind it. From then on: no crash, each answer is the usual one or says so. In
// both: no file is torn, and a sitting that ends leaves nothing behind.
import fs from 'node:fs';
import path from 'node:path';
import { spawnSync } from 'node:child_process';
import { Desk } from '../desk/client.mjs';
import { build, finish, shipped, shim, verdict } from './tools.mjs';

const tool = path.resolve(build, 'tests/desk-steps-small');
const work = path.resolve(build, 'tests/failing/desk');
const whole = process.argv.includes('--whole');
const from = process.argv.includes('--from') ? Number(process.argv[process.argv.indexOf('--from') + 1]) : 1;
const folder = path.join(work, 'sitting');
const tray = path.join(work, 'tray');

const base64 = (file) => fs.readFileSync(path.join(shipped, file)).toString('base64');

// Each step's body is made from the sheet's id.
const sittings = [
  {
    name: 'changes', refused: 'nothing 404,change 409', job: path.join(work, 'drawn/scenario.json'), stride: whole ? 1 : 211,
    steps: [
      ['open', () => ({})],
      ['change', (sheet) => ({ sheet, revision: 1, set: ['budget.total=321', 'wishes.weights.speed=2'] })],
      ['difference', (sheet) => ({ sheet })],
      ['undo', (sheet) => ({ sheet, revision: 2 })],
      ['change', (sheet) => ({ sheet, revision: 3, set: ['budget.total=lots'] })],
      ['change', (sheet) => ({ sheet, revision: 4, set: ['budget.total=123'] })],
      ['save', (sheet) => ({ sheet, revision: 5, file: 'mine.json' })],
      ['save', (sheet) => ({ sheet, revision: 5 })],
      ['tray', (sheet) => ({ sheet, name: 'a note.txt', part: 1, of: 1, data: 'Zm9v' })],
      ['tray', (sheet) => ({ sheet, drop: 'a note.txt' })],
      ['nothing', (sheet) => ({ sheet })],
      ['change', (sheet) => ({ sheet, revision: 1, set: ['budget.total=1'] })],
      ['open', (sheet) => ({ sheet })],
    ],
  },
  {
    name: 'intake', refused: '', job: path.join(shipped, 'scenarios/good-enough.json'), stride: whole ? 397 : 14983,
    steps: [
      ['open', () => ({})],
      ['machine', (sheet) => ({ sheet, revision: 1, role: 'cooler', parts: ['hushmere-tower-3'] })],
      ['tray', (sheet) => ({ sheet, name: 'list.csv', part: 1, of: 1, data: base64('scenarios/lists/millrace-week.csv') })],
      ['prices', (sheet) => ({ sheet, file: 'list.csv', profile: 'millrace-week' })],
      ...fs.readdirSync('scenarios/first-look').filter((name) => fs.statSync(`scenarios/first-look/${name}`).size < 33000)
        .map((name) => ['tray', (sheet) => ({ sheet, name, part: 1, of: 1, data: base64(`scenarios/first-look/${name}`) })]),
      ['dumps', (sheet) => ({ sheet, revision: 2, files: fs.readdirSync('scenarios/first-look').filter((name) => fs.statSync(`scenarios/first-look/${name}`).size < 33000) })],
      ['interview', (sheet) => ({ sheet, answers: [] })],
      ['difference', (sheet) => ({ sheet })],
    ],
  },
];

const lay = (sitting) => {
  for (const at of [folder, tray]) {
    fs.rmSync(at, { recursive: true, force: true });
    fs.mkdirSync(at, { recursive: true });
  }
  const job = JSON.parse(fs.readFileSync(sitting.job, 'utf8'));
  job.catalog = path.resolve(path.dirname(sitting.job), job.catalog);
  fs.writeFileSync(path.join(folder, 'job.json'), JSON.stringify(job));
};

// What was said, with the sheet's id, which is drawn, as "SHEET".
const plain = (answer, sheet) => `${answer.status} ${sheet === null ? answer.text : answer.text.replaceAll(sheet, 'SHEET')}`;
const files = () => fs.readdirSync(folder).filter((name) => fs.statSync(`${folder}/${name}`).isFile()).sort()
  .map((name) => [name, fs.readFileSync(path.join(folder, name), 'utf8')]);

// One sitting: what each step answered, those that were refused also when they are asked again.
async function sit(sitting, env) {
  lay(sitting);
  const desk = new Desk(tool, ['--scenario', path.join(folder, 'job.json'), '--temporary', tray],
    { ...env, LD_PRELOAD: shim }, 'ignore');
  const said = [];
  let sheet = null;
  for (const [name, body] of sitting.steps) {
    const once = await desk.ask(name, body(sheet ?? 'none'));
    let again = null;
    if (once !== null && once.status === 500) again = await desk.ask(name, body(sheet ?? 'none'));
    const last = again ?? once;
    if (name === 'open' && sheet === null) sheet = last?.json?.sheet ?? null;
    said.push({ name, first: once && plain(once, sheet), last: last && plain(last, sheet), refused: again !== null });
    if (last === null) break;
  }
  const end = await desk.end();
  return { said, end, files: files(), left: fs.readdirSync(tray) };
}

const tellsOfMemory = (text) => /^500 (\{"schema":"swapworth-desk-1",.*memory.*\}\s*)?$/s.test(text);

// From where they differ.
const apart = (one, other) => {
  let at = 0;
  while (at < (one ?? '').length && one[at] === other?.[at]) at++;
  return `"${(one ?? 'nothing').slice(Math.max(0, at - 30), at + 120)}"`;
};

function judge(sitting, right, got, at, lasts) {
  const name = `${sitting.name}: request ${at}${lasts ? ' and all after it' : ''}`;
  const kind = `${sitting.name}, ${lasts ? 'from then on' : 'once'}`;
  const faults = [];
  if (got.end.signal !== null || ![0, 70].includes(got.end.code)) faults.push(`ended with ${got.end.code} ${got.end.signal}`);
  for (const [i, step] of got.said.entries()) {
    if (step.last === null && got.end.code === 70) break; // the tool's own memory
    const due = right.said[i].last;
    // Behind a step that was refused for good its work is missing: what leans on it is refused, never done otherwise.
    const leans = got.said.slice(0, i).some((one) => one.refused);
    if (lasts ? ![step.first, step.last].every((text) => text === due || tellsOfMemory(text) || (leans && /^4\d\d /.test(text))) :
      !(step.last === due && (step.first === due || tellsOfMemory(step.first))))
      faults.push(`step ${i + 1}, ${step.name}: ${step.refused ? `${step.first.slice(0, 200)} then ${apart(step.last, due)}` : apart(step.first, due)}, not ${apart(due, step.refused ? step.last : step.first)}`);
  }
  // Each file is the one before or the one after a save.
  for (const [file, text] of got.files) {
    const whole = right.files.find(([one]) => one === file)?.[1];
    if (text !== whole && !(file === 'job.json' && text === right.before)) faults.push(`${file} is another file`);
  }
  if (!lasts && got.end.code === 0 && got.left.length > 0) faults.push(`leaves ${got.left}`);
  verdict(faults.length === 0, kind, `${name}: ${faults.join('; ').slice(0, 900)}`);
}

fs.mkdirSync(work, { recursive: true });
fs.rmSync(path.join(work, 'drawn'), { recursive: true, force: true });
spawnSync(path.resolve(build, 'tests/generate'), ['2', path.join(work, 'drawn'), '--options']);
for (const sitting of sittings) {
  const count = path.join(work, 'count');
  fs.rmSync(count, { force: true });
  const right = await sit(sitting, { FAILING_WHAT: 'alloc', FAILING_COUNT: count });
  lay(sitting);
  right.before = fs.readFileSync(path.join(folder, 'job.json'), 'utf8');
  verdict(right.end.code === 0 && right.left.length === 0 && right.said.every((step) => !step.refused), `${sitting.name}: as usual`, JSON.stringify(right.said));
  const refused = right.said.filter((step) => !step.last.startsWith('200 ')).map((step) => `${step.name} ${step.last.slice(0, 3)}`).join();
  verdict(refused === sitting.refused, `${sitting.name}: what is refused as usual`, refused);
  const calls = Number(/\d+/.exec(fs.readFileSync(count, 'utf8'))?.[0]);
  const begun = Date.now();
  let tried = 0;
  for (let at = from; at <= calls; at += at < 40 ? 1 : sitting.stride)
    for (const lasts of [false, true]) {
      judge(sitting, right, await sit(sitting, { FAILING_WHAT: 'alloc', FAILING_AT: String(at), FAILING_AS: lasts ? '1' : '0' }), at, lasts);
      tried++;
    }
  console.log(`${sitting.name}: ${calls} requests, ${tried} refusals, ${Date.now() - begun} ms`);
}
finish();
