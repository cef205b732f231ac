// axe-core: no violation of WCAG 2.2 A and AA nor of its best practice. What it cannot judge of colours is
// judged by our own formula; all else that it leaves open is told.
import { axeSource, watching } from "./browser.mjs";
import { lookInto, textFault } from "./check_contrast.mjs";

const tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];
const targetOf = ({ target }) => target.flat().join(" ");

async function judge(page, notes) {
    await page.evaluate(axeSource);
    const found = await page.evaluate((values) => globalThis.axe.run(document,
        { runOnly: { type: "tag", values }, resultTypes: ["violations", "incomplete"], preload: false }), tags);
    if (found.passes.length < 10) return ["axe-core judged hardly anything"];
    const faults = found.violations.flatMap((rule) => rule.nodes.slice(0, 4)
        .map((node) => `${rule.id}: ${targetOf(node)}: ${(node.failureSummary ?? "").replace(/\s+/g, " ").slice(0, 160)}`));
    await lookInto(page);
    for (const rule of found.incomplete)
        for (const node of rule.nodes) {
            const target = targetOf(node);
            if (rule.id !== "color-contrast") {
                notes.push(`left open by axe-core: ${rule.id}: ${target}`);
                continue;
            }
            const texts = await page.evaluate((selector) => globalThis.__look.textsOf(selector), target);
            if (texts.length === 0) faults.push(`${target}: its contrast is judged by nobody`);
            faults.push(...texts.flatMap((text) => textFault(text)));
        }
    return faults;
}

const at = (width) => ({ file, browser, notes }) => watching(browser, file, { width }, (page) => judge(page, notes));
export const axeWide = at(1280);
export const axeNarrow = at(320);
