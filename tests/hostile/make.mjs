// How a case's files differ from the sound ones: the verbs of cases.txt.
import { execFileSync, spawn } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';

const BIDI = '\u202e\u2066\u200f';
const times = {
  x: (n) => 'x'.repeat(n),
  nine: (n) => '9'.repeat(n),
  zero: (n) => '0'.repeat(n),
  open: (n) => '['.repeat(n),
  close: (n) => ']'.repeat(n),
  obj: (n) => '{"a":'.repeat(n),
  blank: (n) => ' '.repeat(n),
  one: (n) => Array(n).fill('1').join(','),
  comma: (n) => ','.repeat(n),
  semi: (n) => ';'.repeat(n),
  quote: (n) => '"'.repeat(n),
  slash: (n) => '\\\\'.repeat(n),
  lf: (n) => '\n'.repeat(n),
  row: (n) => Array.from({ length: n }, (_, i) => `X-${i},thing ${i},1.00\n`).join(''),
  same: (n) => 'X-1,row eight,1.00\n'.repeat(n),
  listing: (n) => 'row-16,counter,34.50,4,0,24,14\n'.repeat(n),
  key: (n) => Array.from({ length: n }, (_, i) => `"k${i}":1`).join(','),
  dup: (n) => Array(n).fill('"a":1').join(','),
  lists: (n) => Array(n).fill('[]').join(','),
  maps: (n) => Array(n).fill('{"part":"x"}').join(','),
  bidi: (n) => BIDI.repeat(n),
  wide: (n) => '\u{1F600}'.repeat(n),
};

// @x1000@: a thousand times x, and so on for every name above.
const filled = (text) => text.replace(/@([a-z]+)(\d+)@/g, (_, name, n) => times[name](Number(n)));

// A text with \n \r \t \\ \0 and \xHH as bytes.
const bytes = (text) => {
  const parts = [];
  for (const [, escape, plain] of text.matchAll(/\\(x[0-9A-Fa-f]{2}|[nrt0\\])|([^\\]+|\\)/gs)) {
    if (escape === undefined) parts.push(Buffer.from(filled(plain)));
    else if (escape[0] === 'x') parts.push(Buffer.from([parseInt(escape.slice(1), 16)]));
    else parts.push(Buffer.from({ n: '\n', r: '\r', t: '\t', 0: '\0', '\\': '\\' }[escape]));
  }
  return Buffer.concat(parts);
};

const HOLE = '@hole@';
const steps = (where) => (where === '$' ? [] : where.split('.').map((s) => (/^\d+$/.test(s) ? Number(s) : s)));

// JSON text in which the value at `where` is `raw`, to the letter; `name`: under that name, to the letter.
export function put(json, where, raw, name) {
  const tree = structuredClone(json);
  const all = steps(where);
  if (all.length === 0 && name === undefined) return raw;
  const last = name === undefined ? all.pop() : HOLE;
  let at = tree;
  for (const step of all) at = at[step] ??= {};
  at[last] = HOLE;
  const text = JSON.stringify(tree);
  return name === undefined
    ? text.replace(`"${HOLE}"`, () => raw)
    : text.replace(`"${HOLE}":"${HOLE}"`, () => `${name}:${raw}`);
}

