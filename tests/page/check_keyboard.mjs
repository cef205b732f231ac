// By keyboard alone: what is reached, in which order, how it shows; and what slider and field tell for a
// sum, against the program's own curve.
import { within } from "./browser.mjs";
import { findControls, shownText, typeSum, valueText } from "./controls.mjs";
import { contrast, over } from "./formula.mjs";
import { lookInto } from "./check_contrast.mjs";
import { equals, numbersOf, stepAt } from "./number.mjs";

async function walk(page) {
    const stops = [];
    for (let i = 0; i < 80; i++) {
        await page.keyboard.press("Tab");
        const stop = await page.evaluate(() => {
            const element = document.activeElement;
            if (!element || element === document.body) return null;
            const all = [...document.querySelectorAll("*")];
            const box = element.getBoundingClientRect();
            return { place: all.indexOf(element), name: globalThis.__look.nameOf(element), type: element.type ?? "",
                top: box.top + scrollY, left: box.left, tabindex: element.getAttribute("tabindex"),
                seen: box.width > 1 && box.height > 1 };
        });
        if (!stop || stops.some(({ place }) => place === stop.place)) break;
        stops.push(stop);
    }
    return stops;
}

export const order = ({ file, browser, answer }) => within(browser, file, {}, async (page) => {
    await lookInto(page);
    const faults = [];
    const stops = await walk(page);
    const places = stops.map(({ place }) => place);
    if (places.some((place, i) => i > 0 && place < places[i - 1])) faults.push(`Tab jumps: ${stops.map(({ name }) => name).join(", ")}`);
    for (const [i, stop] of stops.entries()) {
        if (Number(stop.tabindex) > 0) faults.push(`${stop.name} has a tabindex above 0`);
        if (!stop.seen) faults.push(`${stop.name} takes the focus and is not seen`);
        if (i > 0 && stop.top < stops[i - 1].top - 40 && stop.left <= stops[i - 1].left)
            faults.push(`${stop.name} stands above ${stops[i - 1].name}, and comes after it`);
    }
    if (answer.options.length === 0) return faults;
    const slider = stops.findIndex(({ type }) => type === "range");
    const field = stops.findIndex(({ type }) => type === "text" || type === "number");
    if (slider < 0) faults.push("Tab does not reach the slider");
    if (field < 0) faults.push("Tab does not reach the field");
    if (slider >= 0 && field >= 0 && Math.abs(slider - field) !== 1) faults.push("slider and field are not side by side");
    return faults;
});

// A focus is seen when the picture around it changes, and by an edge of 2 px that stands out by 3 (WCAG 2.2: 2.4.7, and
// the size that 2.4.13 asks for).
export const focus = ({ file, browser }) => within(browser, file, {}, async (page) => {
    await lookInto(page);
    const faults = [];
    for (const stop of (await walk(page)).slice(0, 12)) {
        const look = () => page.evaluate((place) => {
            const element = document.querySelectorAll("*")[place];
            const style = getComputedStyle(element), box = element.getBoundingClientRect();
            return { outline: style.outlineStyle === "none" ? 0 : parseFloat(style.outlineWidth), colour: style.outlineColor,
                auto: style.outlineStyle === "auto", shadow: style.boxShadow,
                clip: { x: Math.max(0, box.left + scrollX - 8), y: Math.max(0, box.top + scrollY - 8),
                    width: box.width + 16, height: Math.min(box.height, 300) + 16 },
                ground: globalThis.__look.edges ? getComputedStyle(document.body).backgroundColor : "" };
        }, stop.place);
        const set = (on) => page.evaluate((place, take) => {
            const element = document.querySelectorAll("*")[place];
            take ? element.focus({ preventScroll: true, focusVisible: true }) : element.blur();
        }, stop.place, on);
        await set(true);
        const lit = await look();
        const with_ = await page.screenshot({ clip: lit.clip, captureBeyondViewport: true });
        await set(false);
        const without = await page.screenshot({ clip: lit.clip, captureBeyondViewport: true });
        if (Buffer.compare(Buffer.from(with_), Buffer.from(without)) === 0) faults.push(`${stop.name}: nothing shows that it has the focus`);
        else if (lit.shadow === "none" && !lit.auto && lit.outline < 2) faults.push(`${stop.name}: an edge of ${lit.outline} px shows the focus`);
        const ink = lit.colour.match(/\d+(\.\d+)?/g)?.map(Number), under = lit.ground.match(/\d+(\.\d+)?/g)?.map(Number);
        if (lit.shadow === "none" && !lit.auto && ink && under) {
            const paper = over(under.length === 3 ? [...under, 1] : under, [255, 255, 255]);
            const ratio = contrast(over(ink.length === 3 ? [...ink, 1] : ink, paper), paper);
            if (ratio < 3) faults.push(`${stop.name}: the edge of the focus stands out by ${ratio.toFixed(2)}, not 3`);
        }
    }
    return faults;
});

