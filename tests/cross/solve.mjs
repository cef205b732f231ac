// A job as a MiniZinc model, solved: the baseline, then the most points, then of those the least
// cost, fewest swaps, fewest tasks, then ids and sellers (FORMATS section 11).
import { spawnSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { labour, makeChoices, taxed } from './choices.mjs';
import { holds, roleOfCondition, NO } from './facts.mjs';
import { milli } from './job.mjs';
import { Model, any } from './model.mjs';
import { addPlaces, spareModel } from './place.mjs';
import { addQuiet, pointsOf, servesIn } from './points.mjs';
import { addRules } from './rules.mjs';

/** What MiniZinc says last, or null where nothing satisfies the model. */
function run(folder, name, text) {
  const file = join(folder, `${name}.mzn`);
  writeFileSync(file, text);
  const told = spawnSync('minizinc', ['--solver', 'gecode', '--time-limit', '120000', file],
    { encoding: 'utf8', maxBuffer: 1 << 28 });
  if (told.status !== 0) throw new Error(`minizinc: ${told.stderr.slice(0, 400)}${told.stdout.slice(0, 400)}`);
  if (told.stdout.includes('=====UNSATISFIABLE=====')) return null;
  const answers = told.stdout.split('----------').map((t) => t.trim());
  if (!told.stdout.includes('==========')) throw new Error(`minizinc did not come to its end: ${told.stdout.slice(-200)}`);
  return JSON.parse(answers.at(-2));
}

// ---- money and minutes ------------------------------------------------------------------------

function charges(model) {
  const { world } = model, costs = [], minutes = [];
  world.charges.forEach((charge, i) => {
    const due = any(charge.for_any.map((cond) => {
      const role = roleOfCondition(world, cond), is = (c) => holds(world, cond, c) !== NO;
      return role === null ? String(is(null)) : model.is(role, is);
    }));
    model.add(`var bool: due${i} = ${due};`);
    costs.push(`bool2int(due${i}) * ${taxed(world, world.money(charge.amount)) + labour(world, charge.minutes ?? 0)}`);
    minutes.push(`bool2int(due${i}) * ${charge.minutes ?? 0}`);
  });
  return { costs, minutes };
}

function deliveries(model) {
  const { world } = model, costs = [], minutes = [];
  [...world.sellers.values()].filter((s) => s.id !== 'client').forEach((seller, i) => {
    const bought = (c) => c.lines.filter((l) => l.seller === seller.id);
    const goods = world.roles.map((r) => model.of(r.id, (c) => bought(c).reduce((n, l) => n + l.price * l.count, 0)));
    model.add(`var bool: from${i} = ${any(world.roles.map((r) => model.is(r.id, (c) => bought(c).length > 0)))};`);
    model.add(`var int: goods${i} = ${goods.join(' + ')};`);
    const pays = seller.free === null ? `from${i}` : `from${i} /\\ goods${i} < ${seller.free}`;
    if (!world.freeDelivery) costs.push(`bool2int(${pays}) * ${taxed(world, seller.delivery)}`);
    minutes.push(`bool2int(from${i}) * ${seller.minutes}`);
  });
  return { costs, minutes };
}

/** One tax on the whole bill, in MiniZinc's integers. */
function invoiceTax(model) {
  const { tax } = model.world;
  if (!tax || tax.prices === 'with' || tax.per !== 'invoice') return 'bill';
  let [over, under] = [milli(tax.percent), 100000];
  for (let d = 2; d <= over; d++) while (over % d === 0 && under % d === 0) [over, under] = [over / d, under / d];
  model.add(`var int: part = (bill mod ${under}) * ${over};`);
  model.add(`var int: whole = (bill div ${under}) * ${over} + part div ${under};`);
  model.add(`var int: rest = 2 * (part mod ${under});`);
  const half = tax.round === 'half-even' ? `rest = ${under} /\\ whole mod 2 = 1` : `rest = ${under}`;
  return `bill + whole + bool2int(rest > ${under} \\/ (${half}))`;
}

function addMoney(model) {
  const { world } = model, due = charges(model), sent = deliveries(model);
  const sum = (f) => world.roles.map((r) => model.of(r.id, f));
  model.add(`var 0..2000000000: bill = ${[...sum((c) => c.bill), ...due.costs, ...sent.costs].join(' + ')};`);
  model.add(`var 0..2000000000: cost = ${invoiceTax(model)};`);
  model.add(`var int: minutes = ${[...sum((c) => c.minutes), ...due.minutes, ...sent.minutes].join(' + ')};`);
  model.add(`var int: swaps = ${sum((c) => (c.changed ? 1 : 0)).join(' + ')};`);
  model.add(`var int: tasks = ${sum((c) => c.tasks.length).join(' + ')};`);
  model.require(`cost <= ${world.budget}`);
  const limit = world.job.wishes.limits?.bench_minutes;
  if (limit !== undefined) model.require(`minutes <= ${limit}`);
}

// ---- the model ---------------------------------------------------------------------------------

function build(world) {
  const model = new Model(world);
  world.roles.forEach((r, i) => r.choices.forEach((c, k) => c.barred && model.require(`x${i} != ${k + 1}`)));
  addRules(model);
  addQuiet(model);
  addMoney(model);
  world.roles.forEach((r, i) => {
    const keys = [...new Set(r.choices.map((c) => c.key))];
    model.add(`var 1..${keys.length}: key${i} = ${model.of(r.id, (c) => keys.indexOf(c.key) + 1)};`);
  });
  return model;
}

/** How many things of each place rule stand nowhere today. */
function spares(world, folder) {
  const model = new Model(world);
  addPlaces(model, world.rules.filter((r) => r.level === 'hard' && r.shape === 'place'));
  if (!model.places) return [];
  const left = run(folder, 'spare', spareModel(model));
  return left.map((n, k) => `int: spare${k} = ${world.strict ? 0 : n};`);
}

/** Least of WHAT; of equals the first by ids, then by sellers: the search tries them in that order. */
function first(world, what, more = []) {
  const names = (letter) => world.roles.map((_, i) => `${letter}${i}`).join(',');
  return [...more, `var int: loss_of_it = ${what};`,
    `solve :: int_search([${names('key')},${names('x')}], input_order, indomain_min) minimize loss_of_it;`,
    `output [show([${names('x')},cost,swaps,tasks])];`];
}

function chosen(world, told) {
  const at = new Map(world.roles.map((r, i) => [r.id, r.choices[told[i] - 1]]));
  const [cost, swaps, tasks] = told.slice(world.roles.length);
  return { at, cost, swaps, tasks };
}

// Cost, swaps and tasks in one number.
function ranked(world) {
  const tasks = world.tasks.length + 1, swaps = (world.roles.length + 1) * tasks;
  if (world.budget * swaps > 2 ** 31 - 1) throw new Error('too much money for 32 bits');
  return `cost * ${swaps} + swaps * ${tasks} + tasks`;
}

/** The best bundle by MiniZinc: {points, cost, swaps, tasks, at}, or null where nothing fits. */
export function solveJob(world, folder) {
  makeChoices(world, servesIn(world));
  const fixed = spares(world, folder), model = build(world);
  const rest = [...fixed, ...(model.later ?? [])];
  const told = run(folder, 'baseline', model.text([...rest, ...first(world, ranked(world))]));
  if (told === null) return null;
  const baseline = chosen(world, told);
  model.add(`var int: points = ${pointsOf(model, baseline.at)};`);
  const most = run(folder, 'points', model.text([...rest, 'solve maximize points;', 'output [show(points)];']));
  const best = chosen(world, run(folder, 'best', model.text([...rest,
    ...first(world, ranked(world), [`constraint points = ${most};`])])));
  return { points: most, ...best };
}
