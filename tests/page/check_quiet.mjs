// A page in use: it asks for nothing, breaks no policy, complains of nothing.
import { within } from "./browser.mjs";
import { findControls, typeSum } from "./controls.mjs";

export async function silent({ file, browser }) {
    return within(browser, file, {}, async (page, seen, url) => {
        const controls = await findControls(page);
        if (controls.slider) {
            await controls.slider.focus();
            for (const key of ["ArrowRight", "ArrowLeft", "PageUp", "PageDown", "End", "Home"]) await page.keyboard.press(key);
        }
        const faults = [];
        for (const text of controls.field ? ["123.45", "0", "", "abc", "-5", "1e9", "12,5", "99999999999999999999"] : []) {
            await typeSum(page, controls, text);
            const nonsense = await page.evaluate(() =>
                document.body.innerText.match(/.{0,30}\b(NaN|undefined|Infinity|null|\[object).{0,20}/)?.[0]);
            if (nonsense) faults.push(`shows "${nonsense}" for "${text}"`);
        }
        await page.evaluate(() => new Promise((done) => setTimeout(done, 50)));
        faults.push(...seen.requests.filter((request, i) => request !== url || i > 0).map((request) => `asks for ${request}`));
        faults.push(...seen.errors.map((text) => `says in the console: ${text}`));
        faults.push(...seen.dialogs.map((text) => `opens a dialog: ${text}`));
        const broken = await page.evaluate(() => globalThis.__violations);
        faults.push(...broken.map((text) => `breaks its policy: ${text}`));
        return faults;
    });
}