// What a text says of a sum must be what the curve has there.
function saysStep(text, steps, sum) {
    const step = stepAt(steps, sum), numbers = numbersOf(text);
    if (!step) {
        const least = steps[0].cost;
        return numbers.some((number) => number.text === least) || /nothing|not enough|too little|at least/i.test(text) ? [] :
            [`at ${sum.toFixed(2)}, below the first step, it says "${text}"`];
    }
    const points = numbersOf(text.match(/[^;:,]*?\bpoints?\b/)?.[0] ?? text);
    return points.some((number) => equals(number, Number(step.points), 1)) ? [] :
        [`at ${sum.toFixed(2)} it says "${text}", not ${step.points} points`];
}

// Ends, a sum below the first step, sums on a step and a cent below it, and sums between; in whole cents.
export function sumsToAsk(steps, most) {
    const cents = (money) => Math.round(Number(money) * 100);
    const first = cents(steps[0].cost), last = cents(most);
    const sums = new Set([0, last, first, Math.max(0, first - 1), Math.floor(first / 2)]);
    const inner = steps.slice(1).map(({ cost }) => cents(cost)).filter((cost) => cost <= last);
    for (let i = 0; i < Math.min(5, inner.length); i++) {
        const at = inner[Math.floor(i * inner.length / Math.min(5, inner.length))];
        sums.add(at).add(at - 1);
    }
    for (let i = 1; sums.size < 20 && i < 60; i++) sums.add(Math.round(last * ((i * 0.381966) % 1)));
    return [...sums].sort((a, b) => a - b).map((sum) => sum / 100);
}

export const sums = ({ file, browser, answer, curve }) => within(browser, file, {}, async (page) => {
    const controls = await findControls(page);
    if (answer.options.length === 0) return controls.count === 0 ? [] : ["a slider without options"];
    const { slider, field, shown } = controls;
    if (!slider || !field || !shown) return [`slider ${!!slider}, field ${!!field}, what is shown ${!!shown}`];
    const faults = [], asked = sumsToAsk(curve.steps, answer.curve.to);
    for (const sum of asked) {
        await typeSum(page, controls, sum.toFixed(2));
        const text = await shownText(controls);
        faults.push(...saysStep(text, curve.steps, sum));
        if (!numbersOf(text).some(({ value }) => Math.abs(value - sum) < 0.006)) faults.push(`${sum.toFixed(2)} is not said in "${text}"`);
    }
    if (asked.length < Math.min(20, Number(answer.curve.to) * 100)) faults.push(`only ${asked.length} sums were asked`);
    return faults.slice(0, 8);
});

export const keys = ({ file, browser, answer, curve }) => within(browser, file, {}, async (page) => {
    const controls = await findControls(page);
    if (answer.options.length === 0) return [];
    if (!controls.slider || !controls.shown) return ["there is no slider, or nothing that it shows"];
    const faults = [];
    await typeSum(page, controls, (Number(answer.curve.to) / 2).toFixed(2));
    await controls.slider.focus();
    const sumNow = async () => numbersOf(await valueText(controls))[0]?.value;
    const press = async (key) => {
        await page.keyboard.press(key);
        const said = await valueText(controls), sum = await sumNow(), text = await shownText(controls);
        if (sum === undefined) {
            faults.push(`after ${key} aria-valuetext is "${said}"`);
            return NaN;
        }
        faults.push(...saysStep(said, curve.steps, sum).map((fault) => `aria-valuetext after ${key}: ${fault}`));
        faults.push(...saysStep(text, curve.steps, sum).map((fault) => `after ${key}: ${fault}`));
        return sum;
    };
    const right = await press("ArrowRight"), left = await press("ArrowLeft");
    if (!(right > left)) faults.push(`ArrowRight goes to ${right}, ArrowLeft back to ${left}`);
    const up = await press("ArrowUp"), down = await press("ArrowDown");
    if (!(up > down)) faults.push(`ArrowUp goes to ${up}, ArrowDown back to ${down}`);
    const far = await press("PageUp"), near = await press("PageDown");
    if (!(far - down > 2 * (right - left) && near < far)) faults.push(`PageUp goes from ${down} to ${far}, PageDown back to ${near}`);
    const home = await press("Home"), end = await press("End");
    if (home !== 0 && home > Number(curve.steps[0].cost)) faults.push(`Home goes to ${home}`);
    if (Math.abs(end - Number(answer.curve.to)) > 1) faults.push(`End goes to ${end}, not ${answer.curve.to}`);
    return [...new Set(faults)].slice(0, 8);
});
