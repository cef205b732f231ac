// Every request for memory refused, once and from then on, over every command: no crash, no other
// answer, no half file; one sentence, and the exit code that README gives for lacking memory.
import fs from 'node:fs';
import path from 'node:path';
import { restore, run, snapshot, torn, verdict, count, work } from './tools.mjs';

const reportOf = (name) => path.join(work, `${name}.report`);

// Before the program writes: forks.
export const sumOf = (of, env, stride, share) => {
  const report = reportOf(of.command.name);
  fs.rmSync(report, { force: true });
  const done = run(of.command, of.folder, {
    ...env,
    FAILING_EACH: report,
    FAILING_STRIDE: String(stride),
    FAILING_SHARE: String(share),
    ...(stride > 1 ? { FAILING_SEEN: path.join(work, 'ways') } : {}),
    FAILING_RIGHT: of.kept,
  });
  const text = fs.existsSync(report) ? fs.readFileSync(report, 'latin1') : '';
  const sum = /TRIED (\d+) WRONG (\d+) AS-IF-NOTHING (\d+) CALLS (\d+) WRITES-FROM (-?\d+)/.exec(text);
  const { name } = of.command;
  if (!verdict(sum !== null, `${name}: came to its end`, done.err.slice(0, 300))) return null;
  const [tried, wrong, , calls, from] = sum.slice(1).map(Number);
  count(tried - wrong, wrong);
  const lines = text.split('\n').filter((l) => l.startsWith('WRONG'));
  const kinds = new Map();
  for (const line of lines) {
    const kind = line.replace(/^WRONG \d+ [^:]*: /, '').replace(/\|.*/, '');
    if (!kinds.has(kind)) console.log(`FAILED ${name}: ${line}`);
    kinds.set(kind, (kinds.get(kind) ?? 0) + 1);
  }
  for (const [kind, times] of kinds) if (times > 1) console.log(`FAILED ${name}: ${times} times ${kind}`);
  verdict(done.code === of.right.code && done.out === of.right.out, `${name}: its own end`, done.err);
  const fault = torn(snapshot(of.folder), of.before, of.after);
  verdict(fault === null, `${name}: files after forks`, fault);
  return { calls, from, tried };
};

const judge = (of, done, what) => {
  const { name } = of.command;
  const fault = torn(snapshot(of.folder), of.before, of.after);
  const asUsual = done.code === of.right.code && done.out === of.right.out && done.err === of.right.err;
  const told = done.err.split('out of memory').length === 2 && done.err.includes('swapworth: out of memory.\n');
  const good =
    done.signal === null &&
    (asUsual || (done.code === 70 && told) ||
      ((done.code === 73 || done.code === 74) && done.err.includes('Cannot allocate memory')));
  verdict(good, `${name}: ${what}`, `code ${done.code} ${done.signal ?? ''} ${done.err.slice(0, 200)}`);
  verdict(fault === null, `${name}: ${what}: files`, fault);
};

// From where files are written: the command anew for each.
const writes = (of, from, calls) => {
  for (let at = from; at <= calls; at++)
    for (const as of [0, 1]) {
      restore(of.folder, of.before);
      const done = run(of.command, of.folder, {
        FAILING_WHAT: 'alloc', FAILING_AT: String(at), FAILING_AS: String(as),
      });
      judge(of, done, `request ${at} ${as ? 'and all after it' : 'once'}`);
    }
};

export const memory = (of, whole, everyWay) => {
  const begun = Date.now();
  const sum = sumOf(of, { FAILING_WHAT: 'alloc' }, !whole ? 9973 : of.command.isLarge ? 199 : 1, whole || everyWay ? 1 : of.command.share ?? 8);
  if (sum !== null && sum.from >= 0) writes(of, sum.from + 1, Math.min(sum.calls, sum.from + (whole ? 400 : 8)));
  if (sum !== null)
    console.log(
      `${of.command.name}: ${sum.calls} requests, ${sum.tried} refusals, ${Date.now() - begun} ms`);
};
