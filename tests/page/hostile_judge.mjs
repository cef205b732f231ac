// Judges a page made of hostile texts: nothing of them ran, nothing became an element or an attribute, and each stands there
// letter by letter.
import { within } from "./browser.mjs";
import { marked } from "./hostile_job.mjs";

// How often each element is there, with the names of its attributes.
function census() {
    const count = {};
    for (const element of document.querySelectorAll("*")) {
        const key = `${element.tagName} ${element.getAttributeNames().sort().join(" ")}`;
        count[key] = (count[key] ?? 0) + 1;
    }
    return count;
}

// What a person or a screen reader may be told: texts and attributes, without scripts and styles.
function told() {
    const pieces = [];
    const walk = document.createTreeWalker(document, NodeFilter.SHOW_ELEMENT | NodeFilter.SHOW_TEXT);
    for (let node = walk.nextNode(); node; node = walk.nextNode()) {
        if (node.nodeType === Node.TEXT_NODE) {
            if (!node.parentElement.closest("script, style")) pieces.push(node.data);
        } else {
            pieces.push("\u0000");
            for (const { name, value } of node.attributes) if (name !== "content" || node.name) pieces.push(`\u0000${value}\u0000`);
        }
    }
    return pieces.join("");
}

// Moves the slider over its whole way, so that all that the script can show is shown.
function drive() {
    const slider = document.querySelector("input[type=range]");
    const counts = [];
    for (let i = 0; slider && i <= 12; i++) {
        slider.value = String(Number(slider.min) + (Number(slider.max) - Number(slider.min)) * i / 12);
        slider.dispatchEvent(new Event("input", { bubbles: true }));
        slider.dispatchEvent(new Event("change", { bubbles: true }));
        counts.push(document.querySelectorAll("*").length);
    }
    return counts;
}

// Numbers beside texts that turn the letters round must keep their order: digit after digit goes to the right.
function turned() {
    const found = [];
    for (const element of document.querySelectorAll("[data-is]")) {
        const walk = document.createTreeWalker(element, NodeFilter.SHOW_TEXT), range = document.createRange();
        let last = null;
        for (let node = walk.nextNode(); node; node = walk.nextNode())
            for (let i = 0; i < node.length; i++) {
                if (!/\d/.test(node.data[i])) continue;
                range.setStart(node, i);
                range.setEnd(node, i + 1);
                const box = range.getBoundingClientRect();
                if (box.width === 0) continue;
                if (last && Math.abs(last.top - box.top) < 2 && box.left < last.left) {
                    found.push(`${element.dataset.is} "${element.textContent}" is turned round`);
                    i = node.length;
                }
                last = box;
            }
    }
    return found;
}

// Letters that the program may put another in the place of: controls, and those that turn text round.
const held = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f\u200b-\u200f\u2028\u2029\u202a-\u202e\u2060-\u2069\u061c\ufeff\u00ad\ufffe\uffff]/;
function pattern(text) {
    return [...text].map((letter) => {
        if (letter === "\r") return "[\\s?]?";
        const plain = letter.replace(/[.*+?^${}()|[\]\\/]/g, "\\$&");
        if (/\s/.test(letter) && !/[\u2028\u2029\ufeff]/.test(letter)) return "[\\s?]";
        return held.test(letter) ? `(?:${plain}|[?\ufffd ]|)` : plain;
    }).join("");
}

// The page as it is with plain words: what of it is there, whatever the words.
export const plainCensus = (browser, file) => within(browser, file, {}, async (page) => {
    const counts = await page.evaluate(drive);
    return { census: await page.evaluate(census), counts };
});

// wanted(number): the text of the field. The policy is set aside: the page alone has to keep the texts harmless.
export async function judgeHostile(browser, file, wanted, plain) {
    return within(browser, file, { bypass: true, width: 320 }, async (page, seen, url) => {
        const counts = await page.evaluate(drive);
        await page.evaluate(() => new Promise((done) => setTimeout(done, 30)));
        const faults = [];
        if (await page.evaluate(() => globalThis.__owned !== undefined || globalThis.frames.length > 0)) faults.push("a text was run");
        faults.push(...seen.dialogs.map((text) => `a dialog: ${text}`));
        faults.push(...seen.requests.filter((request, i) => request !== url || i > 0).map((request) => `asks for ${request.slice(0, 80)}`));
        faults.push(...seen.errors.map((text) => `in the console: ${text.slice(0, 120)}`));
        const now = await page.evaluate(census);
        for (const key of new Set([...Object.keys(now), ...Object.keys(plain.census)]))
            if (now[key] !== plain.census[key]) faults.push(`<${key}> is there ${now[key] ?? 0} times, not ${plain.census[key] ?? 0}`);
        if (String(counts) !== String(plain.counts)) faults.push("other elements come as the slider moves");
        const text = await page.evaluate(told), reached = new Set();
        const opened = new Set([...text.matchAll(/[Zz]q(\d+)a/g)].map(([, number]) => Number(number)));
        for (const [, number, inner] of text.matchAll(marked)) {
            reached.add(Number(number));
            if (!new RegExp(`^${pattern(wanted(Number(number)))}$`, "su").test(inner))
                faults.push(`field ${number} is told as ${JSON.stringify(inner.slice(0, 90))}, not ${JSON.stringify(wanted(Number(number)).slice(0, 90))}`);
        }
        for (const number of opened) if (!reached.has(number)) faults.push(`field ${number} is not told to its end`);
        const wide = await page.evaluate(() => document.documentElement.scrollWidth);
        if (wide > 320) faults.push(`the page is ${wide} px wide at 320`);
        faults.push(...await page.evaluate(turned));
        return { faults: faults.length > 6 ? [...faults.slice(0, 6), `and ${faults.length - 6} more`] : faults, reached };
    });
}
