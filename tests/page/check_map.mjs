// If the client weighed it otherwise: the page's picture and table against `map --json`, by catalog/FORMATS.md sections
// 24 and 35. Only where both are settled: what the time cuts short is another each time.
import { watching } from "./browser.mjs";
import { percent } from "../sure/map_svg.mjs";

const letter = (number) => {
    let mark = "";
    for (let left = number; left > 0; left = Math.floor((left - 1) / 26)) mark = String.fromCharCode(65 + (left - 1) % 26) + mark;
    return mark;
};

// Told: the three largest, and those that matter whatever their size.
const isTold = (map, { number, of_likely }) => number <= 3 || of_likely > 0 || number === map.here ||
    number === map.nearest_change?.then || map.axes.some(({ best }) => best === number);

const held = ({ swaps, tasks }) => JSON.stringify([
    swaps.map(({ role, in: bought }) => [role, bought.map(({ part, count }) => [part, count]).sort()]).sort(),
    tasks.map(({ id }) => id).sort()]);

function judgeRow(map, region, row, options) {
    const is = letter(region.number), faults = [], [name, area, likely, cost] = row;
    const option = options.findIndex(({ bundle }) => held(bundle) === held(region));
    const wanted = option >= 0 ? `${is} option ${option + 1}` : is;
    if (name !== wanted) faults.push(`"${name}", not "${wanted}"`);
    if (!percent(region.area).includes(area)) faults.push(`${is}: "${area}" of all ways, not ${region.area}`);
    if (region.of_likely > 0 ? !percent(region.of_likely).includes(likely) : likely !== "none")
        faults.push(`${is}: "${likely}" of the ways that fit, not ${region.of_likely}`);
    if (cost !== region.cost) faults.push(`${is} costs "${cost}", not ${region.cost}`);
    return faults;
}

export const weighed = ({ file, browser, map, answer, notes }) => watching(browser, file, {}, async (page) => {
    if (!map || answer.options.length === 0) return [];
    const found = await page.evaluate(() => {
        const section = document.querySelector("section[aria-labelledby=weighing]");
        const plain = (element) => element.textContent.replace(/\s+/g, " ").trim();
        return section && {
            rows: [...section.querySelectorAll("table tbody tr")].map((row) => [...row.cells].map(plain)),
            marks: [...section.querySelectorAll("svg text")].map(plain).filter((text) => /^[A-Z]{1,2}$/.test(text)),
            text: plain(section),
        };
    });
    if (map.axes.length < 2) return found ? ["a map, and nothing to weigh"] : [];
    if (!found) return ["nothing is said of other ways to weigh"];
    if (map.status !== "optimal" || /Not settled|no time left/.test(found.text)) {
        notes.push("the map is not settled: not compared");
        return [];
    }
    const told = map.regions.filter((region) => isTold(map, region)), faults = [];
    if (found.rows.length !== told.length) return [`${found.rows.length} rows, not ${told.length}`];
    told.forEach((region, i) => faults.push(...judgeRow(map, region, found.rows[i], answer.options)));
    const drawn = [...new Set(found.marks)].sort().join(), wanted = told.map(({ number }) => letter(number)).sort().join();
    if (drawn !== wanted) faults.push(`drawn are ${drawn}, not ${wanted}`);
    if (!found.text.includes(`There machine ${letter(map.here)} is best`)) faults.push("which is best at the answer");
    if (map.nearest_change && !found.text.includes(`machine ${letter(map.nearest_change.then)} is better from there`) &&
        !found.text.includes(`machine ${letter(map.nearest_change.then)} is as good`)) faults.push("the nearest change");
    notes.push(`${told.length} of ${map.regions.length} regions compared`);
    return faults;
});
