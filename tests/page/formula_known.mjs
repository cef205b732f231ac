// The formulas of contrast against published and well-known values.
import { contrast, luminance, lumaGray, luminanceGray, over } from "./formula.mjs";

const hex = (text) => [1, 3, 5].map((at) => parseInt(text.slice(at, at + 2), 16));
const ratio = (a, b = "#ffffff") => contrast(hex(a), hex(b));

// What, got, wanted, tolerance. Sources: WCAG 2.2, definitions of relative luminance and contrast ratio (white 1,
// black 0, 21 between them; #767676 is the gray that just passes 4.5 on white, #777777 the one that just fails;
// #595959 passes 7; #949494 passes 3, #959595 fails): computed from the definition by python and by the npm
// package wcag-contrast 3.0.0. ITU-R BT.601: 0.299, 0.587, 0.114 (from memory).
const known = [
    ["luminance of white", luminance([255, 255, 255]), 1, 1e-12],
    ["luminance of black", luminance([0, 0, 0]), 0, 1e-12],
    ["luminance of #808080", luminance(hex("#808080")), 0.215861, 1e-6],
    ["black on white", ratio("#000000"), 21, 1e-12],
    ["white on black", ratio("#ffffff", "#000000"), 21, 1e-12],
    ["a colour on itself", ratio("#123456", "#123456"), 1, 1e-12],
    ["#767676 on white", ratio("#767676"), 4.5422, 1e-4],
    ["#777777 on white", ratio("#777777"), 4.4781, 1e-4],
    ["#595959 on white", ratio("#595959"), 7.0047, 1e-4],
    ["#949494 on white", ratio("#949494"), 3.0335, 1e-4],
    ["#959595 on white", ratio("#959595"), 2.9953, 1e-4],
    ["blue on white", ratio("#0000ff"), 8.5925, 1e-4],
    ["red on white", ratio("#ff0000"), 3.9985, 1e-4],
    ["green on white", ratio("#00ff00"), 1.3722, 1e-4],
    ["yellow on black", ratio("#ffff00", "#000000"), 19.556, 1e-3],
    ["#808080 on black", ratio("#808080", "#000000"), 5.3172, 1e-4],
    ["luma of red", lumaGray([255, 0, 0])[0], 76, 0],
    ["luma of green", lumaGray([0, 255, 0])[1], 150, 0],
    ["gray of a gray", luminanceGray(hex("#808080"))[2], 128, 0],
    ["half of black over white", over([0, 0, 0, 0.5], [255, 255, 255])[0], 127.5, 1e-12],
];

export function formulaFaults() {
    return known.filter(([, got, wanted, within]) => !(Math.abs(got - wanted) <= within))
        .map(([what, got, wanted]) => `${what}: ${got}, not ${wanted}`);
}
export const formulaCount = known.length;
