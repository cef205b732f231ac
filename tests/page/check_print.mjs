// On paper: A4 and Letter, at most three pages (or so many as the job says), nothing cut off, nothing lost, nothing too small to read. What is on paper is
// read back by poppler (pdfinfo, pdftotext), which shares no code with the browser.
import { execFile } from "node:child_process";
import { mkdir, writeFile } from "node:fs/promises";
import path from "node:path";
import { promisify } from "node:util";
import { within } from "./browser.mjs";
import { lookInto } from "./check_contrast.mjs";

const run = promisify(execFile);
const MOST_PAGES = 3;
// From the top to the foot of the letters: a font of 6 pt is about 7 pt high. Smaller is hard to read (common practice,
// no source).
const LOWEST_PT = 7;
const papers = { A4: { format: "A4", width: 595.28, height: 841.89 }, Letter: { format: "Letter", width: 612, height: 792 } };

const plain = (text) => text.replace(/&(amp|lt|gt|quot|apos|#\d+);/g, (_, name) =>
    ({ amp: "&", lt: "<", gt: ">", quot: '"', apos: "'" })[name] ?? String.fromCodePoint(Number(name.slice(1))));

async function wordsOf(pdf) {
    const { stdout } = await run("pdftotext", ["-bbox", pdf, "-"], { maxBuffer: 1 << 26 });
    return stdout.split("<page ").slice(1).flatMap((page, number) => {
        const [width, height] = [...page.matchAll(/(?:width|height)="([\d.]+)"/g)].map(([, size]) => Number(size));
        return [...page.matchAll(/<word xMin="([-\d.]+)" yMin="([-\d.]+)" xMax="([-\d.]+)" yMax="([-\d.]+)">([^<]*)</g)]
            .map(([, left, top, right, bottom, text]) => ({ page: number + 1, width, height, left: +left, top: +top,
                right: +right, bottom: +bottom, text: plain(text) }));
    });
}

// Letters alone, since lines and words are broken otherwise on paper.
const letters = (text) => text.normalize("NFKC").replace(/[^\p{L}\p{N}]/gu, "").toLowerCase();

// What must not be torn apart: the cells of each row, as they stand in the order of the page.
const cells = () => [...document.querySelectorAll("table tbody tr")].flatMap((row) => [...row.cells].map((cell) => cell.innerText));

async function torn(pdf, pages, pieces) {
    const sheets = [];
    for (let page = 1; page <= pages; page++)
        sheets.push(letters((await run("pdftotext", ["-raw", "-f", page, "-l", page, pdf, "-"], { maxBuffer: 1 << 26 })).stdout));
    return pieces.filter((piece) => letters(piece) && !sheets.some((sheet) => sheet.includes(letters(piece))))
        .map((piece) => `torn apart: ${piece.replace(/\s+/g, " ").slice(0, 70)}`);
}

async function onPaper(name, { file, browser, work, notes, mostPages = MOST_PAGES, whole = false }) {
    const paper = papers[name], pdf = path.join(work, `${path.basename(file, ".html")}-${name}.pdf`);
    await mkdir(work, { recursive: true });
    const { pieces, tooWide, rows } = await within(browser, file, { media: "print" }, async (page) => {
        await writeFile(pdf, await page.pdf({ format: paper.format, printBackground: false, timeout: 60000 }));
        await lookInto(page);
        const pieces = await page.evaluate(() => globalThis.__look.seen());
        const rows = whole ? await page.evaluate(cells) : [];
        // As wide as the paper less two margins of a centimetre, in px of 96 to the inch.
        const width = Math.floor((paper.width / 72 - 2 / 2.54) * 96);
        await page.setViewport({ width, height: 1000 });
        const tooWide = await page.evaluate((limit) => globalThis.__look.beyond(limit), width);
        return { pieces, tooWide, rows };
    });
    const faults = tooWide.slice(0, 5);
    const { stdout } = await run("pdfinfo", [pdf]);
    const pages = Number(stdout.match(/^Pages:\s+(\d+)/m)?.[1]);
    const [, wide, high] = stdout.match(/^Page size:\s+([\d.]+) x ([\d.]+)/m) ?? [];
    if (!(pages >= 1 && pages <= mostPages)) faults.push(`${pages} pages, not at most ${mostPages}`);
    faults.push(...(await torn(pdf, pages, rows)).slice(0, 5));
    if (Math.abs(wide - paper.width) > 1.5 || Math.abs(high - paper.height) > 1.5)
        faults.push(`the paper is ${wide} x ${high} pt`);
    const words = await wordsOf(pdf);
    for (const word of words.filter(({ left, right, top, bottom, width, height }) =>
        left < 9 || right > width - 9 || top < 9 || bottom > height - 9).slice(0, 5))
        faults.push(`"${word.text}" on page ${word.page} reaches into the edge: ${word.left} to ${word.right}, ${word.top} to ${word.bottom}`);
    const small = words.filter(({ top, bottom, text }) => bottom - top < LOWEST_PT && /\w/.test(text));
    if (small.length > 0) faults.push(`${small.length} words are lower than ${LOWEST_PT} pt, such as "${small[0].text}": ${(small[0].bottom - small[0].top).toFixed(1)}`);
    // What is to be seen in print must be on the paper.
    const printed = letters(words.map(({ text }) => text).join(""));
    const lost = pieces.flatMap((piece) => piece.split(/\s+/)).map(letters).filter((word) => word && !printed.includes(word));
    if (lost.length > 0) faults.push(`lost on paper: ${lost.slice(0, 8).join(" ")}`);
    if (words.length < 100) faults.push(`only ${words.length} words on paper`);
    notes.push(`${name}: ${pages} pages, ${words.length} words`);
    return faults;
}

export const printA4 = (job) => onPaper("A4", job);
export const printLetter = (job) => onPaper("Letter", job);
