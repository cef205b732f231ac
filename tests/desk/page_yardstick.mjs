// How fast this machine and its browser are: a page that is nothing but a page (no code of ours in it), told in the same
// way as the desk's first view. As many files as that asks for, a sheet of styles, one answer of 45 kB, 400 elements.
import http from "node:http";

const modules = 30;
const filler = Array.from({ length: 120 }, (_, k) => `export const f${k} = (x) => x.map((one) => ({ ...one, at: one.at + ${k} })).filter((one) => one.at % 7 !== ${k % 7});`).join("\n");
const script = `${Array.from({ length: modules }, (_, k) => `import { f0 as g${k} } from "./m${k}.js";`).join("\n")}
const rows = await (await fetch("/answer", { method: "POST", body: "{}" })).json();
for (const row of rows.slice(0, 400)) {
    const p = document.createElement("p");
    p.className = "card";
    p.textContent = \`\${row.name} \${${Array.from({ length: modules }, (_, k) => `g${k}([row]).length`).join(" + ")}}\`;
    document.body.append(p);
}
globalThis.ready = true;`;
const page = `<!doctype html><html lang="en"><meta charset="utf-8"><title>A page</title><link rel="stylesheet" href="styles.css"><script type="module" src="all.js"></script>
${Array.from({ length: modules }, (_, k) => `<link rel="modulepreload" href="m${k}.js">`).join("\n")}<body><h1>A page</h1>`;
const styles = Array.from({ length: 150 }, (_, k) => `.card.k${k} > b { color: rgb(${k}, 0, 0); padding: ${k}px; }`).join("\n") + "\n.card { border: 1px solid; display: grid; padding: 2px; }";
const answer = JSON.stringify(Array.from({ length: 900 }, (_, k) => ({ at: k, name: `row ${k} of an answer of the size` })));

export async function yardstick() {
    const kinds = { ".js": "text/javascript", ".css": "text/css" };
    const server = http.createServer((request, response) => {
        const of = request.url, body = of === "/" ? page : of === "/all.js" ? script : of === "/styles.css" ? styles : of === "/answer" ? answer : of.startsWith("/m") ? filler : "";
        request.resume().on("end", () => response.writeHead(200, { "Content-Type": kinds[of.slice(of.lastIndexOf("."))] ?? "text/html" }).end(body));
    });
    await new Promise((done) => server.listen(0, "127.0.0.1", done));
    return {
        async time(browser) {
            const context = await browser.newContext({ viewport: { width: 1280, height: 900 } });
            const one = await context.newPage();
            await one.waitForTimeout(1500);
            await one.goto(`http://127.0.0.1:${server.address().port}/`, { waitUntil: "load" });
            await one.waitForFunction(() => globalThis.__first ??= globalThis.ready ? performance.now() : undefined, null, { polling: "raf" });
            const ms = await one.evaluate(() => Math.max(globalThis.__first, performance.getEntriesByName("first-contentful-paint")[0]?.startTime ?? 0));
            await context.close();
            return ms;
        },
        stop: () => server.close(),
    };
}
