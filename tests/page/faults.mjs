// Faults planted in the page that mock.mjs makes: each must be found by the check named beside it, while the page as it is
// passes them all. node faults.mjs FOLDER [--quick]: one fault of each check only, and of twins (the same check of another
// width, medium or paper) only one.
import { mkdirSync, writeFileSync } from "node:fs";
import path from "node:path";
import { launch } from "./browser.mjs";
import { checks, judge } from "./checks.mjs";
import { contrast } from "./formula.mjs";
import { answer, curve, html, map, plan, seal } from "./mock.mjs";

// Puts `to` in the place of the first `from`, which must be there.
const swap = (from, to) => (page) => {
    if (!page.includes(from)) throw new Error(`nothing to plant at: ${from}`);
    return page.replace(from, () => to);
};
const drop = (from) => swap(from, "");
const style = (text) => swap("</style>", `${text}</style>`);
const script = (text) => swap("box.hidden = false;", `box.hidden = false; ${text}`);
const put = (text) => swap("<h2 id=\"sign\">To sign</h2>", `<h2 id="sign">To sign</h2>${text}`);
const raw = (plant) => Object.assign(plant, { raw: true });
const json = (change) => Object.assign((page) => page, { change });

const faults = [
    ["size", "150,000 bytes and more", put(`<p>${"word ".repeat(31000)}</p>`)],
    ["outside", "a picture from a file", put('<img src="a.png" alt="a">')],
    ["outside", "a style sheet from outside", swap("<style>", '<link rel="stylesheet" href="a.css"><style>')],
    ["outside", "an address in the text", put("<p>see http" + "://example.invalid</p>")],
    ["outside", "an address without its kind", script('const there = "/" + "/x"; const here = "//x";')],
    ["outside", "url() in the style", style("h1 { background: url(a.png); }")],
    ["outside", "@import", swap("<style>", "<style>@import 'a.css';")],
    ["outside", "a picture as data", put('<img alt="a" src="data:image/gif;base64,R0lGODlhAQABAAAAACw=">')],
    ["outside", "a handler as an attribute", put('<p onclick="x()">press</p>')],
    ["outside", "a style as an attribute", put('<p style="color: red">red</p>')],
    ["outside", "a script from a file", put('<script src="a.js"></script>')],
    ["outside", "HTML made by the script", script("shown.innerHTML = '';")],
    ["outside", "a frame", put('<iframe title="a"></iframe>')],
    ["outside", "a page that goes elsewhere", swap("<title>", '<meta http-equiv="refresh" content="1"><title>')],
    ["outside", "a link", put('<a href="other.html">other</a>')],
    ["policy", "no policy", raw((page) => page.replace(/<meta http-equiv="Content[^>]*>/, ""))],
    ["policy", "a default that lets in", raw(swap("default-src 'none'", "default-src 'self'"))],
    ["policy", "any script inline", raw(swap("script-src ", "script-src 'unsafe-inline' "))],
    ["policy", "the hash of another script", raw(swap("box.hidden = false;", "box.hidden = !1;"))],
    ["policy", "pictures let in", raw(swap("base-uri", "img-src 'self'; base-uri"))],
    ["policy", "no word on forms", raw(swap("; form-action 'none'", ""))],
    ["silent", "a picture asked for", script('new Image().src = "a.png";')],
    ["silent", "an error in the console", script('console.error("bad");')],
    ["silent", "an exception", script("setTimeout(() => { throw new Error('bad'); }, 1);")],
    ["silent", "a dialog", script('alert("look");')],
    ["silent", "what is no sum goes through", swap('if (!/^[0-9]+([.,][0-9]{1,2})?$/.test(field.value.trim()))', "if (false)")],
    ["silent", "a script that the policy forbids", raw(swap("box.hidden = false;", "box.hidden = !1;"))],
    ["structure", "no language", drop(' lang="en"')],
    ["structure", "no title", (page) => page.replace(/<title>[^<]*/, "<title>")],
    ["structure", "no main", (page) => page.replace("<main>", "<div>").replace("</main>", "</div>")],
    ["structure", "a level of headings left out", swap('<h2 id="sign">To sign</h2>', '<h4 id="sign">To sign</h4>')],
    ["structure", "two first headings", put("<h1>Again</h1>")],
    ["structure", "a table without caption", drop("<caption>Each step of the curve</caption>")],
    ["structure", "a head without scope", drop(' scope="col"')],
    ["structure", "a drawing without a name", (page) => page.replace(/ role="img" aria-label="[^"]*"/, "")],
    ["structure", "a field without a label", swap('<label for="sum">or typed, in EUR</label>', "or typed")],
    ["structure", "one id twice", put('<p id="sum">x</p>')],
    ["structure", "zoom forbidden", swap("initial-scale=1", "initial-scale=1, user-scalable=no")],
    ["structure", "a label by what is not there", swap('aria-labelledby="sign"', 'aria-labelledby="signs"')],
    ["scriptless", "options that only a script shows", (page) => page.replace('<section aria-labelledby="options">', '<section hidden aria-labelledby="options">')
        .replace("box.hidden = false;", "box.hidden = false; document.querySelector('section[hidden]').hidden = false;")],
    ["scriptless", "a slider that does nothing", swap('<div id="try" hidden>', '<div id="try">')],
    ["scriptless", "nothing to sign", swap('<h2 id="sign">To sign</h2>', '<h2 id="sign">The end</h2>')],
    ["scripted", "no slider", drop("box.hidden = false;")],
    ["scripted", "a step missing from the table", drop("<tr><td>350.00</td><td>36.0</td></tr>")],
    ["scripted", "another number in the table", swap("<td>36.0</td>", "<td>36.4</td>")],
    ["axe-wide", "a button without a name", put("<button></button>")],
    ["axe-wide", "pale text", style(".small { color: #999999; }")],
    ["axe-wide", "a role that does not exist", swap('role="region"', 'role="regionn"')],
    ["axe-wide", "content outside of landmarks", swap("<header><p>Bench of the test</p></header>", "<p>Bench of the test</p>")],
    ["axe-narrow", "targets too small and too near", (page) => style(".tiny { display: none; } @media (max-width: 400px) { .tiny { display: inline; padding: 0; border: 0; font-size: 8px; line-height: 8px; } }")(put('<p><button class="tiny">a</button><button class="tiny">b</button></p>')(page))],
    ["axe-narrow", "a box that scrolls and cannot be reached", (page) => page.replaceAll(' tabindex="0"', "").replace("</style>", "td { min-width: 20rem; }</style>")],
    ["contrast-screen", "pale text", style(".small { color: #777777; }")],
    ["contrast-screen", "pale by opacity", style(".small { opacity: 0.8; }")],
    ["contrast-screen", "a pale line", style(".steps { stroke: #bbbbbb; }")],
    ["contrast-screen", "pale letters in the drawing", style("svg text { fill: #999999; }")],
    ["contrast-screen", "a field whose edge is not seen", style("#sum { border-color: #dddddd; }")],
    ["contrast-screen", "text on a gradient", style("h1 { background: linear-gradient(#fff, #000); }")],
    ["contrast-screen", "dark text on a dark ground", style("h1 { background: #555555; }")],
    ["contrast-screen", "read in colour, not in gray", style(".small { color: rgb(147, 99, 171); }")],
    ["contrast-screen", "a pale mark before a text", style("h2::before { content: 'x'; color: #cccccc; }")],
    ["contrast-print", "pale on paper alone", style("@media print { .small { color: #999999; } }")],
    ["labels", "a word under a shape", swap('<text x="520" y="240">765 EUR</text>', '<text x="520" y="240">765 EUR</text><rect x="500" y="225" width="60" height="20"/>')],
    ["labels", "a word on a word", swap('<text x="520" y="240">', '<text x="60" y="242">')],
    ["labels", "a word that leaves the drawing", swap('<text x="520" y="240">', '<text x="580" y="240">')],
    ["narrow", "a number torn apart", style("td { width: 1.5rem; max-width: 1.5rem; overflow-wrap: anywhere; }")],
    ["narrow", "a box of 400 px", style("h1 { width: 400px; }")],
    ["narrow", "a word that does not break", (page) => style("body { overflow-wrap: normal; }")(put(`<p>${"w".repeat(90)}</p>`)(page))],
    ["narrow", "text cut off", style("h1 { overflow: hidden; white-space: nowrap; width: 100px; }")],
    ["large", "text that does not grow", style("p { font-size: 15px; }")],
    ["large", "a line cut off below", style("h1 { height: 2.2rem; overflow: hidden; } @media (min-width: 1000px) { h1 { height: 40px; } }")],
    ["spaced", "no room for wider text", style("caption { white-space: nowrap; overflow: hidden; width: 8.2rem; }")],
    ["print-A4", "a fourth page", style("@media print { #sign, #money, #options, #wrong { break-before: page; } }")],
    ["print-A4", "wider than the paper", style("@media print { table { width: 900px; } }")],
    ["print-A4", "letters too small", style("@media print { .small { font-size: 4pt; } }")],
    ["print-Letter", "up to the edge", style("@page { margin: 0; } body { padding: 0; }")],
    ["print-Letter", "beside the paper", style("@media print { .small { position: absolute; left: 400mm; white-space: nowrap; } }")],
    ["order", "a tabindex above 0", swap('<input id="sum"', '<input id="sum" tabindex="3"')],
    ["order", "a slider that Tab passes by", swap('<input id="slider"', '<input id="slider" tabindex="-1"')],
    ["order", "seen in another order", style("#try { display: flex; flex-direction: column-reverse; gap: 3rem; }")],
    ["focus", "no sign of the focus", style(":focus-visible { outline: none; }")],
    ["focus", "a thin sign", style(":focus-visible { outline: 1px solid #000000; }")],
    ["focus", "a pale sign", style(":focus-visible { outline: 3px solid #cccccc; }")],
    ["sums", "a step too early", swap("cost <= sum + 1e-9", "cost <= sum + 0.02")],
    ["sums", "a step too late", swap("cost <= sum + 1e-9", "cost < sum - 1e-9")],
    ["sums", "rounded to whole points", swap("value.toFixed(1)", "value.toFixed(0)")],
    ["sums", "points of one step wrong", swap("[190,27.1]", "[190,27.3]")],
    ["keys", "aria-valuetext stays", drop('slider.setAttribute("aria-valuetext", words(sum));')],
    ["keys", "what is shown stays", swap('slider.addEventListener("input", () => { field.value', 'slider.addEventListener("input", () => { return; field.value')],
    ["keys", "the end is not reached", swap('max="765"', 'max="700"')],
    ["keys", "PageUp does nothing", script('slider.addEventListener("keydown", (e) => { if (e.key === "PageUp") e.preventDefault(); });')],
    ["numbers", "a number nobody knows", swap('data-is="full.points"', 'data-is="full.pints"')],
    ["numbers", "no day until which it is valid", drop(' data-is="job.valid-until"')],
    ["numbers", "a number left out", drop(' data-is="first.labour"')],
    ["lines", "a part under another name", swap("<li>Birch Board", "<li>Birch Bord")],
    ["lines", "a price that is another", swap("Cedar Card, 299.00", "Cedar Card, 298.00")],
    ["lines", "a task not told", drop("<li>clean out the dust</li>")],
    ["agree", "full is not the plan's", json((job) => { job.plan.bundles[0].points = "42.501"; })],
    ["agree", "another part in the plan", json((job) => { job.plan.bundles[0].swaps[0].in[0].part = "x"; })],
    ["agree", "another curve", json((job) => { job.curve.steps[3].points = "19.251"; })],
    ["agree", "a bill that does not add up", json((job) => { job.answer.options[0].bundle.bill.labour = "9.01"; })],
    ["weighed", "another share of all ways", swap("<td>80 %</td>", "<td>81 %</td>")],
    ["weighed", "another share of those that fit", swap("<td>10 %</td>", "<td>11 %</td>")],
    ["weighed", "a share where there is none", swap("<td>none</td>", "<td>0.1 %</td>")],
    ["weighed", "another cost", swap("<td>100.00</td>", "<td>100.10</td>")],
    ["weighed", "an option that it is not", swap("<td>B</td>", "<td>B option 2</td>")],
    ["weighed", "an option not named", swap("A option 3", "A")],
    ["weighed", "a region left out", swap("<tr><td>D</td><td>1.8 %</td><td>none</td><td>77.00</td></tr>", "")],
    ["weighed", "a letter not drawn", swap('<text x="220" y="20">C</text>', "")],
    ["weighed", "another best at the answer", swap("There machine A is best", "There machine B is best")],
    ["weighed", "another nearest change", swap("machine B is better", "machine C is better")],
    ["weighed", "no map", swap('<section aria-labelledby="weighing">', '<section aria-labelledby="money">')],
    ["weighed", "a map where one thing alone counts", json((job) => { job.map.axes.length = 1; })],
];

// Every number of the page, changed in its last digit.
for (const [, is] of html.matchAll(/data-is="([a-z.-]+)"/g))
    if (is !== "job.valid-until")
        faults.push(["numbers", `${is} is another`, (page) => page.replace(new RegExp(`(data-is="${is}">[^<\\d]*[\\d.]*)(\\d)`),
            (_, head, last) => head + (Number(last) + 1) % 10)]);

const folder = process.argv[2];
const quick = process.argv.includes("--quick");
mkdirSync(folder, { recursive: true });
let passed = 0, failed = 0, made = 0;

function tell(good, text) {
    good ? passed++ : failed++;
    if (!good) console.log(`FAILED ${text}`);
}

async function judged(browser, check, page, change) {
    const file = path.join(folder, `fault-${made++}.html`);
    writeFileSync(file, page);
    // Each its own: in mock.mjs they share what they tell alike.
    const job = Object.fromEntries(Object.entries({ answer, curve, map, plan }).map(([name, value]) => [name, structuredClone(value)]));
    change?.(job);
    return judge(check, { ...job, file, html: page, browser, work: path.join(folder, "paper"), notes: [] });
}

const first = new Map();
for (const fault of faults) if (!first.has(fault[0])) first.set(fault[0], fault);
const twins = ["axe-narrow", "contrast-print", "print-Letter", "scripted", "spaced"];
const asked = Object.keys(checks).filter((check) => !quick || !twins.includes(check));
const todo = (quick ? asked.map((check) => first.get(check)).filter(Boolean) : faults).map(([check, what, plant]) => async (browser) => {
    const page = plant.raw ? plant(html) : seal(plant(html));
    if (page === html && !plant.change) throw new Error(`nothing was planted: ${what}`);
    const found = await judged(browser, check, page, plant.change);
    const real = found.length > 0 && !found.some((text) => text.startsWith("could not be judged"));
    tell(real, `${check} does not see: ${what}${found.length > 0 ? `: ${found[0]}` : ""}`);
    if (process.env.PAGE_TIMES) console.log(`${check}: ${what}: ${found[0]}`);
});
todo.push(...asked.map((check) => async (browser) => {
    const found = await judged(browser, check, html);
    tell(found.length === 0, `${check} complains of a good page: ${found.join("; ")}`);
}));
const unseen = Object.keys(checks).filter((check) => !first.has(check));
tell(unseen.length === 0, `no fault is planted for ${unseen.join(", ")}`);
// A formula that is off must not pass unnoticed either: without the offset of 0.05 black on white is no 21.
tell(contrast([0, 0, 0], [255, 255, 255]) === 21, "the contrast of black on white");

async function worker() {
    const browser = await launch();
    for (let next = todo.shift(); next; next = todo.shift()) await next(browser);
    await browser.close();
}
await Promise.all([worker(), worker()]);
console.log(`${passed} passed, ${failed} failed`);
process.exitCode = failed === 0 ? 0 : 1;
