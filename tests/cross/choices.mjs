// What each role may hold, with its tasks and its price (FORMATS sections 2, 6, 9, 10). The present
// fit-out without tasks is always in the list, marked `barred` where a wish or must forbids it.
import { YES, combine, evaluate, holds, valueOf } from './facts.mjs';
import { milli, round } from './job.mjs';

/** Facts are settled when they are asked for: tasks first, piece by piece, then combined. */
class Choice {
  constructor(world, role, kept, lines, tasks) {
    Object.assign(this, { world, role, kept, lines, tasks, values: new Map() });
    this.pieces = role.present.flatMap((p, i) => Array.from({ length: kept[i] }, () => ({ id: p.id, kept: true, facts: p.facts })))
      .concat(lines.flatMap((l) => Array.from({ length: l.count }, () => ({ id: l.part, kept: false,
        facts: world.parts.get(l.part).facts }))));
    this.changed = lines.length > 0 || role.present.some((p, i) => kept[i] < p.count);
    const entries = this.pieces.map((p) => `${p.kept ? '' : '+'}${p.id}`).sort();
    this.key = entries.map((e) => `${e}\n`).join('') + tasks.map((t) => `\t${t.id}\n`).join('');
    this.from = lines.map((l) => `${l.seller}\n`).join('');
  }

  /** A piece's value of a fact after the tasks. */
  piece(piece, name) {
    piece.after ??= this.work(piece);
    return name in piece.after ? piece.after[name] : valueOf(this.world.facts.get(name), piece.facts[name]);
  }

  work(piece) {
    const after = {};
    const now = (name) => (name in after ? after[name] : valueOf(this.world.facts.get(name), piece.facts[name]));
    for (const task of this.tasks.filter((t) => t.applies_to === 'any' || piece.kept))
      for (const effect of task.effects ?? []) {
        const old = now(effect.fact), number = typeof old === 'number';
        if (effect.set !== undefined) after[effect.fact] = valueOf(this.world.facts.get(effect.fact), effect.set);
        else if (effect.set_from) after[effect.fact] = now(effect.set_from);
        else if (effect.add !== undefined) after[effect.fact] = number ? old + milli(effect.add) : old;
        else after[effect.fact] = number ? round((old * milli(effect.times)) / 1000) : old;
      }
    return after;
  }

  fact(name) {
    if (!this.values.has(name)) this.values.set(name, this.settle(name));
    return this.values.get(name);
  }

  settle(name) {
    if (name === 'pieces') return { number: 1000 * this.pieces.length };
    const derived = this.world.derived.find((d) => d.fact === name && d.role === this.role.id);
    if (!derived) return combine(this.world.facts.get(name), this.pieces.map((p) => this.piece(p, name)));
    const value = evaluate(derived.is, this);
    return typeof value === 'symbol' ? value : { number: milli(value) };
  }
}

// ---- which there are --------------------------------------------------------------------------

function* keptOf(role, at = 0, kept = []) {
  if (role.whole) {
    yield role.present.map((p) => p.count);
    if (role.present.length) yield role.present.map(() => 0);
    return;
  }
  if (at === role.present.length) {
    yield kept;
    return;
  }
  for (let n = 0; n <= role.present[at].count; n++) yield* keptOf(role, at + 1, [...kept, n]);
}

function* linesOf(world, role) {
  const single = world.lines.filter((l) => world.parts.get(l.part).role === role.id)
    .flatMap((l) => role.counts.filter((n) => n <= l.stock).map((count) => ({ ...l, count })));
  yield [];
  for (const a of single) yield [a];
  if (role.kinds === 2)
    for (const a of single) for (const b of single) if (a.part < b.part) yield [a, b];
}

function* taskSets(offered, at = 0, done = []) {
  if (at === offered.length) {
    yield done;
    return;
  }
  yield* taskSets(offered, at + 1, done);
  const task = offered[at];
  if (!task.family || !done.some((t) => t.family === task.family)) yield* taskSets(offered, at + 1, [...done, task]);
}

