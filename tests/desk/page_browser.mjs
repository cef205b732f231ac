// A desk of its own for each test, and a Chromium that looks at its page under watch.
import { spawn } from "node:child_process";
import { createRequire } from "node:module";
import fs from "node:fs";
import path from "node:path";

const modules = process.env.PAGE_MODULES ?? "build/tests/page/node_modules";
const need = createRequire(path.resolve(modules, "../x.js"));
const { chromium } = need("playwright-core");
export const axeSource = need("axe-core").source;
export const program = path.resolve(process.env.SWAPWORTH ?? "build/swapworth");
export const work = path.resolve(process.env.DESK_WORK ?? "build/tests/desk-page");
export const catalog = path.resolve("catalog");

// A job of ours in a folder of its own, with the shipped catalog.
let number = 0;
export function jobFolder(scenario = null, change = (job) => job) {
    const folder = path.join(work, `job-${process.pid}-${++number}`);
    fs.mkdirSync(folder, { recursive: true });
    if (scenario === null) return { folder, file: null };
    const job = change({ ...JSON.parse(fs.readFileSync(`scenarios/${scenario}.json`, "utf8")), catalog });
    const file = path.join(folder, "job.json");
    fs.writeFileSync(file, JSON.stringify(job, null, 2));
    return { folder, file };
}

export async function beginDesk({ folder, file }) {
    const child = spawn(program, ["desk", ...(file ? [file] : ["--catalog", catalog])], { cwd: folder, stdio: ["ignore", "pipe", "pipe"] });
    let err = "";
    child.stderr.on("data", (bytes) => { err += bytes; });
    const line = await new Promise((done, fail) => {
        let out = "";
        child.stdout.on("data", (bytes) => {
            out += bytes;
            if (out.includes("\n")) done(out.split("\n")[0]);
        });
        child.on("exit", (code) => fail(new Error(`the desk ended with ${code}: ${err}`)));
    });
    const ended = new Promise((done) => child.on("exit", (code) => done(code)));
    return {
        url: line, origin: line.slice(0, line.indexOf("/#")), token: line.slice(line.indexOf("#") + 1), folder, file,
        async stop() {
            child.kill("SIGTERM");
            return ended;
        },
    };
}

export const launch = () => chromium.launch({
    executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
    args: ["--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--hide-scrollbars", "--font-render-hinting=none", "--force-color-profile=srgb"],
});

// seen: what the page asked for and what it complained of. plant: files of the page that are changed on their way.
// rest: ms between the browser's new window, which loads much of the browser's own, and the page.
export async function openDesk(browser, desk, { width = 1280, height = 900, scheme = "light", plant = null, url = desk.url, forced = "none", context = null, quietly = [], rest = 0 } = {}) {
    const own = context ?? await browser.newContext({ viewport: { width, height }, colorScheme: scheme, forcedColors: forced, acceptDownloads: false });
    const page = await own.newPage();
    const seen = { requests: [], faults: [], asked: [] };
    page.on("request", (request) => {
        seen.requests.push(request.url());
        if (request.method() === "POST") seen.asked.push({ name: request.url().split("/api/")[1], body: request.postDataJSON() });
        if (!request.url().startsWith(`${desk.origin}/`) && !request.url().startsWith("blob:") && !request.url().startsWith("data:")) seen.faults.push(`it asks elsewhere: ${request.url()}`);
    });
    page.on("pageerror", (error) => seen.faults.push(`error: ${error.message}`));
    page.on("console", (message) => {
        if (!["error", "warning"].includes(message.type())) return;
        if (quietly.some((one) => message.text().includes(one))) return;
        seen.faults.push(`${message.type()}: ${message.text()}`);
    });
    page.on("dialog", (dialog) => dialog.accept());
    if (plant) await page.route(`${desk.origin}/${plant.file}`, async (route) => {
        const answer = await route.fetch();
        const text = await answer.text();
        const changed = plant.change(text);
        if (changed === text) throw new Error(`the fault "${plant.name}" changes nothing`);
        await route.fulfill({ response: answer, body: changed });
    });
    if (rest > 0) await page.waitForTimeout(rest);
    await page.goto(url, { waitUntil: "load" });
    return { page, seen, context: own, async close() { context ? await page.close() : await own.close(); } };
}

export async function view(page, name) {
    await page.locator("#tabs").getByRole("link", { name, exact: true }).click();
    await page.locator(`#tabs a[aria-current=page]`, { hasText: name }).waitFor();
}

// Nothing is being worked out any more.
export async function settled(page, most = 180000) {
    // The page begins its questions behind the next frame.
    await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => setTimeout(() => requestAnimationFrame(() => setTimeout(done, 30))))));
    await page.waitForFunction(() => document.documentElement.dataset.work === "" && document.querySelectorAll("#main .card").length > 0
        && ![...document.querySelectorAll("#main .notice")].some((one) => one.offsetParent !== null && /being worked out/i.test(one.textContent)), null, { timeout: most });
}

export const viewNames = ["Machine", "Wishes", "Money", "Options", "Taste", "Papers", "Pins"];

export const counts = { passed: 0, failed: 0 };
export function verdict(what, faults) {
    if (faults.length === 0) {
        counts.passed++;
        return;
    }
    counts.failed++;
    for (const fault of faults.slice(0, 12)) console.log(`FAILED ${what}: ${fault}`);
    if (faults.length > 12) console.log(`FAILED ${what}: and ${faults.length - 12} more`);
}
