// Things find sites: all hard place rules together (FORMATS section 5). Each thing of the bundle has
// a variable, the site it goes to, or 0.
import { UNKNOWN } from './facts.mjs';
import { any } from './model.mjs';
import { spread, touches } from './rules.mjs';

function thingsOf(choice, fact, kind) {
  const value = choice.fact(fact);
  if (value === UNKNOWN) return [];
  return value.pieces.flat().filter((t) => t.kind === kind)
    .flatMap((t) => Array.from({ length: t.count ?? 1 }, () => t));
}

function fits(thing, site) {
  const deep = thing.depth_mm === undefined || site.depth_mm === undefined || site.depth_mm >= thing.depth_mm;
  const near = thing.reach_mm === undefined || site.reach_mm === undefined || site.reach_mm <= thing.reach_mm;
  return site.kind === thing.kind && site.sizes.includes(thing.size) && deep && near &&
    (thing.side === undefined || site.side === thing.side);
}

/** The sites of a choice: all lists of all pieces, one after the other, with the place of what they take. */
function sitesOf(choice, fact) {
  const value = choice.fact(fact), found = [];
  if (value === UNKNOWN) return found;
  for (const piece of value.pieces) {
    const first = found.length;
    piece.forEach((site) => found.push({ ...site, takes: (site.takes ?? []).map((t) => ({
      at: first + piece.findIndex((s) => s.site === t.site), count: t.count ?? 1 })) }));
  }
  return found;
}

const serial = (numbers, value) => {
  const key = JSON.stringify(value);
  if (!numbers.has(key)) numbers.set(key, { id: numbers.size + 1, value });
  return numbers.get(key).id;
};

function describe(model, rules) {
  const { world } = model, roleOf = (id) => world.roles.find((r) => r.id === id);
  const shape = { things: [], sites: [], thingKinds: new Map(), siteKinds: new Map() };
  rules.forEach((rule, k) => {
    for (const [role, fact] of rule.things.flatMap((t) => spread(world, t))) {
      const most = Math.max(...roleOf(role).choices.map((c) => thingsOf(c, fact, rule.kind).length));
      for (let i = 0; i < most; i++) shape.things.push({ rule: k, role, kind: model.of(role, (c) => {
        const thing = thingsOf(c, fact, rule.kind)[i];
        return thing ? serial(shape.thingKinds, { rule: k, ...thing }) : 0;
      }) });
    }
  });
  const terms = new Map();
  rules.forEach((rule, k) => rule.sites.flatMap((t) => spread(world, t)).forEach(([role, fact]) => {
    const key = `${role}.${fact}`;
    if (!terms.has(key)) terms.set(key, { role, fact, rules: [] });
    terms.get(key).rules.push(k);
  }));
  for (const term of terms.values()) addSites(model, shape, term, roleOf(term.role));
  return shape;
}

function addSites(model, shape, { role, fact, rules }, { choices }) {
  const lists = new Map(choices.map((c) => [c, sitesOf(c, fact)]));
  const most = Math.max(...choices.map((c) => lists.get(c).length)), first = shape.sites.length;
  for (let j = 0; j < most; j++) shape.sites.push({
    kind: model.of(role, (c) => {
      const site = lists.get(c)[j];
      return site ? serial(shape.siteKinds, { rules, kind: site.kind, sizes: site.sizes, depth_mm: site.depth_mm,
        reach_mm: site.reach_mm, side: site.side }) : 0;
    }),
    room: model.of(role, (c) => (lists.get(c)[j] ? lists.get(c)[j].count ?? 1 : 0)),
    taken: Array.from({ length: most }, (_, from) => ({ from: first + from,
      each: model.of(role, (c) => (lists.get(c)[from]?.takes ?? []).filter((t) => t.at === j).reduce((n, t) => n + t.count, 0)) })),
  });
}

/** Adds the variables; returns for each rule the expression of how many of its things stand nowhere. */
function addPositions(model, rules, asked) {
  const { things, sites, thingKinds, siteKinds } = describe(model, rules);
  things.forEach((t, i) => model.add(`var 0..${sites.length}: goes${i};`));
  const pairs = [...thingKinds.values()].flatMap((t) => [...siteKinds.values()]
    .filter((s) => s.value.rules.includes(t.value.rule) && fits(t.value, s.value)).map((s) => [t.id, s.id]));
  const table = Array.from({ length: (thingKinds.size + 1) * (siteKinds.size + 1) }, () => 0);
  for (const [t, s] of pairs) table[t * (siteKinds.size + 1) + s] = 1;
  const name = things.length && sites.length ? model.array(table) : null;
  if (name) model.add(`array[1..${sites.length}] of var int: siteKind = [${sites.map((s) => s.kind).join(',')}];`);
  things.forEach((t, i) => {
    model.require(`goes${i} > 0 -> ${name ? `${name}[${t.kind} * ${siteKinds.size + 1} + siteKind[max(1, goes${i})] + 1] = 1` : 'false'}`);
    model.require(`${asked[t.rule]} \\/ goes${i} = 0`);
  });
  sites.forEach((s, j) => model.add(`var 0..${things.length}: used${j} = ${things.map((_, i) => `bool2int(goes${i} = ${j + 1})`).join(' + ') || 0};`));
  sites.forEach((s, j) => model.require(`${[`used${j}`, ...s.taken.filter((t) => t.each !== '0')
    .map((t) => `${t.each} * used${t.from}`)].join(' + ')} <= ${s.room}`));
  return rules.map((_, k) => things.flatMap((t, i) => (t.rule === k ? [`bool2int(${t.kind} > 0 /\\ goes${i} = 0)`] : [])).join(" + ") || "0");
}

const reads = (world, rule) => [...rule.things, ...rule.sites].flatMap((t) => spread(world, t));

const isUnknown = (model, rule) => any(reads(model.world, rule).map(([role, fact]) => model.is(role, (c) => c.fact(fact) === UNKNOWN)));

export function addPlaces(model, rules) {
  const { world } = model;
  model.places = rules.length;
  if (rules.length === 0) return;
  const unknown = rules.map((rule) => isUnknown(model, rule));
  const missing = addPositions(model, rules, unknown.map((u) => `not ${u}`));
  rules.forEach((rule, k) => {
    model.add(`var int: missing${k} = ${missing[k]};`);
    const touched = touches(model, reads(world, rule), [])((role, f) => model.is(role, f));
    const passes = world.allow ? 'true' : `not ${touched}`;
    model.later = [...(model.later ?? []), `constraint if ${unknown[k]} then ${passes} else missing${k} <= spare${k} endif;`];
  });
  const now = rules.map((rule) => reads(world, rule).some(([role, fact]) => {
    const r = world.roles.find((one) => one.id === role);
    return r.choices[r.today].fact(fact) === UNKNOWN;
  }));
  model.unknownNow = now;
}

/** What the present machine leaves without a site, the rules in the order of the file. */
export function spareModel(model) {
  const counted = model.unknownNow.map((u, k) => (u ? '0' : `missing${k}`));
  const present = model.roles.map((r, i) => `constraint x${i} = ${r.today + 1};`);
  const value = counted.reduce((sum, m) => `(${sum}) * 100 + ${m}`, '0');
  return model.text([...present, `var int: all_missing = ${value};`, 'solve minimize all_missing;',
    `output [show([${counted.join(',')}])];`]);
}
