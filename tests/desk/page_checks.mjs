// One thing each of the desk's page; every check returns what is wrong, in sentences.
import { axeSource, openDesk, settled, view, viewNames } from "./page_browser.mjs";
import { yardstick } from "./page_yardstick.mjs";

/* ---- weight, first view, where it asks ------------------------------------------------------------ */

export async function weight(browser, desk, how = {}) {
    const opened = await openDesk(browser, desk, how);
    const { page, seen } = opened;
    await settled(page); // views come later than the page
    const files = [...new Set(seen.requests.filter((url) => url.startsWith(`${desk.origin}/`) && !url.includes("/api/") && !url.includes("favicon")))];
    let bytes = 0;
    for (const file of files) bytes += how.plant && file.endsWith(`/${how.plant.file}`) ? (await page.evaluate(async (url) => (await (await fetch(url)).text()).length, file)) : (await (await fetch(file)).arrayBuffer()).byteLength;
    const faults = [...seen.faults];
    if (files.length < 10) faults.push(`only ${files.length} files were seen`);
    if (bytes >= 200000) faults.push(`the page weighs ${bytes} bytes in ${files.length} files, not under 200,000`);
    await opened.close();
    return { faults, told: `${bytes} bytes in ${files.length} files` };
}

// From the navigation to the job's name, its machine and the sum on the page: under 500 ms on a machine that shows the
// yardstick's page within 350 ms; on a slower one, in proportion. Told are both, and the 500 ms themselves are held by
// tests/bench/desk.sh. The machine may be shared: the least of five counts, and the middle is told.
const usualYardstick = 350;
export async function firstView(browser, desk, how = {}) {
    const times = [], yards = [], yard = await yardstick();
    const allowed = () => 500 * (how.exactly ? 1 : Math.max(1, Math.min(...yards) / usualYardstick));
    // What else the machine does can only make it later: a busy one is tried a while longer.
    for (let k = 0; k < 5 || (k < 9 && Math.min(...times) >= allowed()); k++) {
        yards.push(await yard.time(browser));
        const opened = await openDesk(browser, desk, { ...how, rest: 1500 });
        await opened.page.waitForFunction(() => globalThis.__first ??= document.querySelector(".whatis summary") && document.querySelector(".money .tag")?.textContent ? performance.now() : undefined, null, { polling: "raf" });
        times.push(await opened.page.evaluate(() => Math.max(globalThis.__first, performance.getEntriesByName("first-contentful-paint")[0]?.startTime ?? 0)));
        await opened.close();
    }
    yard.stop();
    const sorted = [...times].sort((a, b) => a - b), least = sorted[0], middle = sorted[sorted.length >> 1];
    return { faults: least < allowed() ? [] : [`the first view takes ${least.toFixed(0)} ms (${times.map((one) => one.toFixed(0)).join(", ")}), not under ${allowed().toFixed(0)}`], told: `first view ${least.toFixed(0)} ms, in the middle of all ${middle.toFixed(0)} ms; a page that is nothing but a page: ${Math.min(...yards).toFixed(0)} ms` };
}

/* ---- the slider ---------------------------------------------------------------------------------------- */

// The curve's answer with 1,000 steps, each another bundle than the one before: parts, tasks, rates and sound of the true ones, at other sums.
function thousand(text) {
    const answer = JSON.parse(text), real = answer.steps;
    answer.steps = Array.from({ length: 1000 }, (_, k) => {
        const from = structuredClone(real[k % real.length]);
        for (const swap of from.swaps) for (const part of swap.in) part.price = `${k}.00`;
        return { ...from, cost: `${k}.50`, points: `${k}.000` };
    });
    return JSON.stringify(answer);
}

