// All checks of one page, by name. Each gets a job {file, html, answer, plan, curve, browser, work, notes} and gives
// the faults it found.
import { axeNarrow, axeWide } from "./check_axe.mjs";
import { contrastPrint, contrastScreen, labels } from "./check_contrast.mjs";
import { outside, policy, size } from "./check_file.mjs";
import { focus, keys, order, sums } from "./check_keyboard.mjs";
import { weighed } from "./check_map.mjs";
import { large, narrow, spaced } from "./check_narrow.mjs";
import { agree, lines, numbers } from "./check_numbers.mjs";
import { printA4, printLetter } from "./check_print.mjs";
import { silent } from "./check_quiet.mjs";
import { scripted, scriptless } from "./check_scriptless.mjs";
import { structure } from "./check_structure.mjs";

export const checks = {
    size, outside, policy, silent, structure, scriptless, scripted, "axe-wide": axeWide, "axe-narrow": axeNarrow,
    "contrast-screen": contrastScreen, "contrast-print": contrastPrint, labels, narrow, large, spaced, "print-A4": printA4,
    "print-Letter": printLetter, order, focus, sums, keys, numbers, lines, agree, weighed,
};

// Those of one page among several, where another gets them all.
export const light = ["size", "outside", "policy", "structure", "scriptless", "scripted", "axe-wide", "contrast-screen", "labels", "narrow",
    "print-A4", "sums", "numbers", "lines", "agree", "weighed"];

// Runs one check; what it throws is a fault.
export async function judge(name, job) {
    try {
        return await checks[name](job);
    } catch (error) {
        return [`could not be judged: ${error.stack?.split("\n").slice(0, 3).join(" ") ?? error}`];
    }
}
