// Points (FORMATS section 8): what may be chosen at all, and the integer terms of each criterion as
// tables over the choices, given the baseline's choices.
import { UNKNOWN, VOID, evaluate, numberOf } from './facts.mjs';
import { round } from './job.mjs';
import { spread } from './rules.mjs';

const T = (x) => round(1000 * x);
const real = (choice, fact) => {
  const n = numberOf(choice.fact(fact));
  return typeof n === 'symbol' ? n : n / 1000;
};

// ---- what weighs ---------------------------------------------------------------------------------

/** Weight of each criterion by its id. */
export function weightsOf(world) {
  const { swings, ranks } = world.job.wishes;
  if (swings) {
    const sum = Object.values(swings).reduce((a, b) => a + b, 0);
    return Object.fromEntries(Object.entries(swings).map(([id, s]) => [id, s / sum]));
  }
  return Object.fromEntries(ranks.map((id, at) => {
    let sum = 0;
    for (let i = at + 1; i <= ranks.length; i++) sum += 1 / i;
    return [id, (1 / ranks.length) * sum];
  }));
}

// ---- speed -----------------------------------------------------------------------------------------

const rolesIn = (expr) => {
  if (typeof expr === 'string') return [expr.split('.')[0]];
  return typeof expr === 'object' && expr !== null ? Object.values(expr).flatMap(rolesIn) : [];
};

/** Alternatives of a rate: lists of [expression of one role or number, exponent]. */
function alternatives(expr, exponent = 1) {
  if (expr.least) return expr.least.flatMap((e) => alternatives(e, exponent));
  if (expr.product)
    return expr.product.reduce((lists, e) => lists.flatMap((list) =>
      alternatives(e, exponent).map((more) => [...list, ...more])), [[]]);
  if (expr.power) return alternatives(expr.power[0], exponent * expr.power[1]);
  return [[[expr, exponent]]];
}

function usesOf(world) {
  const wanted = world.job.wishes.uses ?? [], sum = wanted.reduce((n, u) => n + u.share, 0);
  return wanted.map((u) => ({ ...u, share: u.share / sum,
    alternatives: world.uses.get(u.use).stages.flatMap((s) => alternatives(s.rate)) }));
}

const factorsOn = (alternative, role) => alternative.filter(([e]) => rolesIn(e).includes(role));

/** That no factor of a choice is unknown or not positive, nor a noise unknown. */
export function servesIn(world) {
  const speed = world.criteria.some((c) => c.kind === 'speed') ? usesOf(world) : [];
  const quiet = world.criteria.find((c) => c.kind === 'quiet');
  const stands = (fact, role) => fact && world.facts.get(fact)?.roles.includes(role);
  return (choice) => {
    const role = choice.role.id;
    const loud = quiet && [quiet.noise, quiet.declared, quiet.steady]
      .some((f) => stands(f, role) && choice.fact(f) === UNKNOWN);
    return !loud && speed.every((u) => u.alternatives.every((a) => factorsOn(a, role).every(([e]) => {
      const value = evaluate(e, choice);
      return value === VOID || (value !== UNKNOWN && value > 0);
    })));
  };
}

/** The integer that an alternative has of a choice. */
function factorPoints(alternative, choice, scale) {
  let sum = 0, some = false;
  for (const [expr, exponent] of factorsOn(alternative, choice.role.id)) {
    const value = evaluate(expr, choice);
    if (typeof value === 'symbol') continue;
    sum += exponent * Math.log2(value);
    some = true;
  }
  return some ? T(scale * sum) : 0;
}

function plainPoints(alternative, scale) {
  const plain = alternative.filter(([e]) => typeof e === 'number');
  return plain.length ? T(scale * plain.reduce((sum, [c, e]) => sum + e * Math.log2(c), 0)) : 0;
}

function speedPoints(model, weight, baseline) {
  const { world } = model;
  return usesOf(world).map((use, u) => {
    const scale = 100 * weight * use.share;
    const sums = use.alternatives.map((a) => ({ plain: plainPoints(a, scale),
      roles: world.roles.filter((r) => factorsOn(a, r.id).length) }));
    const texts = use.alternatives.map((a, i) => [sums[i].plain,
      ...sums[i].roles.map((r) => model.of(r.id, (c) => factorPoints(a, c, scale)))].join(' + '));
    const now = Math.min(...use.alternatives.map((a, i) => sums[i].roles
      .reduce((sum, r) => sum + factorPoints(a, baseline.get(r.id), scale), sums[i].plain)));
    model.add(`var int: use${u} = min([${texts.join(', ')}]);`);
    if (use.rate_now === undefined || use.rate_wanted === undefined) return `use${u} - (${now})`;
    const cap = Math.max(0, T(scale * Math.log2(use.rate_wanted / use.rate_now)));
    return `min(use${u}, ${now + cap}) - (${now})`;
  });
}