// Each of the 1,000 steps once by input events on the native slider: all are shown, and nothing is asked. Of 40 of them
// the browser's own counters tell the work of a frame: script, style and layout. The machine may be shared, so each of
// these is gone to three times, and its least work counts.
export async function slider(browser, desk, how = {}) {
    const opened = await openDesk(browser, desk, how);
    const { page, seen } = opened;
    await page.route(`${desk.origin}/api/ask`, async (route) => {
        if (route.request().postDataJSON().question !== "curve") return route.continue();
        const answer = await route.fetch();
        return route.fulfill({ response: answer, body: thousand(await answer.text()) });
    });
    await page.reload();
    await settled(page);
    await page.evaluate(() => document.fonts.ready);
    const before = seen.asked.length;
    const times = await page.evaluate(async () => {
        const slide = document.querySelector(".money .slide");
        const frame = () => new Promise((done) => requestAnimationFrame(done));
        const times = [];
        for (let k = 1; k <= 1000; k++) {
            slide.value = String(k);
            const began = performance.now();
            slide.dispatchEvent(new Event("input", { bubbles: true }));
            await frame();
            void document.body.offsetHeight;
            times.push({ all: performance.now() - began, tag: document.querySelector(".money .tag").textContent });
        }
        return times;
    });
    // The page's own work in a frame, from the profiler's counters: script, style, layout.
    const client = await page.context().newCDPSession(page);
    await client.send("Performance.enable");
    const busy = async () => {
        const { metrics } = await client.send("Performance.getMetrics");
        const of = (name) => metrics.find((one) => one.name === name)?.value ?? 0;
        return (of("ScriptDuration") + of("RecalcStyleDuration") + of("LayoutDuration")) * 1000;
    };
    const works = [];
    for (let k = 25; k <= 1000; k += 25) {
        let least = Infinity;
        for (let again = 0; again < 3; again++) {
            await page.evaluate((at) => { document.querySelector(".money .slide").value = String(at); }, (k + 500) % 1000);
            await page.evaluate(() => { document.querySelector(".money .slide").dispatchEvent(new Event("input", { bubbles: true })); return new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))); });
            await page.evaluate((at) => { document.querySelector(".money .slide").value = String(at); }, k);
            const began = await busy();
            await page.evaluate(() => { document.querySelector(".money .slide").dispatchEvent(new Event("input", { bubbles: true })); return new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))); });
            least = Math.min(least, await busy() - began);
        }
        works.push(least);
    }
    const faults = [...seen.faults];
    const asked = seen.asked.slice(before).length;
    if (asked > 0) faults.push(`moving the slider asked ${asked} times`);
    const shown = new Set(times.map((one) => one.tag));
    if (shown.size !== 1000) faults.push(`1,000 sums show as ${shown.size}`);
    const worst = Math.max(...works);
    if (!(worst < 16)) faults.push(`a frame takes ${worst.toFixed(1)} ms of work, not under 16`);
    const steps = times.map((one) => one.all).sort((a, b) => a - b);
    await opened.close();
    return { faults, told: `slider: ${worst.toFixed(1)} ms of work in the worst of 40 frames; event to layout at 1,000 steps: middle ${steps[500].toFixed(1)}, worst ${steps[999].toFixed(1)} ms (waiting for the screen in it)` };
}

/* ---- an answer that is old ----------------------------------------------------------------------------------- */

export async function oldAnswers(browser, desk, how = {}) {
    const opened = await openDesk(browser, desk, { ...how, quietly: ["ERR_ABORTED", "ERR_FAILED"] });
    const { page, seen } = opened, faults = [];
    await settled(page);
    let hold = true;
    const held = [];
    await page.route(`${desk.origin}/api/ask`, async (route) => {
        if (hold) await new Promise((done) => held.push(done));
        await route.continue().catch(() => {});
    });
    await view(page, "Wishes");
    const before = await page.locator(".answer").innerText();
    const quiet = page.locator(".swing").nth(1).locator("input[type=range]");
    await quiet.focus();
    for (let k = 0; k < 3; k++) await page.keyboard.press("PageUp");
    await page.waitForTimeout(400);
    const told = await page.locator(".answer").innerText();
    if (!/being worked out anew/i.test(told) || !/belongs to the wishes before/.test(told)) faults.push("an old answer is not told to be old");
    if (await page.locator(".answer .pane.old").count() !== 1) faults.push("an old answer looks like a new one");
    if (!told.includes(before.split("\n").filter(Boolean)[1])) faults.push("the old answer is gone at once");
    if (!/You are trying: .*Quiet \d+, not/.test(await page.locator("#trial").innerText())) faults.push("what is tried is not told");
    const set = seen.asked.filter((one) => one.name === "ask" && one.body.question === "plan").at(-1)?.body.set;
    if (!set?.some((one) => /^wishes\.swings\.quiet=\d+$/.test(one))) faults.push(`the plan was asked with ${JSON.stringify(set)}`);
    const failed = page.waitForEvent("requestfailed", { timeout: 5000 }).catch(() => null);
    await page.locator(".answer").getByRole("button", { name: "Stop" }).click();
    if (await failed === null) faults.push("stop does not end the request");
    const after = await page.locator(".answer").innerText();
    if (!/Stopped/.test(after)) faults.push("that it was stopped is not told");
    hold = false;
    for (const done of held) done();
    await page.locator(".answer").getByRole("button", { name: "Ask again" }).click();
    await settled(page);
    if (await page.locator(".answer .pane.old").count() !== 0) faults.push("a new answer looks like an old one");
    await page.locator("#trial").getByRole("button", { name: "Drop it" }).click();
    await settled(page);
    if (!(await page.locator(".answer").innerText()).includes(before.split("\n").filter(Boolean)[1])) faults.push("after dropping it another answer stands there");
    await opened.close();
    return { faults: [...faults, ...seen.faults] };
}

