// Planted faults, each of which must be seen by the suite that is meant for it; without a fault all
// of them hold.
import path from 'node:path';
import { spawnSync } from 'node:child_process';
import { build, verdict } from './tools.mjs';

const meant = { crash: 'memory', other: 'memory', mute: 'memory', code: 'memory', swallow: 'files',
  settle: 'files', silent: 'files', left: 'files', gone: 'files', torn: 'kills', stays: 'kills' };

const suite = (name, fault) =>
  spawnSync('node', ['tests/failing/run.mjs', name, '--planted', fault], { encoding: 'latin1' });

export const selfTest = () => {
  for (const name of ['memory', 'files', 'kills']) {
    const done = suite(name, 'none');
    verdict(done.status === 0 && /^[1-9]\d* passed, 0 failed$/m.test(done.stdout),
      `${name} holds without a fault`, done.stdout.slice(0, 500) + done.stderr.slice(0, 500));
  }
  for (const [fault, name] of Object.entries(meant)) {
    const done = suite(name, fault);
    verdict(done.status === 1 && done.stdout.includes('FAILED planted'), `the fault "${fault}" is seen by ${name}`,
      done.stdout.slice(0, 500) + done.stderr.slice(0, 300));
  }
};

export const planted = (fault) => ({
  name: 'planted',
  share: 1,
  program: path.resolve(build, 'tests/failing-planted'),
  words: [fault, 'page.html'],
  before: [['page.html', 'the old page\n']],
});
