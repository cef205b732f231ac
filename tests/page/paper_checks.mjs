// The checks of a page of the work, by name. Each gets a job {file, html, answer, bench, paper, browser, work, notes} and
// gives the faults it found.
import { axeNarrow, axeWide } from "./check_axe.mjs";
import { contrastPrint, contrastScreen, labels } from "./check_contrast.mjs";
import { outside, policy, size } from "./check_file.mjs";
import { large, narrow, spaced } from "./check_narrow.mjs";
import { bare, paperDrawings, paperNumbers, paperTexts } from "./check_paper.mjs";
import { printA4, printLetter } from "./check_print.mjs";
import { silent } from "./check_quiet.mjs";
import { structure } from "./check_structure.mjs";

// A step takes about a seventieth of a sheet and a check a twelfth, besides the head, the places and the lists.
const sheets = ({ answer, bench, paper }) => paper === "bench"
    ? Math.ceil(1.7 + bench.work.length / 16 + bench.checks.length / 11)
    : Math.ceil(1.6 + answer.checks.length / 22 + answer.parts.length / 12);
const printed = (print) => (job) => print({ ...job, mostPages: sheets(job), whole: true });

export const paperChecks = {
    size, outside, policy, bare, structure, numbers: paperNumbers, texts: paperTexts, drawings: paperDrawings, labels,
    "contrast-screen": contrastScreen, "axe-wide": axeWide, narrow, "axe-narrow": axeNarrow, "contrast-print": contrastPrint,
    silent, large, spaced, "print-A4": printed(printA4), "print-Letter": printed(printLetter),
};
export const quickPaper = ["size", "outside", "policy", "bare", "structure", "numbers", "texts", "drawings", "labels", "contrast-screen",
    "axe-wide", "narrow", "print-A4"];

export async function judgePaper(name, job) {
    try {
        return await paperChecks[name](job);
    } catch (error) {
        return [`could not be judged: ${error.stack?.split("\n").slice(0, 3).join(" ") ?? error}`];
    }
}
