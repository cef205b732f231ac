// Pictures of pages for people to look at: node pictures.mjs PAGES PICTURES NAME..
// NAME-screen, -320, -gray, -deuteranopia, -protanopia, and each page on paper (A4): NAME-print-p1 ..
import { execFile } from "node:child_process";
import { mkdir, rename, readdir, writeFile, rm } from "node:fs/promises";
import path from "node:path";
import { promisify } from "node:util";
import { launch, within } from "./browser.mjs";

const run = promisify(execFile);
const [pages, pictures, ...names] = process.argv.slice(2);
const views = { screen: {}, 320: { width: 320 }, gray: { vision: "achromatopsia" },
    deuteranopia: { vision: "deuteranopia" }, protanopia: { vision: "protanopia" } };

await mkdir(pictures, { recursive: true });
const browser = await launch();
for (const name of names) {
    const file = path.join(pages, `${name}.html`), target = (kind) => path.join(pictures, `${name}-${kind}`);
    for (const [kind, view] of Object.entries(views))
        await within(browser, file, view, async (page) =>
            writeFile(`${target(kind)}.png`, await page.screenshot({ fullPage: true })));
    for (const old of await readdir(pictures)) if (old.startsWith(`${name}-print-p`)) await rm(path.join(pictures, old));
    await within(browser, file, {}, async (page) =>
        writeFile(`${target("print")}.pdf`, await page.pdf({ format: "A4", printBackground: true })));
    await run("pdftoppm", ["-r", "90", "-png", `${target("print")}.pdf`, target("print-p")]);
    for (const made of await readdir(pictures)) {
        const [, number] = made.startsWith(`${name}-print-p-`) ? made.match(/-print-p-0*(\d+)\.png$/) ?? [] : [];
        if (number) await rename(path.join(pictures, made), `${target(`print-p${number}`)}.png`);
    }
}
await browser.close();
console.log(`pictures are in ${pictures}`);
