// What the suites of failing machines share: runs of the program, folders before and after, counts.
import fs from 'node:fs';
import path from 'node:path';
import { spawnSync } from 'node:child_process';

export const build = process.env.BUILD ?? 'build';
export const program = path.resolve(process.env.SWAPWORTH ?? path.join(build, 'swapworth'));
export const shim = path.resolve(build, 'tests/failing.so');
export const shipped = process.cwd();
export const work = path.resolve(build, 'tests/failing',
  `${process.argv[2] ?? 'usual'}${process.argv.includes('--planted') ? '-planted' : ''}`);

let passed = 0;
let failed = 0;
const told = new Map();

// One judgement; of failures of one kind the first few are told.
export const verdict = (good, kind, what = '') => {
  if (good) {
    passed++;
    return true;
  }
  failed++;
  const times = (told.get(kind) ?? 0) + 1;
  told.set(kind, times);
  if (times <= 4) console.log(`FAILED ${kind}: ${what}`);
  return false;
};

export const finish = () => {
  for (const [kind, times] of told) if (times > 4) console.log(`FAILED ${kind}: ${times} times`);
  console.log(`${passed} passed, ${failed} failed`);
  process.exit(failed === 0 ? 0 : 1);
};

export const count = (good, bad) => {
  passed += good;
  failed += bad;
};

// The names of a folder with what is in them, folders too.
export const snapshot = (folder) => {
  const out = new Map();
  for (const entry of fs.readdirSync(folder, { withFileTypes: true })) {
    const at = path.join(folder, entry.name);
    if (entry.isDirectory()) for (const [k, v] of snapshot(at)) out.set(`${entry.name}/${k}`, v);
    else if (entry.isFile()) out.set(entry.name, fs.readFileSync(at, 'latin1'));
  }
  return out;
};

export const restore = (folder, files) => {
  fs.rmSync(folder, { recursive: true, force: true });
  fs.mkdirSync(folder, { recursive: true });
  for (const [name, text] of files) {
    fs.mkdirSync(path.dirname(path.join(folder, name)), { recursive: true });
    fs.writeFileSync(path.join(folder, name), text, 'latin1');
  }
};

export const isSame = (a, b) => a.size === b.size && [...a].every(([k, v]) => b.get(k) === v);

// Each file is the old or the new one whole, and there is none beside them. NULL, or what is wrong.
export const torn = (now, before, after) => {
  for (const [name, text] of now) {
    if (!before.has(name) && !after.has(name)) return `${name} was left`;
    if (text !== before.get(name) && text !== after.get(name)) return `${name} is torn`;
  }
  for (const name of before.keys()) if (!now.has(name) && after.has(name)) return `${name} is gone`;
  return null;
};

// Runs a command in its folder; out and err as texts.
export const run = (command, folder, env = {}, stdio = null) => {
  const input = command.input ? fs.openSync(command.input, 'r') : 'ignore';
  const outAt = path.join(work, 'told.out');
  const errAt = path.join(work, 'told.err');
  // Read too, by each fork: what was told before it.
  const files = [fs.openSync(outAt, 'w+'), fs.openSync(errAt, 'w+')];
  const preload = env.FAILING_WHAT ? { LD_PRELOAD: [process.env.BELOW, process.env.SHIM ?? shim].filter(Boolean).join(':') } : {};
  const done = spawnSync(command.program ?? program, command.words, {
    cwd: folder,
    stdio: stdio ?? [input, files[0], files[1]],
    env: { ...process.env, TZ: 'UTC', ...preload, ...env },
    // A fork for each of a hundred thousand requests takes its time; what hangs is ended all the same.
    timeout: 3600000,
    killSignal: 'SIGKILL',
  });
  files.forEach((f) => fs.closeSync(f));
  if (input !== 'ignore') fs.closeSync(input);
  return {
    code: done.status,
    signal: done.signal,
    out: fs.readFileSync(outAt, 'latin1'),
    err: fs.readFileSync(errAt, 'latin1'),
  };
};

// The command as it is without any failure: its folder before and after, and what it told.
export const usual = (command) => {
  const folder = path.join(work, 'in', command.name);
  restore(folder, new Map(command.before ?? []));
  const before = snapshot(folder);
  const right = run(command, folder);
  const after = snapshot(folder);
  const kept = path.join(work, 'right', command.name);
  fs.mkdirSync(kept, { recursive: true });
  fs.writeFileSync(path.join(kept, 'out'), right.out, 'latin1');
  fs.writeFileSync(path.join(kept, 'err'), right.err, 'latin1');
  fs.writeFileSync(path.join(kept, 'code'), String(right.code));
  restore(folder, before);
  return { command, folder, before, after, right, kept };
};
