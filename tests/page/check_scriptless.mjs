// Without script the whole proposal is there; what needs the script is hidden, or says so.
import { watching } from "./browser.mjs";
import { sectionFaults } from "./sections.mjs";

export const scriptless = ({ file, browser, answer }) => watching(browser, file, { script: false }, async (page, seen) => {
    const faults = await sectionFaults(page, answer);
    const control = await page.evaluate(() => {
        const slider = document.querySelector("input[type=range]");
        const said = [...document.querySelectorAll("noscript")].map((element) => element.textContent).join(" ");
        return slider && slider.checkVisibility() ? said || "nothing" : null;
    });
    if (control && !/script/i.test(control))
        faults.push(`the slider is shown without script, and this is said of it: ${control}`);
    faults.push(...seen.errors.map((text) => `says in the console: ${text}`));
    return faults;
});

// The other way round: with script all this is there, and the slider.
export const scripted = ({ file, browser, answer }) => watching(browser, file, {}, async (page) => {
    const faults = await sectionFaults(page, answer);
    const shown = await page.evaluate(() => [...document.querySelectorAll("input[type=range]")]
        .filter((slider) => slider.checkVisibility()).length);
    const wanted = answer.options.length > 0 ? 1 : shown;
    if (shown !== wanted) faults.push(`${shown} sliders are shown`);
    return faults;
});
