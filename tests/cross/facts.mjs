// Facts of a fit-out, expressions and conditions (FORMATS sections 3 and 4).
import { milli, round } from './job.mjs';

export const UNKNOWN = Symbol('unknown');
export const VOID = Symbol('void');
export const NO = 0, PERHAPS = 1, YES = 2;

const powerOf = (level) => round(10 * 10 ** (level / 1000 / 10));

/** A piece's own value: thousandths for numbers, undefined where nothing is known. */
export function valueOf(fact, stated) {
  const value = stated === undefined ? fact.absent : stated;
  if (value === undefined || value === 'silent' || fact.type !== 'number') return value;
  return milli(value);
}

const COMBINE = {
  sum: (v) => ({ number: v.reduce((a, b) => a + b, 0) }),
  least: (v) => ({ number: Math.min(...v) }),
  most: (v) => ({ number: Math.max(...v) }),
  power: (v) => ({ power: v.reduce((a, b) => a + (b === 'silent' ? 0 : powerOf(b)), 0) }),
  each: (v) => ({ set: new Set(v) }),
  common: (v) => ({ set: new Set(v[0].filter((t) => v.every((list) => list.includes(t)))) }),
  either: (v) => ({ set: new Set(v.flat()) }),
  all: (v) => ({ flag: v.every((b) => b) }),
  any: (v) => ({ flag: v.some((b) => b) }),
  joined: (v) => ({ pieces: v }),
};

export function combine(fact, values) {
  if (values.some((v) => v === undefined)) return UNKNOWN;
  if (values.length === 0 && !['sum', 'power', 'joined'].includes(fact.combine)) return VOID;
  return COMBINE[fact.combine](values);
}

/** In thousandths, as rules, conditions and rated criteria see it. */
export function numberOf(value) {
  if (value === UNKNOWN || value === VOID) return value;
  if (value.power !== undefined) return value.power === 0 ? VOID : milli(10 * Math.log10(value.power / 10));
  return value.number;
}

function realOf(value) {
  if (value === UNKNOWN || value === VOID) return value;
  if (value.power !== undefined) return value.power === 0 ? VOID : 10 * Math.log10(value.power / 10);
  return value.flag === undefined ? value.number / 1000 : Number(value.flag);
}

const sane = (x) => (Number.isFinite(x) && Math.abs(x) <= 1e6 ? x : UNKNOWN);

function many(list, choice, join) {
  const values = list.map((e) => evaluate(e, choice));
  if (values.includes(UNKNOWN)) return UNKNOWN;
  const known = values.filter((v) => v !== VOID);
  return known.length === 0 ? VOID : sane(known.reduce(join));
}

function power([of, exponent], choice) {
  const x = evaluate(of, choice);
  if (typeof x === 'symbol') return x;
  return x <= 0 && !Number.isInteger(exponent) ? UNKNOWN : sane(x ** exponent);
}

function log2(of, choice) {
  const x = evaluate(of, choice);
  if (typeof x === 'symbol') return x;
  return x <= 0 ? UNKNOWN : sane(Math.log2(x));
}

function table({ of, at, gives }, choice) {
  const x = evaluate(of, choice);
  if (typeof x === 'symbol') return x;
  if (x <= at[0]) return gives[0];
  for (let i = 1; i < at.length; i++)
    if (x <= at[i]) return sane(gives[i - 1] + (gives[i] - gives[i - 1]) * ((x - at[i - 1]) / (at[i] - at[i - 1])));
  return gives.at(-1);
}

function pick({ of, from, else: other }, choice) {
  const value = choice.fact(of.split('.')[1]);
  if (typeof value === 'symbol') return value;
  const found = [...value.set].map((token) => from[token] ?? other);
  return found.includes(undefined) ? UNKNOWN : Math.min(...found);
}

/** An expression over the facts of one role: a number, UNKNOWN or VOID. */
export function evaluate(expr, choice) {
  if (typeof expr === 'number') return expr;
  if (typeof expr === 'string') return realOf(choice.fact(expr.split('.')[1]));
  if (expr.sum) return many(expr.sum, choice, (a, b) => a + b);
  if (expr.product) return many(expr.product, choice, (a, b) => a * b);
  if (expr.least) return many(expr.least, choice, (a, b) => Math.min(a, b));
  if (expr.most) return many(expr.most, choice, (a, b) => Math.max(a, b));
  if (expr.power) return power(expr.power, choice);
  if (expr.log2 !== undefined) return log2(expr.log2, choice);
  if (expr.table) return table(expr.table, choice);
  if (expr.pick) return pick(expr.pick, choice);
  throw new Error(`an expression that is not known: ${JSON.stringify(expr)}`);
}

/** Names of the facts that an expression reads. */
export function factsIn(expr) {
  if (typeof expr === 'string') return [expr.split('.')[1]];
  if (typeof expr !== 'object') return [];
  if (expr.table) return factsIn(expr.table.of);
  if (expr.pick) return factsIn(expr.pick.of);
  return Object.values(expr).flat().flatMap(factsIn);
}

// ---- conditions -----------------------------------------------------------------------------

/** The role a condition is about, or null. */
export function roleOfCondition(world, cond) {
  if (cond.not) return roleOfCondition(world, cond.not);
  if (cond.fact) return cond.fact.split('.')[0];
  if (cond.task) return world.tasks.find((t) => t.id === cond.task).role;
  if (cond.holds) return world.parts.get(cond.holds).role;
  return cond.changes ?? cond.empty ?? null;
}

function factHolds(cond, choice) {
  const value = choice.fact(cond.fact.split('.')[1]);
  if (value === UNKNOWN) return PERHAPS;
  if (value === VOID) return NO;
  const truth = (b) => (b ? YES : NO);
  if (cond.has !== undefined) return truth(value.set.has(cond.has));
  if (cond.one_of) return truth(cond.one_of.some((t) => value.set.has(t)));
  if (value.flag !== undefined) return truth(value.flag === cond.is);
  if (value.set) return truth(value.set.size === 1 && value.set.has(cond.is));
  const n = numberOf(value);
  if (n === VOID) return NO;
  if (cond.least !== undefined && n < milli(cond.least)) return NO;
  if (cond.most !== undefined && n > milli(cond.most)) return NO;
  return truth(cond.is === undefined || n === milli(cond.is));
}

/** NO, PERHAPS or YES for a choice of the role that the condition is about. */
export function holds(world, cond, choice) {
  if (cond.not) return YES - holds(world, cond.not, choice);
  if (cond.fact) return factHolds(cond, choice);
  if (cond.observed) return world.observed.has(cond.observed) ? YES : NO;
  let truth;
  if (cond.task) truth = choice.tasks.some((t) => t.id === cond.task);
  else if (cond.changes) truth = choice.changed;
  else if (cond.holds) truth = choice.pieces.some((p) => p.id === cond.holds);
  else if (cond.empty) truth = choice.pieces.length === 0;
  else throw new Error(`a condition that is not known: ${JSON.stringify(cond)}`);
  return truth ? YES : NO;
}
