import { execFileSync } from 'node:child_process';

// Which tests are asked whether a wrong line is noticed: those of its stage, from what notices most in a
// second of the processor to what notices least.
const few = ['worked', 'cli/drawn.mjs 2 11', 'random/run 1 20'];
// What happens when memory is refused, by a build that asks for memory for each object.
const lack = ['lack plan,why,options,gone,map,sure-options,bench,bench-text,bench-stands,over,cases'], lackIn = ['lack prices,ask,piece,dumps'];
// What reads or writes beyond an object, by the build with sanitizers: later than the others, since it is made for few.
const strict = ['strict worked', 'strict cli golden_outputs', 'strict cli/drawn.mjs 2 11', 'strict later 1 4', 'strict random/run 5001 8 --best 5 --groups --curve', 'strict unit'];
const plans = [...few, 'random/run 5001 20 --best 5 --groups --curve'];
const golden = ['cli golden_outputs', 'cli/scenarios --some look$|explain|saver-box.+(first|options)|good-enough.+(curve|bench|handover.+json)'];
const own = {
    answer: [...few, 'options 1 100', 'papers/learn.mjs build/swapworth build/tests/learn 1', 'fits 1 10', 'papers 1 10', 'why 1 2', 'conflict 1 10', 'later 1 60', 'ranges 1 4',
        ...golden, 'unit', 'sure/answers 1 20', 'findings', 'papers/shopping 1 3', 'papers/bundles 1 5', 'sure/map', 'early/run.mjs 1 1 6', ...lack],
    check: ['cli complaints', 'unit', 'schemas/edges.mjs', ...golden, 'hostile --share 12', 'schemas', 'fits 1 10', 'papers 1 10', 'intake/prices', 'cli/drawn.mjs 2 11', ...lack],
    desk: ['unit', 'desk/sheets', 'desk/server.mjs', 'failing/desk.mjs'],
    estimate: [...plans, ...golden, 'unit', 'published', 'air', 'sure/answers 1 20', 'findings', ...lack],
    fitouts: [...plans, 'options 1 100', 'fits 1 10', 'papers 1 10', ...golden, 'unit', ...lack],
    formulas: ['worked', 'cli/drawn.mjs 2 11', 'unit', 'published', ...golden, ...lack],
    intake: ['unit', 'intake/whole', 'intake/ask', 'intake/prices', 'intake/merge', 'intake/dumps', 'intake/binary --quick', 'intake/piece.mjs build/swapworth build/tests/piece 1', ...lackIn],
    program: [...plans, 'options 1 100', 'random/run 6001 15 --best 4 --apart 2 --groups', 'later 1 10', 'conflict 1 10',
        'sure 1 30', 'sure/answers 1 20', 'agree 5 40', 'early/run.mjs 1 1 6', 'random/run 20001 60 --curve', ...golden, 'unit', ...lack],
    render: ['worked', 'cli/drawn.mjs 2 11', 'papers 1 10', 'cli/drawn.mjs 1 1', ...golden, 'unit', 'cli/picture', ...lack, 'page --quick', 'page --papers-quick', ...lackIn],
    rules: [...few, 'fits 1 40', 'papers 1 10', ...golden, 'unit', 'rules/edges', ...lack],
    face: ['cli command_line', 'cli/drawn.mjs 2 11', ...golden, 'cli reading', 'cli writing', 'cli what_is_read', 'cli json_of_every_command', ...lack, ...lackIn],
    base: [...few, ...golden, 'unit', 'cli writing', 'intake/prices', ...lack],
    read: [...few, 'cli reading', 'unit', 'schemas/edges.mjs', 'intake/prices', 'schemas', ...lack],
};

// Last, what `make test` has besides and could notice it.
const ofJobs = /^(trade|properties|scenarios|drawn|early|relations|map|findings|bundles|papers|shopping|learn|agree|sure|sure-answers|cli|metamorphic|rules|random|random-worth|random-apart|fits|conflict|why|later|ranges|options|examples)$/;
const ofFiles = /^(hostile|schemas|edges|schema-edges|words|prices)$/;
const theRest = {
    check: [ofFiles, ofJobs], read: [ofFiles, ofJobs], base: [ofJobs, ofFiles], face: [ofJobs, /^(waiting|words|failing-kills|intake-.*|ask)$/],
    render: [ofJobs, /^page/], intake: [/^(intake|dumps|prices|ask)/, ofFiles], desk: [/^desk-(load|page)/],
};
const everything = execFileSync('bash', ['tests/run.sh', 'commands'], { encoding: 'utf8' }).trimEnd().split('\n').map(row => row.split('\t'));
const besides = file => (theRest[file.split('/')[1]] ?? [ofJobs])
    .flatMap(names => everything.filter(([name]) => names.test(name)).map(([name]) => `all ${name}`));

const withoutJobs = file => ['desk', 'intake'].includes(file.split('/')[1]);
export const suitesOf = file => [...own[file.split('/')[1]] ?? [...plans, ...golden, 'unit', ...lack],
    ...withoutJobs(file) ? ['strict unit'] : strict, ...besides(file)];

// What must be made again for a suite: the program, and those of its tools that hold the library.
const holders = {
    unit: ['build/unit'], air: ['build/tests/air-network'], agree: ['build/tests/agree', 'build/tests/requests'], sure: ['build/tests/sure'],
    'early/run.mjs': ['build/tests/early'], 'schemas/edges.mjs': ['build/tests/check-many'],
    lack: ['build/tests/swapworth-small'], 'papers/bundles': ['build/tests/bundles'], 'intake/dumps': ['build/tests/dumps'], 'desk/sheets': ['build/tests/desk-steps'], 'failing/desk.mjs': ['build/tests/desk-steps-small'],
};
const strictBuild = 'build/asan';
export const isStrict = suite => suite.startsWith('strict ');
export const strictObject = object => object.replace(/^build/, strictBuild);
export const needs = suite => suite.startsWith('all ') ? ['build/swapworth', 'build/unit', 'tools'] : suite === 'unit' ? holders.unit : ['build/swapworth', ...(holders[suite.split(' ')[0]] ?? [])];

export const watchesClock = suite => /^(all )?(desk|page)|waiting/.test(suite);

// The command of a suite's name, for a tree with its build in build/.
export function command(name) {
    const [what, ...words] = name.split(' ');
    if (what === 'all')
        return everything.find(([one]) => one === words[0])[1].split(' ');
    if (what === 'strict')
        return ['env', 'ASAN_OPTIONS=detect_leaks=1:no_huge_pages_for_shadow=0', `SWAPWORTH=${strictBuild}/swapworth`,
            ...command(words.join(' ')).map(word => word.replace(/^build\/unit$/, `${strictBuild}/unit`))];
    if (what === 'lack')
        return ['env', 'SWAPWORTH=build/tests/swapworth-small', 'node', 'tests/failing/run.mjs', 'memory', '--every-way', '--only', ...words];
    if (what === 'unit')
        return ['build/unit', '--jobs', '2', '--fail-fast'];
    if (what.endsWith('.mjs'))
        return ['node', `tests/${what}`, ...(what === 'desk/server.mjs' ? ['build/tests/desk-server'] : []), ...words];
    return [`tests/${what.includes('/') ? `${what}.sh` : `${what}/run.sh`}`, ...words];
}
