// What a proposal must show, with script and without: what is wrong, the options, the money, the curve as a table,
// the place to sign.
import { numbersOf } from "./number.mjs";

export async function sectionFaults(page, answer) {
    const found = await page.evaluate(() => {
        const shown = (element) => element.checkVisibility({ visibilityProperty: true, opacityProperty: true });
        return {
            text: document.body.innerText,
            headings: [...document.querySelectorAll("h1, h2, h3, h4")].filter(shown).map((element) => element.innerText.trim()),
            numbers: [...document.querySelectorAll("[data-is]")].filter(shown).map((element) => element.dataset.is),
            // What stands in a closed box that opens without script counts as there.
            rows: [...document.querySelectorAll("table tr")].filter((row) => shown(row.closest("details")?.querySelector("summary") ?? row))
                .map((row) => [...row.cells].map((cell) => cell.textContent).join(" \t ")),
            svgs: [...document.querySelectorAll("svg")].filter(shown).length,
        };
    });
    const faults = [];
    const heading = (what, pattern) => {
        if (!found.headings.some((text) => pattern.test(text))) faults.push(`no heading of ${what}`);
    };
    heading("what is wrong", /wrong|found|complain|as it stands/i);
    heading("signing", /sign|agree|order|yours/i);
    if (answer.options.length === 0) return faults;
    heading("the curve", /money|curve|sum|buys/i);
    for (const { option } of answer.options)
        for (const name of ["total", "points", "goods", "days"])
            if (!found.numbers.includes(`${option}.${name}`)) faults.push(`${option}.${name} is not shown`);
    if (found.svgs === 0) faults.push("nothing is drawn");
    // The curve's numbers stand beside the drawing: each step within reach is a row.
    for (const step of answer.curve.steps) {
        const row = found.rows.some((text) => {
            const numbers = numbersOf(text);
            const points = Number(step.points);
            return numbers.some((number) => number.text === step.cost) &&
                numbers.some((number) => Math.abs(number.value - points) <= 0.5 * 10 ** -number.digits + 1e-9 && number.digits >= 1);
        });
        if (!row) faults.push(`no row for the step at ${step.cost} with ${step.points} points`);
    }
    return faults.length > 8 ? [...faults.slice(0, 8), `and ${faults.length - 8} more`] : faults;
}
