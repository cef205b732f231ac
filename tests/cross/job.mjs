// Reads a job's files (catalog/FORMATS.md, sections 1 to 10) into plain objects. Money is held in
// minor units, numbers in whole thousandths. Written from that page alone; shares no code with the
// program or with the checker by brute force.
import { readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';

// ISO 4217, the currencies of the generated jobs.
const DIGITS = { EUR: 2, JPY: 0, TND: 3 };

/** To the nearest, halves away from zero. */
export function round(x) {
  const whole = Math.floor(Math.abs(x));
  const near = Math.abs(x) - whole >= 0.5 ? whole + 1 : whole;
  return x < 0 ? -near : near;
}

export const milli = (x) => round(x * 1000);

function minor(text, digits) {
  const [whole, part = ''] = text.split('.');
  return Number(whole + part.padEnd(digits, '0'));
}

const days = (from, to) => round((Date.parse(to) - Date.parse(from)) / 86400000);

function readListings(text, money) {
  const [head, ...rows] = text.split(/\r?\n/).filter((line) => line !== '');
  const names = head.split(',');
  return rows.map((row) => {
    const cell = Object.fromEntries(row.split(',').map((value, i) => [names[i], value]));
    return { part: cell.part, seller: cell.seller, price: money(cell.price), stock: +cell.stock, days: +cell.days };
  });
}

function roleOf(json) {
  const most = json.most ?? 1;
  const counts = json.counts ?? Array.from({ length: most }, (_, i) => i + 1);
  return { id: json.role, least: json.least ?? 0, most, whole: json.kept === 'all-or-none',
    kinds: json.new_kinds ?? 1, counts, minutes: json.minutes ?? 0, present: [] };
}

function readPresent(job, roles, parts) {
  for (const role of roles)
    for (const json of job.machine[role.id] ?? []) {
      const part = parts.get(json.part);
      role.present.push({ id: json.part, count: json.count ?? 1, offer: json.offer,
        facts: { ...part?.facts, ...json.facts } });
    }
}

/** What is for sale or given, less what wishes and limits leave out. */
function offeredLines(job, parts, sellers, listings) {
  const avoid = new Set(job.wishes.avoid ?? []), limit = job.wishes.limits?.days ?? Infinity;
  const wanted = (l) => !avoid.has(l.part) && !avoid.has(parts.get(l.part).maker);
  const bought = listings.filter((l) => wanted(l) && l.days + sellers.get(l.seller).days <= limit);
  const given = (job.given ?? []).map((g) => ({ part: g.part, seller: 'client', price: 0, stock: g.count ?? 1,
    days: g.arrives_on ? days(job.date, g.arrives_on) : 0, must: (g.strings ?? []).includes('must-use') }));
  return [...bought, ...given.filter((g) => wanted(g) && g.days <= limit)];
}

/** The whole job in FOLDER. */
export function readJob(folder) {
  const read = (name) => JSON.parse(readFileSync(join(folder, name), 'utf8'));
  const job = read('scenario.json');
  for (const name of ['quotes', 'phases'])
    if (job[name]) throw new Error(`the translator knows no ${name}`);
  const digits = DIGITS[job.currency], money = (text) => minor(text ?? '0', digits);
  const roles = read('roles.json').roles.map(roleOf);
  roles.sort((a, b) => (a.id < b.id ? -1 : 1));
  const parts = new Map();
  for (const name of readdirSync(join(folder, 'parts')))
    for (const part of read(`parts/${name}`).parts) parts.set(part.id, part);
  readPresent(job, roles, parts);
  for (const g of job.given ?? [])
    if (g.role) parts.set(g.part, { id: g.part, role: g.role, facts: g.facts });
  const sellers = new Map(read('sellers.json').sellers.map((s) => [s.id, {
    id: s.id, delivery: money(s.delivery), free: s.free_from === undefined ? null : money(s.free_from),
    days: s.delivery_days ?? 0, minutes: s.minutes ?? 0 }]));
  sellers.set('client', { id: 'client', delivery: 0, free: null, days: 0, minutes: 0 });
  const facts = read('facts.json');
  const lines = offeredLines(job, parts, sellers, readListings(readFileSync(join(folder, 'listings.csv'), 'utf8'), money));
  const budget = Math.max(0, money(job.budget.total) - money(job.budget.reserve) - money(job.budget.sundries));
  return { job, digits, money, roles, parts, sellers, lines, budget, facts: new Map(facts.facts.map((f) => [f.fact, f])),
    derived: facts.derived ?? [], tasks: read('tasks.json').tasks.sort((a, b) => (a.id < b.id ? -1 : 1)),
    rules: read('rules.json').rules, charges: read('charges.json').charges,
    criteria: read('criteria.json').criteria, uses: new Map(read('uses.json').uses.map((u) => [u.id, u])),
    rate: money(job.labour?.rate_per_hour), tax: job.tax ?? null, allow: job.allow_unknown ?? false,
    observed: new Set(job.observed ?? []) };
}
