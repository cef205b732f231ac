// Where a line of C can be made wrong, and how: small changes that a slip of the hand makes.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

// Each: what is looked for (in code without comments and texts), what stands there instead.
const slips = [
    [/ < /g, ' <= '], [/ <= /g, ' < '], [/ > /g, ' >= '], [/ >= /g, ' > '],
    [/ == /g, ' != '], [/ != /g, ' == '], [/ && /g, ' || '], [/ \|\| /g, ' && '],
    [/ \+ /g, ' - '], [/ - /g, ' + '], [/ \* (?=[\w(])/g, ' + '], [/ \/ /g, ' * '],
    [/ \+= /g, ' -= '], [/ -= /g, ' += '],
    [/\breturn true;/g, 'return false;'], [/\breturn false;/g, 'return true;'],
    [/\breturn (?!SW_OK|true|false|NULL)SW_[A-Z_]+;/g, 'return SW_OK;'],
    [/\bif \((?=\w)(?=.*\)$)/g, 'if (0 && '], [/\bif \(!/g, 'if ('],
    [/(?<=[ (\[])\d+(?=[ ;),\]])/g, number => String(Number(number) + 1)],
    [/\bcontinue;/g, ';'], [/\bbreak;/g, ';'],
];
const call = /^ {4,}[a-z]\w*(->\w+|\.\w+)?\(.*\);$/; // a statement of its own that can be left out
const number = /^\d+$/, takesMemory = /\b(SW_NEW|SW_GROW|malloc|calloc|realloc)\(/; // one more than is needed is no fault
const assignment = /^ {4,}[a-z][\w>.\[\]-]* = .*;$/;

const sourceFiles = folder => readdirSync(folder, { withFileTypes: true }).flatMap(entry =>
    entry.isDirectory() ? sourceFiles(join(folder, entry.name))
        : entry.name.endsWith('.c') ? [join(folder, entry.name)] : []).sort();

// The text with comments and texts blanked, of the same length and lines.
function bare(text) {
    return text.replace(/\/\*[^]*?\*\/|\/\/[^\n]*|"(?:\\.|[^"\\\n])*"|'(?:\\.|[^'\\\n])*'/g,
        part => part.replace(/[^\n]/g, '~'));
}

export function sites(tree) {
    const found = [];
    for (const file of sourceFiles(join(tree, 'src'))) {
        const text = readFileSync(file, 'utf8');
        const lines = text.split('\n'), codes = bare(text).split('\n');
        let inside = false; // a function's body: its first line ends with ") {" at the margin
        for (let i = 0; i < lines.length; i++) {
            const code = codes[i];
            if (/^\w.*\) \{$/.test(code) || (/^ .*\) \{$/.test(code) && !inside))
                inside = true;
            else if (code.startsWith('}'))
                inside = false;
            if (!inside || !code.startsWith('    '))
                continue;
            const put = (from, to, instead) => found.push({
                file: file.slice(tree.length + 1), line: i + 1, before: lines[i],
                after: lines[i].slice(0, from) + instead + lines[i].slice(to),
            });
            for (const [pattern, instead] of slips)
                for (const match of code.matchAll(pattern)) {
                    if (number.test(match[0]) && takesMemory.test(code))
                        continue;
                    const to = match.index + match[0].length;
                    put(match.index, to, typeof instead === 'function' ? instead(match[0]) : instead);
                }
            if (call.test(code) || assignment.test(code))
                found.push({ file: file.slice(tree.length + 1), line: i + 1, before: lines[i], after: '    ;' });
        }
    }
    return found;
}
