// The file by itself: its size, that it needs nothing from anywhere, and that its policy says so.
import { createHash } from "node:crypto";
import { watching } from "./browser.mjs";

const MOST_BYTES = 150000;
const hash = (text) => `'sha256-${createHash("sha256").update(text, "utf8").digest("base64")}'`;
const policyOf = (html) =>
    html.match(/<meta\s+http-equiv="Content-Security-Policy"\s+content="([^"]*)"/i)?.[1];

export function size({ html }) {
    const bytes = Buffer.byteLength(html, "utf8");
    return bytes < MOST_BYTES ? [] : [`${bytes} bytes, not less than ${MOST_BYTES}`];
}

// Words that would load, send, keep or run something. A proposal needs none of them.
const never = [/https?:/i, /\bdata:[a-z]+\//i, /\bblob:/i, /javascript:/i, /@import/i, /\burl\s*\(/i, /\bimport\s*\(/,
    /\bfetch\s*\(/, /XMLHttpRequest/, /WebSocket/, /EventSource/, /sendBeacon/, /WebAssembly/, /\bWorker\b/,
    /localStorage/, /sessionStorage/, /indexedDB/, /document\.cookie/, /\beval\s*\(/, /\bFunction\s*\(/,
    /innerHTML/, /outerHTML/, /insertAdjacentHTML/, /document\.write/, /\bserviceWorker\b/, /window\.open/,
    /set(?:Timeout|Interval)\s*\(\s*["'`]/];
const strangers = "link, script[src], img, picture, image, iframe, frame, object, embed, video, audio, source, track, " +
    "base, portal, use, feImage, foreignObject, applet, input[type=image], meta[http-equiv=refresh], form[action], " +
    "[background], [srcset], [poster], [ping], [formaction], [manifest], [style]";

export async function outside({ file, html, browser }) {
    const faults = [];
    // The hashes of the policy are letters at random: they do not count.
    const bare = html.replace(policyOf(html) ?? "", "");
    for (const word of never) {
        const found = bare.match(word);
        if (found) faults.push(`says "${found[0]}": ${bare.slice(Math.max(0, found.index - 30), found.index + 40)}`);
    }
    const slashes = bare.search(/\/\//);
    if (slashes >= 0) faults.push(`says "//": ${bare.slice(Math.max(0, slashes - 30), slashes + 40)}`);
    const found = await watching(browser, file, { script: false }, (page) => page.evaluate((selector) => {
        const list = [...document.querySelectorAll(selector)].map((element) => `has ${element.outerHTML.slice(0, 80)}`);
        for (const element of document.querySelectorAll("*"))
            for (const { name, value } of element.attributes) {
                if (/^on/i.test(name)) list.push(`has the handler ${name}`);
                if (/^(href|xlink:href|src|action|cite|data)$/i.test(name) && !value.startsWith("#"))
                    list.push(`has ${name}="${value.slice(0, 60)}"`);
            }
        return list;
    }, strangers));
    return faults.concat(found);
}

export function policy({ html }) {
    const content = policyOf(html);
    if (content === undefined) return ["there is no policy"];
    const faults = [];
    const head = html.slice(0, html.search(/<(style|script|body)\b/i));
    if (policyOf(head) === undefined) faults.push("the policy comes after what it is about");
    const said = new Map(content.split(";").map((part) => part.trim()).filter(Boolean)
        .map((part) => [part.split(/\s+/)[0], part.split(/\s+/).slice(1)]));
    const is = (name, wanted) => {
        const got = (said.get(name) ?? []).join(" ");
        if (got !== wanted.join(" ")) faults.push(`${name} is "${got}", not "${wanted.join(" ")}"`);
        said.delete(name);
    };
    // Data in a script element is not run, and needs no leave.
    const inline = (tag) => [...html.matchAll(new RegExp(`<${tag}\\b([^>]*)>([\\s\\S]*?)</${tag}>`, "gi"))]
        .filter(([, attributes]) => !/type="application\/json"/i.test(attributes)).map(([, , text]) => hash(text));
    is("default-src", ["'none'"]);
    is("style-src", inline("style"));
    is("script-src", inline("script"));
    for (const [name, list] of said)
        if (list.join(" ") !== "'none'") faults.push(`${name} lets in ${list.join(" ")}`);
    for (const name of ["base-uri", "form-action"])
        if (!said.has(name)) faults.push(`${name} is not none (default-src says nothing of it)`);
    return faults;
}
