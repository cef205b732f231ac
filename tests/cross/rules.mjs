// Hard rules as constraints (FORMATS section 5).
import { NO, PERHAPS, UNKNOWN, VOID, YES, factsIn, holds, numberOf, roleOfCondition } from './facts.mjs';
import { milli } from './job.mjs';
import { all, any } from './model.mjs';
import { addPlaces } from './place.mjs';

/** [role, fact] of a term; of "*" one for each role that the fact may stand on. */
export function spread(world, term) {
  const [role, fact] = term.split('.');
  if (role !== '*') return [[role, fact]];
  if (fact === 'pieces') return world.roles.map((r) => [r.id, fact]);
  const known = world.facts.get(fact);
  if (!known) return world.derived.filter((d) => d.fact === fact).map((d) => [d.role, fact]);
  return world.roles.filter((r) => known.roles.includes(r.id)).map((r) => [r.id, fact]);
}

// ---- touching -----------------------------------------------------------------------------------

/** The facts of a role that NAME is made of, itself among them. */
function madeOf(world, role, name) {
  const derived = world.derived.find((d) => d.fact === name && d.role === role);
  return derived ? [name, ...factsIn(derived.is).flatMap((f) => madeOf(world, role, f))] : [name];
}

/** That the bundle touches one of the body roles: TERMS and CONDS are what the shape's own fields name. */
export function touches(model, terms, conds) {
  const { world } = model, roles = new Map(), tasks = new Set();
  const entry = (role) => roles.get(role) ?? roles.set(role, new Set()).get(role);
  const term = ([role, fact]) => madeOf(world, role, fact).forEach((f) => entry(role).add(f));
  const cond = (c) => {
    if (c.not) return cond(c.not);
    if (c.task) tasks.add(c.task);
    if (c.fact) term(c.fact.split('.'));
    const role = roleOfCondition(world, c);
    return role && entry(role);
  };
  terms.forEach(term);
  conds.forEach(cond);
  return (f) => any([...roles].map(([role, read]) => f(role, (c) => c.lines.length > 0 ||
    c.tasks.some((t) => tasks.has(t.id) || (t.effects ?? []).some((e) => read.has(e.fact))))));
}

// ---- judging: the model's text, and the present machine ---------------------------------------

const today = (world, role) => {
  const r = world.roles.find((one) => one.id === role);
  return r.choices[r.today];
};

/** The truth of a condition now: NO, PERHAPS, YES. */
function nowHolds(world, cond) {
  const role = roleOfCondition(world, cond);
  return holds(world, cond, role === null ? null : today(world, role));
}

/** In the model, a truth about how a condition stands. */
function stands(model, cond, f) {
  const role = roleOfCondition(model.world, cond);
  if (role === null) return f(holds(model.world, cond, null)) ? 'true' : 'false';
  return model.is(role, (c) => f(holds(model.world, cond, c)));
}

function applies(model, rule) {
  return all([...(rule.when ?? []).map((c) => stands(model, c, (t) => t !== NO)),
    ...(rule.unless ?? []).map((c) => stands(model, c, (t) => t !== YES))]);
}

const appliesNow = (world, rule) => (rule.when ?? []).every((c) => nowHolds(world, c) !== NO) &&
  !(rule.unless ?? []).some((c) => nowHolds(world, c) === YES);

/** The rule with its truths in the model; BROKEN now, known and applying, or not. */
function judge(model, rule, { unknown, good, touched, brokenNow }) {
  const { world } = model;
  const touching = touched((role, f) => model.is(role, f));
  const excused = brokenNow && !world.strict ? `not ${touching}` : 'false';
  const passes = world.allow ? 'true' : `not ${touching}`;
  model.require(`${applies(model, rule)} -> if ${unknown} then ${passes} else ${good} \\/ ${excused} endif`);
}

function sides(model, rule) {
  const { world } = model, name = (v) => [...v.set].sort().join('\n');
  const [left, right] = [rule.left, rule.right].map((t) => t.split('.'));
  const value = ([role, fact]) => today(world, role).fact(fact);
  const state = ([role, fact], s) => model.is(role, (c) => c.fact(fact) === s);
  const names = new Map(), number = (v) => {
    if (v === UNKNOWN || v === VOID) return 0;
    if (!names.has(name(v))) names.set(name(v), { id: names.size + 1, set: v.set });
    return names.get(name(v)).id;
  };
  return { left, right, value, state, names, id: ([role, fact]) => model.of(role, (c) => number(c.fact(fact))) };
}

