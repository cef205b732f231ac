// Files that cannot be read, written, settled, renamed; disks that are full; standard files that are
// closed: the exit code that README gives, a sentence with the file and the reason, the old file as it
// was, and nothing left beside it.
import fs from 'node:fs';
import path from 'node:path';
import { spawnSync } from 'node:child_process';
import { program, restore, run, snapshot, torn, isSame, verdict, work } from './tools.mjs';
import { sumOf } from './memory.mjs';

const told = path.join(work, 'count');
const ways = 4;
// Whoever fails to do this must say so; the rest may be done without.
const due = new Set(['write', 'fsync', 'rename', 'mkstemp', 'fchmod']);
const reasons = ['No space left on device', 'Input/output error', 'Interrupted system call',
  'Read-only file system', 'Too many open files', 'Permission denied', 'File too large',
  'No such file or directory', 'Bad file descriptor'];
const codes = [66, 70, 73, 74];

const judge = (of, done, what, failed, isShort) => {
  const label = `${of.command.name}: ${what}`;
  const now = snapshot(of.folder);
  const same = done.code === of.right.code && done.out === of.right.out && done.err === of.right.err;
  const asUsual = same && isSame(now, of.after);
  const complains = codes.includes(done.code) && reasons.some((r) => done.err.includes(r));
  const good = done.signal === null && (asUsual || complains) && !(same && !asUsual);
  verdict(good, label, `code ${done.code} ${done.signal ?? ''}: ${done.err.slice(0, 200)}`);
  if (isShort) verdict(asUsual, label, `a short ${failed} is no failure: ${done.err.slice(0, 200)}`);
  else if (due.has(failed) && !done.err.includes('Interrupted'))
    verdict(!asUsual || done.isRetried, label, `a ${failed} failed, and no word of it`);
  const fault = torn(now, of.before, of.after);
  verdict(fault === null, `${label}: files`, fault);
};

// From where files are written: the command anew for each way in which each call may fail. Quick, each call
// in two ways, in turn; in one where the catalog is large, and each other call in one where it takes long.
const writes = (of, from, calls, whole) => {
  const step = whole || of.command.share === 1 ? 1 : of.command.isSlow ? 2 * ways : of.command.isLarge ? ways : 2;
  for (let at = from + 1; at <= calls; at++)
    for (let as = at % step; as < ways; as += step) {
      restore(of.folder, of.before);
      fs.rmSync(told, { force: true });
      const done = run(of.command, of.folder, {
        FAILING_WHAT: 'io', FAILING_AT: String(at), FAILING_AS: String(as), FAILING_COUNT: told,
      });
      const [, , , failed, way] = fs.existsSync(told)
        ? fs.readFileSync(told, 'latin1').trim().split(' ') : [0, 0, 0, 'none', 'none'];
      done.isRetried = way === 'EINTR' || failed === 'none';
      judge(of, done, `call ${at} (${failed}) ${way}`, failed, way === 'short');
    }
};

// What a shell or a person does to a program.
const around = (of, whole) => {
  const { command, folder, right } = of;
  const words = command.words.map((w) => `'${w.replaceAll("'", "'\\''")}'`).join(' ');
  const shell = (line) => {
    restore(folder, of.before);
    const done = spawnSync('bash', ['-c', line.replace('@', `'${command.program ?? program}' ${words}`)],
      { cwd: folder, env: { ...process.env, TZ: 'UTC' }, encoding: 'latin1', timeout: 120000,
        input: command.input ? fs.readFileSync(command.input) : '' });
    return { code: done.status, signal: done.signal, out: done.stdout, err: done.stderr };
  };
  const files = (what) => {
    const fault = torn(snapshot(folder), of.before, of.after);
    verdict(fault === null, `${command.name}: ${what}: files`, fault);
  };
  for (const [what, to] of [['standard output is closed', '>&-'], ['standard output is full', '>/dev/full']]) {
    const done = shell(`@ ${to}`);
    const good = right.out === ''
      ? done.code === right.code
      : done.code === 74 && done.err.includes('standard output');
    verdict(good, `${command.name}: ${what}`, `code ${done.code}: ${done.err.slice(0, 200)}`);
    files(what);
  }
  if (of.command.isSlow && !whole) return;
  let done = shell('@ 2>&-');
  verdict(done.code === right.code && done.out === right.out, `${command.name}: standard error is closed`, `code ${done.code}`);
  files('standard error is closed');
  if (!command.input) {
    done = shell('@ <&-');
    verdict(done.code === right.code && done.out === right.out, `${command.name}: standard input is closed`, `code ${done.code}`);
  }
  if (of.after.size > of.before.size || !isSame(of.before, of.after)) {
    done = shell('ulimit -f 0; @');
    verdict(codes.includes(done.code), `${command.name}: no file may grow`, `code ${done.code}: ${done.err.slice(0, 200)}`);
    files('no file may grow');
    const gone = spawnSync('bash', ['-c', `mkdir gone && cd gone && rmdir ../gone && exec '${command.program ?? program}' ${words}`],
      { cwd: folder, env: { ...process.env, TZ: 'UTC' }, encoding: 'latin1' });
    verdict(gone.signal === null && codes.includes(gone.status), `${command.name}: the folder is gone`,
      `code ${gone.status}: ${gone.stderr.slice(0, 200)}`);
  }
};

export const files = (of, whole) => {
  const begun = Date.now();
  restore(of.folder, of.before);
  const sum = sumOf(of, { FAILING_WHAT: 'io' }, whole ? 1 : 997, whole ? 1 : of.command.share ?? 8);
  restore(of.folder, of.before);
  fs.rmSync(told, { force: true });
  run(of.command, of.folder, { FAILING_WHAT: 'io', FAILING_COUNT: told });
  const [calls, from] = fs.readFileSync(told, 'latin1').split(' ').map(Number);
  if (from >= 0) writes(of, from, calls, whole);
  around(of, whole);
  console.log(`${of.command.name}: ${calls} calls, ${sum?.tried ?? 0} in forks, ${from < 0 ? 0 : calls - from} of writing, ` +
    `${Date.now() - begun} ms`);
};

// A disk of 64 kB, where one may be made (by root): not whole, and told.
export const smallDisk = (of) => {
  const disk = path.join(work, 'disk');
  fs.mkdirSync(disk, { recursive: true });
  if (spawnSync('mount', ['-t', 'tmpfs', '-o', 'size=16k', 'none', disk]).status !== 0) {
    console.log('no small disk can be made here: only /dev/full and refused calls were tried');
    return;
  }
  try {
    fs.writeFileSync(path.join(disk, 'page.html'), 'the old page\n');
    const { words } = of.command;
    const done = run({ ...of.command, words }, disk);
    verdict(done.code === 74 && done.err.includes('No space left on device') && done.err.includes('page.html'),
      `${of.command.name}: the disk is full`, `code ${done.code}: ${done.err}`);
    verdict(fs.readdirSync(disk).join() === 'page.html' &&
      fs.readFileSync(path.join(disk, 'page.html'), 'latin1') === 'the old page\n',
      `${of.command.name}: the old page stays on the full disk`, fs.readdirSync(disk).join());
  } finally {
    spawnSync('umount', [disk]);
  }
};
