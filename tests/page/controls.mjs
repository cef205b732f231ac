// The slider of money, the field beside it, and what is shown for a sum.

// The one slider; the field stands in the smallest box around the slider that has one; what is shown for a sum
// is an output, a status or a live region in that box.
export async function findControls(page) {
    const handle = await page.evaluateHandle(() => {
        const sliders = [...document.querySelectorAll("input[type=range]")].filter((slider) => slider.checkVisibility());
        const slider = sliders[0] ?? null;
        const inBox = (selector) => {
            for (let box = slider?.parentElement; box; box = box.parentElement) {
                const found = [...box.querySelectorAll(selector)].filter((element) => element.checkVisibility());
                if (found.length > 0) return found[0];
            }
            return null;
        };
        return { count: sliders.length, slider, field: inBox("input:not([type=range]):not([type=hidden]), [contenteditable]"),
            shown: inBox("output, [role=status], [aria-live=polite]") };
    });
    const count = await (await handle.getProperty("count")).jsonValue();
    const part = async (name) => (await handle.getProperty(name)).asElement();
    return { count, slider: await part("slider"), field: await part("field"), shown: await part("shown") };
}

// Puts the text in as one piece, as if pasted, and ends with Enter and by leaving the field.
export async function typeSum(page, { field }, text) {
    await field.evaluate((element) => {
        element.focus();
        element.select?.();
    });
    await (text ? page.keyboard.sendCharacter(text) : page.keyboard.press("Delete"));
    await page.keyboard.press("Enter");
    await field.evaluate((element) => element.blur());
}

export const shownText = ({ shown }) =>
    shown.evaluate((element) => element.innerText.replace(/\s+/g, " ").trim());
export const valueText = ({ slider }) =>
    slider.evaluate((element) => element.getAttribute("aria-valuetext") ?? "");
