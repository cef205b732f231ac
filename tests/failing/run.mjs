// Machines that fail: memory that is refused, disks that are full, a program that is ended by force.
//
//     node tests/failing/run.mjs memory|files|kills [--whole | --every-way] [--only NAME,NAME..]
//     node tests/failing/run.mjs self-test
//
// Quick, what is refused is each request or call that is reached by a way through the program that was
// not tried before, and a share of the others; whole, all. By every way: each request for memory that is
// reached by a new way, and not a share of them.
import fs from 'node:fs';
import { build, finish, isSame, shipped, usual, verdict, work } from './tools.mjs';
import { commands, drawJobs } from './jobs.mjs';
import { memory } from './memory.mjs';
import { files, smallDisk } from './files.mjs';
import { kills } from './kills.mjs';
import { planted, selfTest } from './self_test.mjs';

const [suite, ...rest] = process.argv.slice(2);
const whole = rest.includes('--whole');
const everyWay = rest.includes('--every-way');
const behind = (word) => (rest.includes(word) ? rest[rest.indexOf(word) + 1] : null);
const only = behind('--only')?.split(',');
const fault = behind('--planted');

const run = (command) => {
  const of = usual(command);
  const { right } = of;
  if (!verdict(right.signal === null && right.code !== 70, `${command.name}: as usual`, right.err)) return;
  const writes = !isSame(of.before, of.after);
  if (suite === 'memory') memory(of, whole, everyWay);
  if (suite === 'files') files(of, whole);
  if (suite === 'files' && command.name === 'options') smallDisk(of);
  if (suite === 'kills' && writes) kills(of, whole ? 100 : 6);
  if (suite === 'usual') console.log(command.name, right.code, right.out.length, right.err.slice(0, 200));
};

if (suite === 'self-test') {
  selfTest();
  finish();
}
fs.rmSync(`${work}/in`, { recursive: true, force: true });
fs.rmSync(`${work}/ways`, { force: true });
fs.mkdirSync(work, { recursive: true });
if (fault !== null) {
  run(planted(fault));
  finish();
}
drawJobs(build, work);
for (const command of commands(work, shipped)) if (!only || only.includes(command.name)) run(command);
finish();
