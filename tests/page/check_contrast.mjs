// Every text and every line that says something, against what is behind it, by the formula: in colour, and
// in the grays of a printer without colour. WCAG 2.2: 1.4.3 (4.5, large text 3) and 1.4.11 (3).
import { readFileSync } from "node:fs";
import { watching } from "./browser.mjs";
import { contrast, lumaGray, luminanceGray, over } from "./formula.mjs";

const script = readFileSync(new URL("./look.js", import.meta.url), "utf8");
export const lookInto = (page) => page.evaluate(script);

const views = [["", (colour) => colour], [" in gray (luminance)", luminanceGray], [" in gray (luma)", lumaGray]];

export function textFault({ what, ink, under, picture, large }) {
    if (picture) return [`${what}: a picture or gradient is behind it`];
    if (!ink) return [`${what}: its colour cannot be told`];
    const least = large ? 3 : 4.5, seen = over(ink, under);
    return views.map(([how, gray]) => [how, contrast(gray(seen), gray(under))])
        .filter(([, ratio]) => ratio < least)
        .map(([how, ratio]) => `${what}: ${ratio.toFixed(2)}${how}, not ${least}`);
}

function shapeFault({ what, inks, under }) {
    return views.map(([how, gray]) => [how, Math.max(...inks.map((ink) => contrast(gray(over(ink, under)), gray(under))))])
        .filter(([, ratio]) => ratio < 3)
        .map(([how, ratio]) => `${what}: ${ratio.toFixed(2)}${how}, not 3`);
}

const look = (media) => ({ file, browser, notes }) => watching(browser, file, { media }, async (page) => {
    await lookInto(page);
    const { texts, shapes, edges } = await page.evaluate(() => ({
        texts: globalThis.__look.texts(), shapes: globalThis.__look.shapes(), edges: globalThis.__look.edges() }));
    const all = [...texts.flatMap(textFault), ...shapes.flatMap(shapeFault), ...edges.flatMap(shapeFault)];
    const faults = all.length > 8 ? [...all.slice(0, 8), `and ${all.length - 8} more`] : all;
    if (texts.length < 30) faults.push(`only ${texts.length} texts were found`);
    if (shapes.length < 1) faults.push("nothing is drawn");
    notes.push(`${texts.length} texts, ${shapes.length} shapes, ${edges.length} edges (${media})`);
    return faults;
});
// Words in drawings can be read: nothing is painted over them, and they do not stand on one another.
export const labels = ({ file, browser }) => watching(browser, file, {}, async (page) => {
    await lookInto(page);
    return page.evaluate(() => globalThis.__look.hidden());
}).then((faults) => faults.slice(0, 8));

export const contrastScreen = look("screen");
export const contrastPrint = look("print");
