// One Chromium, and pages opened in it under watch: what they ask for, what they say, what they run.
import { createRequire } from "node:module";
import { pathToFileURL } from "node:url";
import path from "node:path";

// The packages stand in the build folder, never in the tree.
const modules = process.env.PAGE_MODULES ?? "build/tests/page/node_modules";
const need = createRequire(path.resolve(modules, "../x.js"));
const puppeteer = need("puppeteer-core");
export const axeSource = need("axe-core").source;

export async function launch(more = []) {
    const executablePath = process.env.CHROMIUM ?? "/usr/bin/chromium";
    // Root may not use the sandbox; nothing outside this machine can be found by name.
    const args = ["--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--hide-scrollbars",
        "--font-render-hinting=none", "--force-color-profile=srgb", "--host-resolver-rules=MAP * ~NOTFOUND", ...more];
    return puppeteer.launch({ executablePath, headless: true, args, protocolTimeout: 120000 });
}

// Notes of its own what a page does that it should not. Put in before any script of the page.
function keepWatch() {
    globalThis.__violations = [];
    document.addEventListener("securitypolicyviolation", (event) => {
        globalThis.__violations.push(`${event.violatedDirective}: ${event.blockedURI} ${event.sample}`);
    });
}

// Opens a file. The answer's `seen` grows as the page goes on.
export async function open(browser, file, { width = 1280, height = 900, script = true, bypass = false,
    media = "screen", vision } = {}) {
    const page = await browser.newPage();
    const seen = { requests: [], errors: [], dialogs: [] };
    await page.setViewport({ width, height });
    await page.setRequestInterception(true);
    const url = pathToFileURL(path.resolve(file)).href;
    page.on("request", (request) => {
        seen.requests.push(request.url());
        request.url() === url ? request.continue() : request.abort();
    });
    page.on("console", (message) => {
        if (["error", "warn", "warning", "assert"].includes(message.type())) seen.errors.push(message.text());
    });
    page.on("pageerror", (error) => seen.errors.push(String(error?.message ?? error)));
    page.on("dialog", (dialog) => {
        seen.dialogs.push(dialog.message());
        dialog.dismiss().catch(() => {});
    });
    page.on("popup", () => seen.errors.push("a window was opened"));
    if (bypass) await page.setBypassCSP(true);
    if (script) await page.evaluateOnNewDocument(keepWatch);
    else await page.setJavaScriptEnabled(false);
    if (media !== "screen") await page.emulateMediaType(media);
    // The page believes to be in front and in use, whatever the other tabs do: only then a focus shows.
    await page.emulateFocusedPage(true);
    if (vision) await page.emulateVisionDeficiency(vision);
    await page.goto(url, { waitUntil: "load", timeout: 30000 });
    return { page, seen, url };
}

// Opens, lets `look` work on it, closes.
export async function within(browser, file, options, look) {
    const opened = await open(browser, file, options);
    await opened.page.bringToFront();
    try {
        return await look(opened.page, opened.seen, opened.url);
    } finally {
        await opened.page.close();
    }
}

// The same for those who only look: they share what is open. Of each Chromium the pages of one file stay open.
const shared = new WeakMap();
export async function watching(browser, file, options, look) {
    let kept = shared.get(browser);
    if (kept?.file !== file) {
        for (const { page } of kept?.pages.values() ?? []) await page.close();
        kept = { file, pages: new Map() };
        shared.set(browser, kept);
    }
    const key = JSON.stringify({ width: 1280, media: "screen", script: true, ...options });
    if (!kept.pages.has(key)) kept.pages.set(key, await open(browser, file, options));
    const { page, seen, url } = kept.pages.get(key);
    return look(page, seen, url);
}