// ---- quiet -------------------------------------------------------------------------------------------

const powerOf = (choice, fact) => (fact && standsOn(choice, fact) ? choice.fact(fact).power : 0);
const standsOn = (choice, fact) => fact === 'pieces' || choice.world.facts.get(fact)?.roles.includes(choice.role.id) ||
  choice.world.derived.some((d) => d.fact === fact && d.role === choice.role.id);

function busyShare(world, role) {
  const uses = world.job.wishes.uses ?? [];
  if (uses.length === 0 || role === undefined) return 1;
  const sum = uses.reduce((n, u) => n + u.share, 0);
  return uses.reduce((n, u) => n + u.share * (world.uses.get(u.use).busy?.[role] ?? 0), 0) / sum;
}

/** P_r of a choice whose fans turn for HEAT (of the choice of the role `by`). */
function loudnessPower(world, quiet, choice, runs, heat) {
  const a = powerOf(choice, quiet.noise) + powerOf(choice, quiet.declared) / (2 * Math.PI * (quiet.at_m ?? 0.5) ** 2);
  const tone = quiet.tone && standsOn(choice, quiet.tone) ? real(choice, quiet.tone) : 0;
  let n = 1;
  if (runs && !world.still) {
    const full = real(choice, runs.full.split('.')[1]);
    if (typeof heat !== 'symbol' && typeof full !== 'symbol' && full > 0) {
      const least = runs.least ? real(choice, runs.least.split('.')[1]) : 0;
      n = Math.min(1, (busyShare(world, runs.busy) * Math.max(0, heat) / full) ** 1.25);
      n = Math.max(n, typeof least === 'symbol' ? 0 : least);
    }
  }
  return round(a * n ** 5 * 10 ** ((typeof tone === 'symbol' ? 0 : tone) / 10)) + powerOf(choice, quiet.steady);
}

const threshold = (n) => Math.floor(10 * 10 ** (n / 20));

function stepOf(power) {
  let n = 0;
  while (threshold(n) < power) n++;
  return n;
}

function heard(world, quiet) {
  const room = world.job.room ?? {}, level = room.level_dba ?? 25, at = quiet.at_m ?? 0.5;
  const far = 20 * Math.log10(at / (room.distance_m ?? at));
  let calibration = 0;
  const levelOf = (n, loss, shift) => 10 * Math.log10(10 ** ((n / 2 - loss + shift) / 10) + 10 ** (level / 10));
  return { far, sone(n, loss) {
    const l = levelOf(n, loss, far + calibration);
    return l >= 40 ? 2 ** ((l - 40) / 10) : (Math.max(l, 0.001) / 40) ** 2.642;
  }, calibrate(n, loss) {
    if (room.machine_dba !== undefined)
      calibration = 10 * Math.log10(10 ** (room.machine_dba / 10) - 10 ** (level / 10)) - (n / 2 - loss + far);
  } };
}

const byRole = (runs) => runs.by.split('.');

/** P of a whole machine of known choices. */
function powerOfMachine(world, quiet, at) {
  return world.roles.reduce((sum, r) => {
    const runs = (quiet.runs ?? []).find((one) => one.role === r.id);
    const heat = runs ? real(at.get(byRole(runs)[0]), byRole(runs)[1]) : 0;
    return sum + loudnessPower(world, quiet, at.get(r.id), runs, heat);
  }, 0);
}

const BASE = 1e6;