/* ---- for everybody ------------------------------------------------------------------------------------------------ */

const tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];
async function axe(page, where) {
    await page.evaluate(axeSource);
    const found = await page.evaluate((values) => globalThis.axe.run(document, { runOnly: { type: "tag", values }, resultTypes: ["violations"], preload: false }), tags);
    if (found.passes.length < 10) return [`${where}: axe-core judged hardly anything`];
    return found.violations.flatMap((rule) => rule.nodes.slice(0, 3).map((node) => `${where}: ${rule.id}: ${node.target.join(" ")}: ${(node.failureSummary ?? "").replace(/\s+/g, " ").slice(0, 160)}`));
}

// What axe-core does not see: size of targets (WCAG 2.2, 2.5.8: 24 px, but for links within a sentence), sideways scrolling (1.4.10).
const look = () => {
    const faults = [], root = document.documentElement;
    if (root.scrollWidth > root.clientWidth) faults.push(`it is ${root.scrollWidth} px wide in ${root.clientWidth}`);
    for (const one of document.querySelectorAll("button, input, select, textarea, summary, a, [role=slider]")) {
        const box = one.getBoundingClientRect();
        if (box.width === 0 || one.closest("[hidden]") || one.classList.contains("hearable") || one.classList.contains("skip")) continue;
        const inline = one.tagName === "A" && getComputedStyle(one).display === "inline" && one.parentElement.textContent.trim() !== one.textContent.trim();
        if (!inline && (box.height < 23.5 || (box.width < 23.5))) faults.push(`${one.outerHTML.slice(0, 80)} is ${box.width.toFixed(0)} x ${box.height.toFixed(0)} px`);
    }
    for (const one of document.querySelectorAll("#main .card, .head, #tabs a, button")) {
        const box = one.getBoundingClientRect();
        if (box.width > 0 && box.right > root.clientWidth + 1) faults.push(`${one.className || one.tagName} reaches to ${box.right.toFixed(0)} px of ${root.clientWidth}`);
        if (one.tagName === "BUTTON" && one.scrollWidth > one.clientWidth + 1) faults.push(`the words of "${one.textContent}" are cut off`);
    }
    const names = [...document.querySelectorAll("main, nav, header, footer, h1")].filter((one) => one.tagName !== "HEADER" || one.parentElement === document.body);
    if (document.querySelectorAll("main").length !== 1 || document.querySelectorAll("h1").length !== 1 || names.length < 5) faults.push("a landmark or the heading is missing");
    return faults;
};

export async function everyView(browser, desk, how, open = () => {}) {
    const opened = await openDesk(browser, desk, how);
    const { page, seen } = opened, faults = [];
    await settled(page);
    for (const name of viewNames) {
        await view(page, name);
        await open(page, name);
        await settled(page);
        const where = `${name} at ${how.width ?? 1280}${how.scheme ? `, ${how.scheme}` : ""}`;
        faults.push(...await axe(page, where), ...(await page.evaluate(look)).map((one) => `${where}: ${one}`));
        if (how.width >= 3840 && await page.evaluate(() => parseFloat(getComputedStyle(document.documentElement).fontSize)) < 24) faults.push(`${where}: letters do not grow`);
    }
    await opened.close();
    return { faults: [...faults, ...seen.faults] };
}