function isWished(world, choice) {
  const { role, kept } = choice, { wishes, musts = [] } = world.job;
  const stays = (id) => role.present.some((p, i) => p.id === id && kept[i] > 0);
  const leaves = (id) => role.present.some((p, i) => p.id === id && kept[i] < p.count);
  const anyStays = kept.some((n) => n > 0);
  return !(wishes.keep ?? []).some((w) => (w === role.id ? choice.changed : leaves(w))) &&
    !(wishes.replace ?? []).some((w) => (w === role.id ? anyStays : stays(w))) &&
    !musts.some((m) => m.replace && stays(m.replace)) &&
    !musts.some((m) => m.do && world.tasks.find((t) => t.id === m.do).role === role.id &&
      !choice.tasks.some((t) => t.id === m.do)) &&
    world.lines.every((l) => !l.must || world.parts.get(l.part).role !== role.id ||
      choice.lines.some((c) => c.part === l.part && c.seller === 'client'));
}

// ---- money --------------------------------------------------------------------------------------

/** The tax on an amount. */
export function taxOn(world, amount) {
  if (!world.tax || world.tax.prices === 'with') return 0;
  const share = amount * milli(world.tax.percent), whole = Math.floor(share / 100000), rest = share % 100000;
  const up = world.tax.round === 'half-even' ? rest > 50000 || (rest === 50000 && whole % 2 === 1) : rest >= 50000;
  return whole + (up ? 1 : 0);
}

/** With its tax, where each line is taxed by itself. */
export const taxed = (world, amount) => amount + (world.tax?.per === 'line' ? taxOn(world, amount) : 0);

/** What so many minutes cost. */
export const labour = (world, minutes) => taxed(world, Math.floor((2 * minutes * world.rate + 60) / 120));

function price(world, choice) {
  const { role } = choice;
  const goods = choice.lines.reduce((sum, l) => sum + taxed(world, l.price * l.count), 0);
  const offers = role.present.reduce((sum, p, i) => sum + (p.count - choice.kept[i]) * world.money(p.offer), 0);
  choice.minutes = (choice.changed ? role.minutes : 0) + choice.tasks.reduce((sum, t) => sum + (t.minutes ?? 0), 0);
  choice.bill = Math.max(0, goods - offers) + (choice.changed ? labour(world, role.minutes) : 0) +
    choice.tasks.reduce((sum, t) => sum + taxed(world, world.money(t.price)) + labour(world, t.minutes ?? 0), 0);
}

/** Sets role.choices, in the order of section 11, and role.today, the place of the present one. */
export function makeChoices(world, serves) {
  for (const role of world.roles) {
    const choices = [];
    for (const kept of keptOf(role))
      for (const lines of linesOf(world, role)) {
        const bare = new Choice(world, role, kept, lines, []), n = bare.pieces.length;
        if (bare.changed && (n < role.least || n > role.most)) continue;
        const offered = world.tasks.filter((t) => t.role === role.id && n > 0 &&
          (t.applies_to === 'any' || kept.some((k) => k > 0)) && (t.needs ?? []).every((c) => holds(world, c, bare) === YES));
        for (const tasks of taskSets(offered)) {
          const choice = new Choice(world, role, kept, lines, tasks);
          choice.isToday = !choice.changed && tasks.length === 0;
          choice.barred = !isWished(world, choice) || !serves(choice);
          if (choice.barred && !choice.isToday) continue;
          price(world, choice);
          choices.push(choice);
        }
      }
    choices.sort((a, b) => (a.key !== b.key ? (a.key < b.key ? -1 : 1) : a.from < b.from ? -1 : a.from > b.from ? 1 : 0));
    role.choices = choices;
    role.today = choices.findIndex((c) => c.isToday);
  }
}
