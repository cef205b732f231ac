// A MiniZinc model in the making: one variable per role, tables over its choices, constraints.
// Gecode's integers have 32 bits: what may be larger is held in two limbs.
const LIMB = 2 ** 24;
const MOST = 2 ** 30;

export class Model {
  constructor(world) {
    this.world = world;
    this.lines = [];
    this.seen = new Map();
    this.roles = world.roles;
    this.index = new Map(world.roles.map((r, i) => [r.id, i]));
    world.roles.forEach((r, i) => this.add(`var 1..${r.choices.length}: x${i};`));
  }

  add(line) {
    this.lines.push(line);
  }

  require(text) {
    this.add(`constraint ${text};`);
  }

  /** A constant array, once for all that hold the same. */
  array(values) {
    const text = `[${values.join(',')}]`;
    if (!this.seen.has(text)) {
      this.seen.set(text, `A${this.seen.size}`);
      this.add(`array[1..${values.length}] of int: ${this.seen.get(text)} = ${text};`);
    }
    return this.seen.get(text);
  }

  /** f(choice), a whole number, of what the role holds. */
  of(role, f) {
    const i = this.index.get(role), values = this.roles[i].choices.map(f);
    for (const v of values) if (!Number.isSafeInteger(v) || Math.abs(v) > MOST) throw new Error(`${v} is no number of 32 bits`);
    return values.every((v) => v === values[0]) ? `${values[0] < 0 ? `(${values[0]})` : values[0]}` : `${this.array(values)}[x${i}]`;
  }

  /** A truth about a choice. */
  is(role, f) {
    const text = this.of(role, (c) => (f(c) ? 1 : 0));
    return text === '0' ? 'false' : text === '1' ? 'true' : `(${text} = 1)`;
  }

  /** The sum over TERMS ([role, f], numbers of any size) + FIXED is at most 0. */
  atMostZero(terms, fixed) {
    const values = terms.map(([role, f]) => this.roles[this.index.get(role)].choices.map(f));
    const reach = values.reduce((sum, v) => sum + Math.max(...v.map(Math.abs)), Math.abs(fixed));
    if (!Number.isSafeInteger(reach)) throw new Error(`${reach} is too large`);
    if (reach < MOST) return `(${[...terms.map(([role, f]) => this.of(role, f)), fixed].join(' + ')} <= 0)`;
    const high = (v) => Math.floor(v / LIMB), low = (v) => v - high(v) * LIMB;
    const highs = [...terms.map(([role, f]) => this.of(role, (c) => high(f(c)))), high(fixed)].join(' + ');
    const lows = [...terms.map(([role, f]) => this.of(role, (c) => low(f(c)))), low(fixed)].join(' + ');
    const n = this.lines.length;
    this.add(`var 0..${(terms.length + 1) * LIMB}: low${n} = ${lows};`);
    this.add(`var int: high${n} = ${highs} + low${n} div ${LIMB};`);
    return `(high${n} < 0 \\/ (high${n} = 0 /\\ low${n} mod ${LIMB} = 0))`;
  }

  text(rest) {
    return [...this.lines, ...rest].join('\n');
  }
}

export const all = (list) => (list.length ? `(${list.join(' /\\ ')})` : 'true');
export const any = (list) => (list.length ? `(${list.join(' \\/ ')})` : 'false');