/** Variables `step` (N) and `loss`; the limit; what makes the points of them. */
export function addQuiet(model) {
  const { world } = model, quiet = world.criteria.find((c) => c.kind === 'quiet');
  if (!quiet) return;
  let most = 0;
  const highs = [], lows = [];
  for (const r of world.roles) {
    const runs = (quiet.runs ?? []).find((one) => one.role === r.id);
    const heats = runs ? world.roles.find((one) => one.id === byRole(runs)[0]).choices.map((c) => real(c, byRole(runs)[1])) : [0];
    const kinds = [...new Set(heats)];
    const powers = kinds.flatMap((heat) => r.choices.map((c) => loudnessPower(world, quiet, c, runs, heat)));
    most += Math.max(...powers);
    const i = model.index.get(r.id);
    const at = runs ? `[(${model.of(byRole(runs)[0], (c) => kinds.indexOf(real(c, byRole(runs)[1])))}) * ${r.choices.length} + x${i}]` : `[x${i}]`;
    if (most > 2 ** 30 * BASE) throw new Error('too loud');
    highs.push(`${model.array(powers.map((p) => Math.floor(p / BASE)))}${at}`);
    lows.push(`${model.array(powers.map((p) => p % BASE))}${at}`);
  }
  const steps = stepOf(most), at = (n) => (n < 0 ? -1 : threshold(n));
  model.add(`var int: low = ${lows.join(' + ')};`);
  model.add(`var int: high = ${highs.join(' + ')} + low div ${BASE};`);
  model.add(`var 0..${steps}: step;`);
  const bounds = Array.from({ length: steps + 2 }, (_, n) => at(n - 1));
  const [h, l] = [model.array(bounds.map((b) => Math.floor(b / BASE))), model.array(bounds.map((b) => b - Math.floor(b / BASE) * BASE))];
  model.require(`high < ${h}[step + 2] \\/ (high = ${h}[step + 2] /\\ low mod ${BASE} <= ${l}[step + 2])`);
  model.require(`high > ${h}[step + 1] \\/ (high = ${h}[step + 1] /\\ low mod ${BASE} > ${l}[step + 1])`);
  const [lossRole, lossFact] = quiet.loss ? quiet.loss.split('.') : [world.roles[0].id, null];
  const lossOf = (c) => {
    const x = lossFact && standsOn(c, lossFact) ? real(c, lossFact) : 0;
    return typeof x === 'symbol' ? 0 : x;
  };
  const losses = [...new Set(model.roles[model.index.get(lossRole)].choices.map(lossOf))];
  model.add(`var int: heard = step * ${losses.length} + ${model.of(lossRole, (c) => losses.indexOf(lossOf(c)))} + 1;`);
  const ear = heard(world, quiet), now = new Map(world.roles.map((r) => [r.id, r.choices[r.today]]));
  const nowStep = stepOf(powerOfMachine(world, quiet, now));
  ear.calibrate(nowStep, lossOf(now.get(lossRole)));
  const every = (f) => Array.from({ length: steps + 1 }, (_, n) => losses.map((loss) => f(n, loss))).flat();
  const limit = world.job.wishes.limits?.loudness_sone, loudNow = ear.sone(nowStep, lossOf(now.get(lossRole)));
  if (limit !== undefined)
    model.require(`${model.array(every((n, loss) => (ear.sone(n, loss) <= limit || ear.sone(n, loss) <= loudNow ? 1 : 0)))}[heard] = 1`);
  model.quiet = (weight, baseline) => {
    const base = T(-100 * weight * Math.log2(ear.sone(stepOf(powerOfMachine(world, quiet, baseline)), lossOf(baseline.get(lossRole)))));
    return `${model.array(every((n, loss) => T(-100 * weight * Math.log2(ear.sone(n, loss))) - base))}[heard]`;
  };
}

// ---- looks and rated -----------------------------------------------------------------------------------

function match(world, looks, choice) {
  const taste = world.job.wishes.taste ?? {};
  let hits = 0, weights = 0;
  for (const a of looks.aspects) {
    if (!standsOn(choice, a.fact) || (a.scale === undefined && !taste[a.fact])) continue;
    const value = choice.fact(a.fact);
    if (value === UNKNOWN || value === VOID) continue;
    weights += a.weight;
    if (a.scale === undefined) hits += a.weight * ([...value.set].filter((t) => taste[a.fact].includes(t)).length / value.set.size);
    else hits += a.weight * Math.min(1, Math.max(0, real(choice, a.fact) / a.scale));
  }
  return weights ? hits / weights : 0;
}

function looksPoints(model, looks, weight, baseline) {
  const { world } = model, sum = looks.shows.reduce((n, s) => n + s.weight, 0);
  const now = looks.shows.reduce((n, s) => n + (s.weight / sum) * match(world, looks, baseline.get(s.role)), 0);
  if (1 - now < 1e-9) return [];
  return looks.shows.map((s) => {
    const points = (c) => T((100 * weight * (s.weight / sum) * match(world, looks, c)) / (1 - now));
    return model.of(s.role, (c) => points(c) - points(baseline.get(s.role)));
  });
}

function ratedPoints(model, rated, weight, baseline) {
  return rated.facts.flatMap((t) => spread(model.world, t)).map(([role, fact]) => {
    const points = (c) => {
      const n = numberOf(c.fact(fact));
      return typeof n === 'symbol' ? 0 : round((100 * weight * n) / rated.scale);
    };
    return model.of(role, (c) => points(c) - points(baseline.get(role)));
  });
}

/** The sum of all points, as an expression. BASELINE: role -> choice. */
export function pointsOf(model, baseline) {
  const weights = weightsOf(model.world), terms = ['0'];
  for (const c of model.world.criteria) {
    const w = weights[c.id] ?? 0;
    if (w === 0) continue;
    if (c.kind === 'speed') terms.push(...speedPoints(model, w, baseline));
    if (c.kind === 'quiet') terms.push(model.quiet(w, baseline));
    if (c.kind === 'looks') terms.push(...looksPoints(model, c, w, baseline));
    if (c.kind === 'rated') terms.push(...ratedPoints(model, c, w, baseline));
  }
  return terms.join(' + ');
}
