// Which tests are asked whether a wrong line is noticed: those of its stage, from the fast to the slow.
const own = {
    answer: ['options 1 60', 'fits 1 30', 'why 1 8', 'conflict 1 40', 'later 1 40', 'ranges 1 20', 'sure 1 60',
        'sure/answers 1 60', 'papers 1 30', 'cli/shopping', 'papers/shopping 1 6', 'papers/bundles 1 10',
        'findings', 'agree 40 5', 'sure/map'],
    check: ['schemas', 'rules/edges', 'hostile', 'fits 1 20', 'trade', 'intake/prices'],
    desk: ['desk/server.mjs', 'desk/sheets', 'desk/load', 'desk/page.mjs --quick'],
    estimate: ['worked', 'published', 'air', 'relations', 'findings', 'trade'],
    fitouts: ['options 1 60', 'fits 1 30', 'papers 1 30'],
    formulas: ['published', 'worked'],
    intake: ['intake/merge', 'intake/ask', 'intake/whole', 'intake/prices', 'intake/dumps', 'intake/binary --quick'],
    program: ['random/run 6001 30 --best 4 --apart 2 --groups', 'sure 1 100', 'options 1 60', 'sure/answers 1 60',
        'random/run 20001 200 --curve', 'later 1 40', 'conflict 1 40', 'sure/map'],
    render: ['page --quick', 'page --papers-quick', 'page --hostile', 'papers 1 20', 'cli/shopping', 'cli/picture'],
    rules: ['rules/edges', 'fits 1 40', 'worked', 'papers 1 20'],
    face: ['cli/waiting', 'intake/whole', 'intake/prices', 'cli/shopping', 'intake/ask'],
    base: ['intake/prices', 'worked'],
    read: ['intake/prices', 'schemas'],
};
const common = ['cli', 'unit', 'cli/scenarios', 'random/run 1 60', 'random/run 5001 20 --best 5 --groups --curve'];

export const suitesOf = file => [...common, ...(own[file.split('/')[1]] ?? [])];
export const allSuites = () => [...new Set([...common, ...Object.values(own).flat()])];

// The command of a suite's name, for a tree with its build in build/.
export function command(name) {
    const [what, ...words] = name.split(' ');
    if (what === 'unit')
        return ['build/unit', '--jobs', '1'];
    if (what.endsWith('.mjs'))
        return ['node', `tests/${what}`, ...(what === 'desk/server.mjs' ? ['build/tests/desk-server'] : []), ...words];
    return [`tests/${what.includes('/') ? `${what}.sh` : `${what}/run.sh`}`, ...words];
}
