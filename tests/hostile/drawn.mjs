// Sound files cut off at every byte, and each of their values replaced by values of other kinds.
// What is to come of it is told here from README and FORMATS, without sight of the program.
import fs from 'node:fs';
import path from 'node:path';

const refused = (name, file, text, command, words, more = {}) => ({
  name, file, text, command, code: 65, words, many: true, ...more,
});

// ---- cut off ------------------------------------------------------------------------------------

// A table of listings is sound when its header is whole and each row has its seven cells, none empty.
// The last cell of the last row may have lost digits: nothing can tell.
const sound_listings = (text) => {
  if (text.endsWith('\r')) return false; // a carriage return by itself
  const lines = text.split('\r\n').filter((line, i, all) => line !== '' || i < all.length - 1);
  const [header, ...rows] = lines;
  return (
    header === 'part,seller,price,stock,days,warranty_months,return_days' &&
    rows.every((row) => row.split(',').length === 7 && row.split(',').every((cell) => cell !== ''))
  );
};

// FORMATS section 30: a last row without a line end may have been cut, and is refused.
const sound_list = (text) => text.startsWith('number,name,price\n') && text.endsWith('\n');

function* cut(base, file, command, sound, step, always, report) {
  const text = fs.readFileSync(path.join(base, file));
  for (let n = 0; n < text.length; n += step) {
    const left = text.subarray(0, n);
    const is = sound(left.toString('utf8'));
    yield {
      name: `${file} cut off behind ${n} bytes`, file, text: left, command, always,
      code: is ? 0 : 65, words: is || report ? [] : [file], many: false, report,
    };
  }
}

const json = (text) => {
  try {
    JSON.parse(text);
    return true;
  } catch {
    return false;
  }
};

export function* cuts(base, whole) {
  const prices = ['intake', 'prices', 'list.csv', '--profile', 'list', '--catalog', 'catalog'];
  const after = ['handover', 'scenario.json', '--option', '1', '--measured', 'measured.json'];
  yield* cut(base, 'scenario.json', ['check', 'scenario.json'], json, whole ? 1 : 15, true);
  yield* cut(base, 'catalog/listings.csv', ['check', 'catalog'], sound_listings, whole ? 1 : 6, true);
  yield* cut(base, 'list.csv', prices, sound_list, 1, true, true);
  const large = whole ? 3 : 249;
  for (const file of fs.readdirSync(path.join(base, 'catalog')).filter((name) => name.endsWith('.json')))
    yield* cut(base, `catalog/${file}`, ['check', 'catalog'], json, large, true);
  yield* cut(base, 'measured.json', after, json, large, true);
}

// ---- other kinds ----------------------------------------------------------------------------------

const kind = (value) => (value === null ? 'null' : Array.isArray(value) ? 'list' : typeof value);

// One of each other kind. A number for a text and a text for a number are left out where FORMATS lets
// both stand: in expressions and amounts.
const others = { null: 'null', boolean: 'true', number: '7', string: '"zz top"', list: '["zz top"]', object: '{"zz":1}' };

function* places(value, at = []) {
  yield [at, value];
  if (value !== null && typeof value === 'object')
    for (const [name, child] of Object.entries(value)) yield* places(child, [...at, Array.isArray(value) ? Number(name) : name]);
}

const shown = (at) => `$${at.map((step) => (typeof step === 'number' ? `[${step}]` : `.${step}`)).join('')}`;

// Where FORMATS lets several kinds stand: terms and numbers in expressions (section 4), what stands in for a
// fact that is absent (section 3), and texts that say nothing (section 1).
const either = /(\.of\[\d+\]|\.product\[\d+\]|\.most|\.least|\.absent|\.is|\.rate|\.vents_cm2|\.times)$/;

export function* kinds(base, put) {
  const plans = [['scenario.json', ['check', 'scenario.json']]];
  for (const folder of ['catalog', 'catalog/parts', 'catalog/profiles'])
    for (const name of fs.readdirSync(path.join(base, folder)))
      if (name.endsWith('.json')) plans.push([`${folder}/${name}`, ['check', 'catalog']]);
  plans.push(['measured.json', ['handover', 'scenario.json', '--option', '1', '--measured', 'measured.json']]);
  plans.push(['calibration.json', ['plan', 'scenario.json', '--brief', '--calibration', 'calibration.json']]);
  for (const [file, command] of plans) {
    const tree = JSON.parse(fs.readFileSync(path.join(base, file)));
    for (const [at, value] of places(tree))
      for (const [name, raw] of Object.entries(others)) {
        if (name === kind(value)) continue;
        if (either.test(shown(at)) && ['number', 'string', 'object', 'boolean'].includes(name)) continue;
        yield refused(`${file}: ${name} at ${shown(at)}`, file, put(tree, at.length === 0 ? '$' : at.join('.'), raw), command, [file, '$']);
      }
  }
}