/** Same and among: `agrees(left set, right set)`. */
function compared(model, rule, agrees) {
  const { world } = model, s = sides(model, rule);
  const moot = any([s.state(s.left, VOID), s.state(s.right, VOID)]);
  const unknown = `(not ${moot} /\\ ${any([s.state(s.left, UNKNOWN), s.state(s.right, UNKNOWN)])})`;
  const [a, b] = [s.id(s.left), s.id(s.right)], sets = [...s.names.values()];
  const pairs = sets.flatMap((l) => sets.filter((r) => agrees(l.set, r.set)).map((r) => `(${a} = ${l.id} /\\ ${b} = ${r.id})`));
  const now = [s.value(s.left), s.value(s.right)], known = now.every((v) => typeof v !== 'symbol');
  judge(model, rule, { unknown, good: any([moot, ...pairs]), touched: touches(model, [s.left, s.right], []),
    brokenNow: known && !agrees(now[0].set, now[1].set) && appliesNow(world, rule) });
}

const equal = (l, r) => l.size === r.size && [...l].every((t) => r.has(t));

function amongHolds(world, rule) {
  const list = world.facts.get(rule.left.split('.')[1]).type === 'list';
  return (l, r) => (list ? [...l].some((t) => r.has(t)) : [...l].every((t) => r.has(t)));
}

/** load <= supply: PARTS are [role, fact, factor in thousandths, negative on the right]. MOOT: terms whose void ends it. */
function added(model, rule, parts, fixed, mootTerms) {
  const { world } = model;
  const number = (c, fact) => numberOf(c.fact(fact));
  const amount = (fact, factor) => (c) => {
    const n = number(c, fact);
    return typeof n === 'symbol' ? 0 : n * factor;
  };
  const moot = any(mootTerms.map(([role, fact]) => model.is(role, (c) => number(c, fact) === VOID)));
  const unknown = `(not ${moot} /\\ ${any(parts.map(([role, fact]) => model.is(role, (c) => number(c, fact) === UNKNOWN)))})`;
  const now = parts.map(([role, fact]) => number(today(world, role), fact));
  const judged = !now.includes(UNKNOWN) && appliesNow(world, rule) &&
    !mootTerms.some(([role, fact]) => number(today(world, role), fact) === VOID);
  const short = fixed + parts.reduce((sum, [role, fact, factor]) => sum + amount(fact, factor)(today(world, role)), 0);
  const excused = judged && !world.strict ? Math.max(0, short) : 0;
  const good = model.atMostZero(parts.map(([role, fact, factor]) => [role, amount(fact, factor)]), fixed - excused);
  judge(model, rule, { unknown, good: any([moot, good]), touched: touches(model, parts, []), brokenNow: false });
}

function within(model, rule) {
  const { world } = model, [need, room] = [rule.need, rule.room].map((t) => t.split('.'));
  const taken = (rule.taken ?? []).flatMap((t) => spread(world, t));
  added(model, rule, [[...need, 1], [...room, -1], ...taken.map((t) => [...t, 1])], 0, [need, room]);
}

function supply(model, rule) {
  const { world } = model, parts = [];
  let fixed = 0;
  for (const [side, sign] of [[rule.loads, 1], [rule.supplies, -1]])
    for (const one of side) {
      if (one.today) throw new Error('the translator knows no today');
      if (one.fixed !== undefined) fixed += sign * milli(one.fixed) * 1000;
      else for (const term of spread(world, one.fact)) parts.push([...term, sign * milli(one.factor ?? 1)]);
    }
  added(model, rule, parts, fixed, []);
}

function clash(model, rule, of) {
  const { world } = model;
  const none = any(of.map((c) => stands(model, c, (t) => t === NO)));
  const perhaps = any(of.map((c) => stands(model, c, (t) => t === PERHAPS)));
  judge(model, rule, { unknown: `(not ${none} /\\ ${perhaps})`, good: none, touched: touches(model, [], of),
    brokenNow: of.every((c) => nowHolds(world, c) === YES) && appliesNow(world, rule) });
}

const SHAPES = {
  same: (model, rule) => compared(model, rule, equal),
  among: (model, rule) => compared(model, rule, amongHolds(model.world, rule)),
  within,
  supply,
  unlock: (model, rule) => rule.needs.forEach((need) => clash(model, rule, [rule.to, { not: need }])),
  clash: (model, rule) => clash(model, rule, rule.of),
};

export function addRules(model) {
  const hard = model.world.rules.filter((r) => r.level === 'hard');
  for (const rule of hard.filter((r) => r.shape !== 'place')) SHAPES[rule.shape](model, rule);
  addPlaces(model, hard.filter((r) => r.shape === 'place'));
}
