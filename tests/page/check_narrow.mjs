// Narrow windows and large text. WCAG 2.2: 1.4.10 (320 px without scrolling sideways; tables may scroll in their
// own box), 1.4.4 (text at 200 %), 1.4.12 (wider spacing of text).
import { launch, watching, within } from "./browser.mjs";
import { lookInto } from "./check_contrast.mjs";

const few = (faults) => faults.length > 6 ? [...faults.slice(0, 6), `and ${faults.length - 6} more`] : faults;

async function sideways(page, width) {
    await lookInto(page);
    return page.evaluate((limit) => {
        const most = Math.max(document.documentElement.scrollWidth, document.body.scrollWidth);
        const found = [...globalThis.__look.beyond(limit), ...globalThis.__look.torn()];
        if (most > limit) found.unshift(`the page is ${most} px wide, not ${limit}`);
        return found;
    }, width).then(few);
}

export const narrow = ({ file, browser }) =>
    watching(browser, file, { width: 320 }, (page) => sideways(page, 320));

// The texts that are there before and after, each with its size then; the same text several times: in their order.
function paired(before, after) {
    const sizes = new Map();
    for (const { what, size } of after) sizes.set(what, [...sizes.get(what) ?? [], size]);
    return before.map(({ what, size }) => ({ what, size, then: sizes.get(what)?.shift() })).filter(({ then }) => then !== undefined);
}

// Zoom of 200 % in a window of 1280 leaves 640; a browser's own size of letters, set to double, doubles them all.
export async function large({ file, browser }) {
    const zoomed = await within(browser, file, { width: 640 }, (page) => sideways(page, 640));
    const before = await watching(browser, file, {}, async (page) => {
        await lookInto(page);
        return page.evaluate(() => globalThis.__look.sizes());
    });
    const reader = await launch(["--blink-settings=defaultFontSize=32"]);
    try {
        const grown = await within(reader, file, {}, async (page) => {
            await lookInto(page);
            const after = await page.evaluate(() => globalThis.__look.sizes());
            // Another layout may leave a text out (the head of a table whose cells name themselves), not many.
            const grew = paired(before, after), small = grew.filter(({ size, then }) => !(then >= 1.95 * size))
                .map(({ what, size }) => `${what} stays at ${size} px`);
            if (grew.length < 0.8 * before.length) small.push(`${before.length - grew.length} of ${before.length} texts are gone`);
            return [...small, ...await sideways(page, 1280)];
        });
        return few([...zoomed.map((fault) => `zoomed: ${fault}`), ...few(grown).map((fault) => `letters twice as large: ${fault}`)]);
    } finally {
        await reader.close();
    }
}

const spacing = `* { line-height: 1.5 !important; letter-spacing: 0.12em !important; word-spacing: 0.16em !important; }
p { margin-bottom: 2em !important; }`;

export const spaced = ({ file, browser }) => within(browser, file, { width: 320 }, async (page) => {
    await page.evaluate((text) => {
        const sheet = new CSSStyleSheet();
        sheet.replaceSync(text);
        document.adoptedStyleSheets = [sheet];
    }, spacing);
    return sideways(page, 320);
});
