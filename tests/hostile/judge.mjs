// What a refusal has to look like, whatever was wrong: README (exit codes) and FORMATS section 1.
export const SECONDS = 1;
export const MIB = 256;
const COMPLAINT_BYTES = 2048;
const SHOWN = 201; // 200 complaints are told and one line counts the others

// C0 but the line feed, DEL, C1, and all that is unseen or turns the direction of writing round
// (Unicode 15, general category Cf of the ranges in use, and the line and paragraph separators).
const UNSAFE = /[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u00ad\u061c\u200b-\u200f\u2028-\u202e\u2060-\u206f\ufeff]/u;

const text = (bytes) => {
  try {
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    return null;
  }
};

// Complaints: a line at the margin, and those set in behind it.
export const complaints = (said) => {
  const all = [];
  for (const line of said.split('\n').filter((line) => line !== '')) {
    if (/^\s/.test(line) && all.length > 0) all[all.length - 1] += `\n${line}`;
    else all.push(line);
  }
  return all;
};

// All that is wrong with how a run ended, as sentences.
export function faults(run, wanted) {
  const wrong = [];
  const said = text(run.err);
  if (run.code !== wanted.code) wrong.push(`exit code ${run.code}, should be ${wanted.code}`);
  if (run.seconds > SECONDS) wrong.push(`${run.seconds.toFixed(2)} s of the processor`);
  if (run.bounded && run.mib > MIB) wrong.push(`${run.mib} MiB`);
  for (const changed of run.changed) wrong.push(`wrote ${changed}`);
  if (said === null) return [...wrong, 'standard error is not UTF-8'];
  if (UNSAFE.test(said)) wrong.push('standard error holds control or unseen characters');
  for (const word of wanted.words)
    if (!said.includes(word)) wrong.push(`standard error lacks "${word}"`);
  if (wanted.code <= 2) {
    if (said !== '') wrong.push('it was accepted, and yet something is said on standard error');
    if (run.out.length === 0) wrong.push('it was accepted, and nothing is answered');
    return wrong;
  }
  const all = complaints(said);
  if (wanted.code === 64) {
    // README: misuse is told by the program with its usage, or of a word's meaning like wrong data.
    if (!/^swapworth: /.test(all[0] ?? '') && !(all.length === 1 && /\n +Why: .+\n +To mend it: ./.test(all[0])))
      wrong.push('misuse is not told');
    if ((all[0] ?? '').length > COMPLAINT_BYTES) wrong.push('the first line is too long');
  } else if (!wanted.report) {
    if (run.out.length > 0) wrong.push('a refusal prints on standard output');
    if (all.length === 0 || all.length > (wanted.many ? SHOWN : 1)) wrong.push(`${all.length} complaints`);
    for (const one of all) {
      if (Buffer.byteLength(one) > COMPLAINT_BYTES) wrong.push(`a complaint of ${Buffer.byteLength(one)} bytes`);
      if (!/^\.\.\. and \d+ more complaints\.$/.test(one) && !/\n +Why: .+\n +To mend it: ./.test(one))
        wrong.push('a complaint does not say why and how to mend it');
    }
  }
  return wrong.map((one) => `${one}; it says: ${said.slice(0, 240).replaceAll('\n', ' / ')}`);
}
