// Ended by force at a moment of the writing: each file is the old one or the new one, whole, and what
// was begun beside it is gone after the next writing there. Files of strangers stay.
import fs from 'node:fs';
import path from 'node:path';
import { isSame, restore, run, snapshot, torn, verdict, work } from './tools.mjs';

const told = path.join(work, 'count');
const isOurs = (name) => /^(?:.*\/)?\.swapworth-desk-\d+-[A-Za-z0-9]{6}$/.test(name);

// None of them is one that the program may take away: its maker lives, or it is not named like that.
const strangers = [
  [`.swapworth-desk-${process.pid}-aaaaaa`, 'of a process that lives\n'],
  ['.swapworth-desk-999999998-notes', 'a note\n'],
  ['.swapworth-desk-x-aaaaaa', 'a note\n'],
  ['page.html.a1B2c3', 'a page of someone else\n'],
];

let state = 20261129;
const below = (most) => {
  state = (Math.imul(state, 1103515245) + 12345) >>> 0;
  return Math.floor((state / 2 ** 32) * most);
};

export const kills = (of, times) => {
  const { folder } = of;
  const before = new Map([...of.before, ...strangers]);
  const after = new Map([...of.after, ...strangers]);
  const { name } = of.command;
  restore(folder, before);
  fs.rmSync(told, { force: true });
  const env = { FAILING_WHAT: 'kill' };
  run(of.command, folder, { ...env, FAILING_KILL: '999999999', FAILING_COUNT: told });
  const moments = Number(fs.readFileSync(told, 'latin1').split(' ')[2]);
  if (!verdict(moments > 3, `${name}: writes`, `${moments} moments`)) return;
  let left = 0;
  restore(folder, before);
  for (let i = 0; i < times; i++) {
    const at = 1 + below(moments);
    const done = run(of.command, folder, { ...env, FAILING_KILL: String(at) });
    verdict(done.signal === 'SIGKILL', `${name}: ends by force`, `${done.code} at ${at} of ${moments}`);
    const now = snapshot(folder);
    left += [...now.keys()].filter((k) => isOurs(k) && !before.has(k)).length > 0 ? 1 : 0;
    const fault = torn(new Map([...now].filter(([k]) => before.has(k) || !isOurs(k))), before, after);
    verdict(fault === null, `${name}: ended at ${at} of ${moments}`, fault);
    const stale = [...now.keys()].filter((k) => isOurs(k) && !before.has(k)).length;
    verdict(stale <= of.after.size + 1, `${name}: leftovers are swept at the next writing`, `${stale} are there`);
    if (below(4) === 0) for (const [k, text] of before) fs.writeFileSync(path.join(folder, k), text, 'latin1');
  }
  const done = run(of.command, folder);
  verdict(done.code === of.right.code, `${name}: after the kills`, done.err);
  const now = snapshot(folder);
  verdict(isSame(now, after), `${name}: nothing is left after the next writing`, [...now.keys()].join(' '));
  console.log(`${name}: ${times} kills at ${moments} moments, ${left} left something behind`);
};