const verbs = {
  set: (file, [where, ...raw]) =>
    fs.writeFileSync(file, bytes(put(JSON.parse(fs.readFileSync(file)), where, raw.join(' ')))),
  name: (file, [where, name, ...raw]) =>
    fs.writeFileSync(file, bytes(put(JSON.parse(fs.readFileSync(file)), where, raw.join(' '), name))),
  drop: (file, [where]) => {
    const tree = JSON.parse(fs.readFileSync(file));
    const all = steps(where);
    const last = all.pop();
    delete all.reduce((at, step) => at[step], tree)[last];
    fs.writeFileSync(file, JSON.stringify(tree));
  },
  raw: (file, words) => fs.writeFileSync(file, bytes(words.join(' '))),
  add: (file, words) => fs.appendFileSync(file, bytes(words.join(' '))),
  row: (file, [line, ...words]) => {
    const lines = fs.readFileSync(file, 'utf8').split('\n');
    lines[Number(line) - 1] = bytes(words.join(' ')).toString('latin1');
    fs.writeFileSync(file, Buffer.from(lines.join('\n'), 'latin1'));
  },
  enc: (file, [how]) => {
    const text = fs.readFileSync(file, 'utf8').replaceAll('\r\n', '\n');
    const swapped = () => Buffer.from(`\ufeff${text}`, 'utf16le').swap16();
    const made = {
      utf16le: () => Buffer.from(`\ufeff${text}`, 'utf16le'),
      utf16be: swapped,
      utf16: () => Buffer.from(text, 'utf16le'),
      bom: () => Buffer.from(`\ufeff${text}`),
      cr: () => Buffer.from(text.replaceAll('\n', '\r')),
      crlf: () => Buffer.from(text.replaceAll('\n', '\r\n')),
      utf32: () => Buffer.concat([...`\ufeff${text}`].map((c) => Buffer.from([c.codePointAt(0) & 255, c.codePointAt(0) >> 8, 0, 0]))),
    };
    fs.writeFileSync(file, made[how]());
  },
  cut: (file, [n]) => fs.truncateSync(file, Number(n)),
  size: (file, [mib]) => {
    fs.appendFileSync(file, '');
    fs.truncateSync(file, Number(mib) * 1024 * 1024);
  },
  gone: (file) => fs.rmSync(file, { recursive: true }),
  dir: (file) => {
    fs.rmSync(file, { force: true });
    fs.mkdirSync(file);
  },
  fifo: (file) => {
    fs.rmSync(file, { force: true });
    execFileSync('mkfifo', [file]);
  },
  link: (file, [to]) => {
    fs.rmSync(file, { recursive: true, force: true });
    fs.symlinkSync(to, file);
  },
  many: (folder, [n, of], root) => {
    const text = fs.readFileSync(path.join(root, of));
    for (let i = 0; i < Number(n); i++) fs.writeFileSync(path.join(folder, `many-${i}.json`), text);
  },
  deny: (file) => fs.chmodSync(file, 0),
  // A file that grows while it is read.
  grow: (file) => spawn('sh', ['-c', 'while :; do head -c 100000 /dev/zero | tr "\\0" " " >>"$1"; done', 'grow', file], { stdio: 'ignore' }),
  // Somebody who writes a sound file into a pipe.
  feed: (file, [from]) => spawn('sh', ['-c', 'cat "$2" >"$1"', 'feed', file, path.join(path.dirname(file), from)], { stdio: 'ignore' }),
};

// Makes the files of a case in `folder`; gives back the processes to be ended after it.
export function make(folder, recipe) {
  const helpers = [];
  for (const step of recipe === '-' ? [] : recipe.split(' ;; ')) {
    const [verb, name, ...words] = step.split(' ');
    if (verbs[verb] === undefined) throw new Error(`cases.txt: there is no verb ${verb}`);
    const file = path.join(folder, name);
    // The sound files are links to one copy: only a file of its own is changed.
    if (fs.existsSync(file) && fs.lstatSync(file).isSymbolicLink() && verb !== 'link') {
      const real = fs.realpathSync(file);
      fs.rmSync(file);
      fs.copyFileSync(real, file);
    }
    const helper = verbs[verb](file, words, folder);
    if (helper?.kill) helpers.push(helper);
  }
  return helpers;
}

// Commands that many cases share, and letters that a table cannot show: %X an escape, %E a turned direction,
// %N nothing.
const SHORT = {
  PRICES: 'intake prices list.csv --profile list --catalog catalog',
  HAND: 'handover scenario.json --option 1 --measured measured.json',
};

export const words = (line) =>
  line
    .replace(/^[A-Z]+/, (short) => SHORT[short] ?? short)
    .split(' ')
    .map((word) => filled(word.replace(/%X/g, '\u001b').replace(/%E/g, '\u202e').replace(/%N/g, '')));
