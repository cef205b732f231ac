// Faults planted in the pages of the work that the program made: each must be found by the check named beside it, while the
// pages as they are pass it. node paper_faults.mjs FOLDER NAME
import { createHash } from "node:crypto";
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import path from "node:path";
import { launch } from "./browser.mjs";
import { judgePaper, paperChecks } from "./paper_checks.mjs";

const [folder, name] = process.argv.slice(2);
const read = (kind, end) => readFileSync(path.join(folder, `${name}-${kind}.${end}`), "utf8");
const html = { bench: read("bench", "html"), handover: read("handover", "html") };
const json = { bench: JSON.parse(read("bench", "json")), handover: JSON.parse(read("handover", "json")) };

// Puts `to` in the place of the first `from` (a text or a pattern), which must be there.
const swap = (from, to) => (page) => {
    const made = page.replace(from, typeof to === "string" ? () => to : to);
    if (made === page) throw new Error(`nothing to plant at: ${from}`);
    return made;
};
const drop = (from) => swap(from, "");
const style = (text) => swap("</style>", `${text}</style>`);
const raw = (plant) => Object.assign(plant, { raw: true });
const last = (is) => swap(new RegExp(`(data-is="${is}">[^<]*?)(\\d)([^\\d<]*<)`), (_, head, digit, tail) => head + (Number(digit) + 1) % 10 + tail);

// The page with a policy that lets in just the style that it has.
function seal(page) {
    const [, text] = page.match(/<style>([\s\S]*?)<\/style>/);
    return page.replace(/style-src '[^']*'/, `style-src 'sha256-${createHash("sha256").update(text, "utf8").digest("base64")}'`);
}