// Every thing that can be folded out is, all that is asked for is there.
export async function unfolded(page, name) {
    await page.evaluate(() => { for (const one of document.querySelectorAll("#main details")) one.open = true; });
    if (name === "Taste") for (const words of ["What to ask next", "Work out what is sure", "Draw the map"]) {
        const press = page.getByRole("button", { name: words, exact: true });
        if (await press.count() > 0 && await press.isVisible()) await press.click();
    }
    if (name === "Options") for (const words of ["What to buy first", "Four bundles, each unlike the others"]) {
        const press = page.getByRole("button", { name: words, exact: true });
        if (await press.count() > 0 && await press.isVisible()) await press.click();
    }
    if (name === "Money") {
        await page.getByRole("button", { name: "Pin this" }).click();
        await page.locator(".changes").getByRole("button", { name: /^why/ }).first().click();
    }
    await page.waitForTimeout(300);
}

// Without motion nothing moves; in forced colours nothing is said by our colours alone.
export async function calm(browser, desk) {
    const opened = await openDesk(browser, desk, { forced: "active" });
    const { page, seen } = opened, faults = [];
    await page.emulateMedia({ reducedMotion: "reduce" });
    await settled(page);
    faults.push(...await page.evaluate(() => [...document.querySelectorAll("*")].filter((one) => {
        const style = getComputedStyle(one);
        return (style.transitionDuration !== "0s" && style.transitionProperty !== "none" && parseFloat(style.transitionDuration) > 0) || style.animationName !== "none";
    }).map((one) => `${one.tagName} ${one.className} moves`)));
    const pressed = page.locator(".changes .wish").first();
    await pressed.click();
    const words = page.locator('.changes .wish[aria-pressed="true"], #trial');
    if (await words.count() === 0 || await page.locator("#trial").isHidden()) faults.push("a wish shows by nothing but colour");
    await opened.close();
    return { faults: [...faults, ...seen.faults] };
}

/* ---- hostile texts, the token ----------------------------------------------------------------------------------------- */

export const hostileTitle = "<img src=x onerror=\"globalThis.__ran=1\"><script>globalThis.__ran=1</script> & \u202eback";
export async function hostile(browser, desk, how = {}) {
    const opened = await openDesk(browser, desk, how);
    const { page, seen } = opened, faults = [];
    await settled(page);
    for (const name of viewNames) {
        await view(page, name);
        await settled(page);
        if (await page.evaluate(() => globalThis.__ran !== undefined)) faults.push(`${name}: a text of the job is run`);
        if (await page.locator("#title img, #main img:not(.picture), #main script").count() > 0) faults.push(`${name}: a text of the job becomes an element`);
    }
    if (!(await page.locator("#title").innerText()).includes("<img src=x")) faults.push("the title is not told as it is");
    await view(page, "Machine");
    if (!(await page.locator("#main").innerText()).includes("<b>front</b>")) faults.push("a note is not told as it is");
    await opened.close();
    return { faults: [...faults, ...seen.faults] };
}

export async function token(browser, desk, how = {}) {
    const faults = [];
    const opened = await openDesk(browser, desk, how);
    const { page } = opened;
    await settled(page);
    if (page.url().includes(desk.token)) faults.push("the token stays in the address bar");
    if (await page.evaluate((text) => document.documentElement.outerHTML.includes(text) || document.cookie.includes(text) || JSON.stringify(localStorage).includes(text), desk.token)) faults.push("the token stands in the page, a cookie or for good");
    const first = await page.locator("#title").innerText();
    await page.reload();
    await settled(page);
    if (await page.locator("#title").innerText() !== first) faults.push("the page does not live through being read anew");
    await opened.close();
    const bare = await openDesk(browser, desk, { url: `${desk.origin}/` });
    await bare.page.locator("#main .card").waitFor();
    if (!/no token/.test(await bare.page.locator("#main").innerText()) || !/terminal/.test(await bare.page.locator("#main").innerText())) faults.push("a page without a token does not say how to get one");
    if (bare.seen.asked.length > 0) faults.push("a page without a token asks");
    await bare.close();
    return { faults };
}
