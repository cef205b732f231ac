// Every command of swapworth on small inputs, each in a folder of its own.
import fs from 'node:fs';
import path from 'node:path';
import { spawnSync } from 'node:child_process';
import { program } from './tools.mjs';

const generate = (tool, seed, folder, ...more) => {
  fs.rmSync(folder, { recursive: true, force: true });
  const made = spawnSync(tool, [String(seed), folder, ...more]);
  if (made.status !== 0) throw new Error(`no job of seed ${seed}: ${made.stderr}`);
};

// The jobs that the generator draws stand in `work`; `shipped` is the repository.
export const drawJobs = (build, work) => {
  const tool = path.join(build, 'tests/generate');
  generate(tool, 4, path.join(work, 'drawn'), '--options', '--bench');
  generate(tool, 12, path.join(work, 'plain'));
  generate(tool, 8, path.join(work, 'stands'), '--options', '--bench');
  const job = JSON.parse(fs.readFileSync(path.join(work, 'drawn/scenario.json')));
  const { date, budget: { total } } = job;
  job.catalog = 'drawn';
  job.phases = { until: `${Number(date.slice(0, 4)) + 1}${date.slice(4)}`,
                 sums: [{ on: date, sum: total }, { on: `${date.slice(0, 8)}28`, sum: total }] };
  fs.writeFileSync(path.join(work, 'phases.json'), JSON.stringify(job));
};

// An option of the job that buys of a shop, and a part that it buys there.
const bought = (job) => {
  for (const option of ['1', '2', '3']) {
    const done = spawnSync(program, ['shopping', job, '--option', option, '--json'], { encoding: 'utf8' });
    const order = done.status === 0 ? JSON.parse(done.stdout).orders.find((o) => o.seller !== 'client') : undefined;
    if (order) return { option, bought: order.lines[0].part };
  }
  throw new Error(`no option of ${job} buys anything`);
};

// {name, words, input (a file as standard input), before (files of the folder: [name, text]), isLarge (it
// reads the shipped catalog, which takes very many requests), isSlow}
export const commands = (work, shipped) => {
  const drawn = path.join(work, 'drawn/scenario.json');
  const plain = path.join(work, 'plain/scenario.json');
  const catalog = path.join(shipped, 'catalog');
  const scenario = (name) => path.join(shipped, 'scenarios', name);
  const dumps = scenario('first-look');
  const { option, bought: lost } = bought(drawn);
  const { id: part } = JSON.parse(fs.readFileSync(path.join(work, 'drawn/parts/parts.json')))
    .parts.at(-1);
  const draft = fs.readFileSync(path.join(shipped, 'tests/intake/ask/draft.json'), 'latin1');
  const jobs = [['job.json', draft], ['answers.json', fs.readFileSync(scenario('first-talk/answers.json'), 'latin1')]];
  const of = (name, ...words) => ({ name, words });
  return [
    of('help', 'help'),
    of('misuse', 'plan'),
    of('unknown', 'nothing-of-that-name'),
    of('plan', 'plan', drawn),
    of('plan-json', 'plan', drawn, '--json', '--best', '3', '--verify'),
    of('plan-budget', 'plan', plain, '--budget', '0', '-o', 'plan.txt'),
    of('curve', 'curve', drawn, '--svg', 'curve.svg', '-o', 'curve.txt'),
    of('curve-csv', 'curve', drawn, '--csv'),
    of('options', 'options', drawn, '-o', 'page.html', '--json'),
    of('shopping', 'shopping', drawn, '--option', '1'),
    of('shopping-csv', 'shopping', drawn, '--option', '1', '--csv', '-o', 'orders.csv'),
    of('gone', 'shopping', drawn, '--option', option, '--gone', lost),
    of('dearer', 'shopping', drawn, '--option', option, '--set', `quotes.${lost}.price=9999`, '--json'),
    of('bench', 'bench', drawn, '--option', '1', '-o', 'bench.html'),
    of('bench-text', 'bench', drawn, '--option', '1'),
    of('bench-stands', 'bench', path.join(work, 'stands/scenario.json'), '--option', '1', '--json'), // has a thing on a site
    of('look', 'look', drawn),
    of('look-json', 'look', drawn, '--json'),
    of('explain', 'explain', drawn),
    of('explain-part', 'explain', drawn, part),
    of('fits', 'fits', drawn, part),
    of('nothing-fits', 'plan', drawn, '--budget', '0'),
    of('over', 'why', drawn, part, '--over', lost),
    of('cases', 'whatif', drawn, '--set', 'budget.total=0,50,100', '--set', `wishes.avoid.${part}=yes`),
    of('whatif', 'whatif', drawn, '--set', 'budget.total=100'),
    of('first', 'first', drawn),
    of('phases', 'phases', path.join(work, 'phases.json')),
    of('ranges', 'ranges', plain),
    of('sure', 'sure', drawn, '--seconds', '20'),
    of('sure-options', 'sure', drawn, '--options', '--prices', '0', '--estimates', '0', '--seconds', '20'),
    of('ask-next', 'ask-next', drawn),
    of('map', 'map', drawn, '--svg', 'map.svg', '--json'),
    of('check', 'check', drawn, path.dirname(drawn)),
    of('check-bad', 'check', path.join(shipped, 'tests/cli/faulty.json'), '--json'),
    of('export', 'export', drawn, '--lp'),
    of('export-json', 'export', drawn, '--mps', '--json', '-o', 'job.json'),
    of('input', 'plan', '-', '--catalog', path.dirname(drawn)),
    of('into-catalog', 'plan', drawn, '-o', path.join(path.dirname(drawn), 'roles.json')),
    of('over-itself', 'plan', drawn, '-o', drawn),
    of('plan-shipped', 'plan', scenario('good-enough.json'), '--brief'),
    of('why', 'why', drawn, part),
    of('look-shipped', 'look', scenario('attic-desk.json'), '--json'),
    of('handover', 'handover', scenario('good-enough.json'), '--option', '2', '--measured',
       path.join(shipped, 'tests/papers/measured-good-enough.json'), '--record', 'shop.json', '--seconds', '3600'),
    of('dumps', 'intake', 'dumps', dumps, '--catalog', catalog, '-o', 'draft.json', '--card', 'card.txt',
       '--date', '2026-03-02'),
    { ...of('piece', 'intake', 'piece', 'job.json', 'cooler', 'hushmere-tower-3', '--catalog', catalog,
            '-o', 'job.json'), before: jobs },
    of('prices', 'intake', 'prices', scenario('lists/millrace-week.csv'), '--profile', 'millrace-week',
       '--catalog', catalog, '-o', 'listings.csv', '--whole'),
    { ...of('ask', 'intake', 'ask', 'job.json', '--answers', 'answers.json', '--catalog', catalog,
            '--keep-answers', 'kept.json'), before: jobs },
  ].map((c) => ({
    ...c,
    input: c.name === 'input' ? drawn : undefined,
    isSlow: c.name === 'handover',
    isLarge: c.words.some((w) => w === catalog || w.startsWith(path.join(shipped, 'scenarios'))),
  }));
};