const measuredAt = json.handover.checks.findIndex(({ measured, of, low, high }) => measured !== null && of !== "done" && low !== null && high !== null) + 1;
const doneAt = json.handover.checks.findIndex(({ measured, of }) => measured !== null && of === "done") + 1;
const faults = [
    ["bench", "size", "150,000 bytes and more", swap("</main>", `<p>${"word ".repeat(31000)}</p></main>`)],
    ["bench", "outside", "a picture from a file", swap("<main>", '<main><img src="a.png" alt="a">')],
    ["handover", "outside", "a style as an attribute", swap("<main>", '<main><p style="color: red">red</p>')],
    ["bench", "policy", "any style inline", raw(swap(/style-src '[^']*'/, "style-src 'unsafe-inline'"))],
    ["handover", "policy", "no policy", raw(swap(/<meta http-equiv="Content[^>]*>/, ""))],
    ["bench", "bare", "a script", swap("</main>", "</main><script>1</script>")],
    ["bench", "bare", "boxes of style alone", (page) => page.replaceAll("[ ]", "")],
    ["handover", "bare", "cells without their names", (page) => page.replaceAll(/<span class="label">[^<]*<\/span>/g, "")],
    ["bench", "structure", "no main", (page) => page.replace("<main>", "<div>").replace("</main>", "</div>")],
    ["handover", "structure", "a table without caption", drop(/<caption[^>]*>[^<]*<\/caption>/)],
    ["handover", "structure", "a drawing without a name", drop(/ aria-label="Drawn[^"]*"/)],
    ["bench", "numbers", "another cost", last("job\\.cost")],
    ["bench", "numbers", "another time at the bench", last("job\\.beside")],
    ["bench", "numbers", "another minute of a step", last("step-1\\.minutes")],
    ["bench", "numbers", "beside the bill, told as in it", swap(/data-is="step-1\.minutes">\((\d+)\)/, (_, digits) => `data-is="step-1.minutes">${digits}`)],
    ["bench", "numbers", "another need", last("lead-1\\.need")],
    ["bench", "numbers", "a band that is another", last("check-\\d+\\.foretold")],
    ["bench", "numbers", "a value of today left out", drop(/ data-is="check-\d+\.today"/)],
    ["handover", "numbers", "another measured value", last(`check-${measuredAt}\\.measured`)],
    ["handover", "numbers", "another promise", last(`check-${measuredAt}\\.promised`)],
    ["handover", "numbers", "another value before", last("check-\\d+\\.before")],
    ["handover", "numbers", "another outcome", swap(/(data-is="check-\d+\.outcome">)as promised/, (_, head) => `${head}better than promised`)],
    ["handover", "numbers", "a fault told as in order", swap(new RegExp(`(data-is="check-${doneAt}\\.outcome">)in order`), (_, head) => `${head}not as it should be`)],
    ["handover", "numbers", "another count", last("count\\.as-foretold")],
    ["handover", "numbers", "another day of the warranty", last("part-1\\.warranty")],
    ["handover", "numbers", "another day of the call", last("call\\.on")],
    ["handover", "numbers", "a number nobody knows", swap('data-is="call.on"', 'data-is="call.no"')],
    ["bench", "texts", "a step cut short", swap(/(data-is="step-1\.number">1<\/span><\/th> <td><p>[^<]{20})[^<]*/, (_, head) => head)],
    ["bench", "texts", "steps in another order", (page) => page.replace('step-1.number">1<', 'step-1.number">@<').replace('step-2.number">2<', 'step-2.number">1<').replace('">@<', '">2<')],
    ["bench", "texts", "a caution left out", drop(/<p class="mind">[^<]*<\/p>/)],
    ["bench", "texts", "what to do if not, left out", drop(/<p><b>If not:<\/b>[^<]*<\/p>/)],
    ["bench", "texts", "the line on makers and codes", drop(/<p class="first">[^<]*<\/p>/)],
    ["bench", "texts", "no room for a value", drop(/<span class="blank"[^>]*>_+<\/span>/)],
    ["bench", "texts", "a box less", drop(/<span class="box"[^>]*>\[ \]<\/span>/)],
    ["bench", "texts", "nobody signs", drop("Signature of the technician")],
    ["bench", "texts", "air the other way", swap("blows into the case", "blows out of the case")],
    ["bench", "texts", "whose it is, left out", swap(/The client&#39;s|The client's/, "")],
    ["handover", "texts", "a note left out", swap(json.handover.notes[0].slice(0, 12), "Nothing")],
    ["handover", "texts", "a question left out", swap(json.handover.call.asks[0].slice(0, 12), "Is it")],
    ["handover", "texts", "what goes is the shop's", (page) => page.replaceAll("yours, it goes home with you", "ours")],
    ["handover", "texts", "nothing of smoke", drop("smoke")],
    ["handover", "texts", "nobody signs", drop("Signature of the client")],
    ["bench", "drawings", "an arrow the other way", swap(/(<path d="M)([\d.]+) ([\d.]+)(L[\d.]+ [\d.]+L[\d.]+ [\d.]+Z" fill="#1b2430"\/>)/, (_, head, x, y, tail) => `${head}${Number(x) + 20} ${y}${tail}`)],
    ["bench", "drawings", "a piece too many", swap(/(<text [^>]*font-weight="bold"[^>]*>1<\/text>)/, (all) => all + all)],
    ["bench", "drawings", "no drawing", drop(/<figure>[\s\S]*?<\/figure>/)],
    ["handover", "drawings", "measured drawn elsewhere", swap(/(class="drawn"><svg[\s\S]*?<path d="M)([\d.]+)( [\d.]+L[\d.]+ [\d.]+L[\d.]+ [\d.]+L[\d.]+ [\d.]+Z")/, (_, head, x, tail) => `${head}${Number(x) - 9}${tail}`)],
    ["handover", "drawings", "before drawn elsewhere", swap(/(<circle cx=")([\d.]+)(" cy="15")/, (_, head, x, tail) => `${head}${Number(x) + 9}${tail}`)],
    ["handover", "drawings", "no band", swap(/(class="drawn"><svg[^>]*>\s*<line [^>]*>\s*)<rect [^>]*\/>/, (_, head) => head)],
    ["handover", "drawings", "better on the other side", swap(/text-anchor="end">better/, 'text-anchor="start">better')],
    ["handover", "labels", "a word that leaves the drawing", swap(/(<text x=")[\d.]+("[^>]*>better)/, (_, head, tail) => `${head}390${tail}`)],
    ["bench", "labels", "a word under a shape", swap(/(>rear<\/text>)/, (all) => `${all}<rect x="30" y="240" width="60" height="30"/>`)],
    ["bench", "contrast-screen", "pale text", style("td p { color: #999999; }")],
    ["handover", "contrast-screen", "a pale diamond", (page) => page.replaceAll('Z" fill="#1b2430" stroke="#ffffff"', 'Z" fill="#cccccc" stroke="#ffffff"')],
    ["bench", "axe-wide", "a button without a name", swap("<main>", "<main><button></button>")],
    ["handover", "axe-wide", "content outside of landmarks", swap("<header>", "<p>words</p><header>")],
    ["bench", "axe-narrow", "targets too small and too near", (page) => style(".tiny { display: none; } @media (max-width: 400px) { .tiny { display: inline; padding: 0; border: 0; font-size: 8px; line-height: 8px; } }")(swap("<main>", '<main><p><button class="tiny">a</button><button class="tiny">b</button></p>')(page))],
    ["bench", "narrow", "cells side by side", style("@media (max-width: 40rem) { .stack td, .stack tbody th { display: inline-block; min-width: 200px; white-space: nowrap; } }")],
    ["handover", "narrow", "a box of 400 px", style("h1 { width: 400px; }")],
    ["bench", "contrast-print", "pale on paper alone", style("@media print { .mind, td { color: #999999; } }")],
    ["handover", "silent", "a style that the policy forbids", raw(swap("</style>", "p { margin: 1px; }</style>"))],
    ["bench", "large", "text that does not grow", style("td { font-size: 15px; }")],
    ["handover", "spaced", "no room for wider text", style("caption { white-space: nowrap; overflow: hidden; width: 8.2rem; }")],
    ["bench", "print-A4", "far too many pages", style("@media print { tr { break-before: page; } }")],
    ["bench", "print-A4", "steps torn apart", style("@media print { tr { break-inside: auto !important; orphans: 1; widows: 1; } .steps td { line-height: 4.3; } }"), /^torn apart/],
    ["bench", "print-A4", "letters too small", style("@media print { td { font-size: 4pt; } }")],
    ["handover", "print-Letter", "wider than the paper", style("@media print { table { width: 900px; } }")],
];

mkdirSync(path.join(folder, "spoiled"), { recursive: true });
let passed = 0, failed = 0, made = 0;
function tell(good, text) {
    good ? passed++ : failed++;
    if (!good) console.log(`FAILED ${text}`);
}

async function judged(browser, paper, check, page) {
    const file = path.join(folder, "spoiled", `fault-${made++}.html`);
    writeFileSync(file, page);
    return judgePaper(check, { file, html: page, answer: json[paper], bench: json.bench, paper, browser, work: path.join(folder, "paper"), notes: [] });
}

const todo = faults.map(([paper, check, what, plant, says = /./]) => async (browser) => {
    const page = plant.raw ? plant(html[paper]) : seal(plant(html[paper]));
    if (page === html[paper]) throw new Error(`nothing was planted: ${what}`);
    const found = await judged(browser, paper, check, page);
    tell(found.some((text) => says.test(text)) && !found.some((text) => text.startsWith("could not be judged")), `${paper}: ${check} does not see: ${what}${found.length > 0 ? `: ${found[0]}` : ""}`);
    if (process.env.PAGE_TIMES) console.log(`${paper}: ${check}: ${what}: ${found[0]}`);
});
// The pages as they are: sealed again they are the same.
for (const paper of ["bench", "handover"]) {
    tell(seal(html[paper]) === html[paper], `${paper}: the policy names another style`);
    todo.push(...Object.keys(paperChecks).map((check) => async (browser) => {
        const found = await judged(browser, paper, check, html[paper]);
        tell(found.length === 0, `${paper}: ${check} complains of a good page: ${found.join("; ")}`);
    }));
}
const unseen = Object.keys(paperChecks).filter((check) => !faults.some(([, other]) => other === check));
tell(unseen.length === 0, `no fault is planted for ${unseen.join(", ")}`);

async function worker() {
    const browser = await launch();
    for (let next = todo.shift(); next; next = todo.shift()) await next(browser);
    await browser.close();
}
await Promise.all([worker(), worker()]);
console.log(`${passed} passed, ${failed} failed`);
process.exitCode = failed === 0 ? 0 : 1;
