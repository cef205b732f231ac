// Who may ask, and how: each row of "Defence".
import fs from "node:fs";
import net from "node:net";

import { Desk, isSanitized, message, now, parse, patience, sleep } from "./raw.mjs";

export const small = "tests/schemas/host/scenario.json";
const policyOfPage =
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; " +
    "connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";
const policyOfAnswers = "default-src 'none'; frame-ancestors 'none'";

export const always = {
    "cache-control": "no-store",
    "x-content-type-options": "nosniff",
    "referrer-policy": "no-referrer",
    "cross-origin-resource-policy": "same-origin",
    "cross-origin-opener-policy": "same-origin",
};

// Every reply: its headers, no other origin let in, and an error is a sentence.
export function check(v, what, reply, code, policy = policyOfAnswers) {
    v.is(`${what}: code`, reply.code, code);
    if (reply.code === 0) return;
    for (const [name, value] of Object.entries(always)) v.is(`${what}: ${name}`, reply.headers[name], value);
    v.is(`${what}: policy`, reply.headers["content-security-policy"], policy);
    v.holds(`${what}: names who may read it`, !Object.keys(reply.headers).some((name) => name.startsWith("access-control")));
    v.holds(`${what}: is not whole`, reply.whole || reply.isHead);
    v.is(`${what}: bytes behind the reply`, reply.rest.length, 0);
    if (code >= 400 && !reply.isHead && code !== 422 && code !== 200) {
        const told = json(reply);
        const one = told?.error ?? told?.complaints?.[0];
        v.holds(`${what}: tells no error: ${reply.body.slice(0, 100)}`, one?.what?.length > 5 && "why" in one && "mend" in one);
    }
}

const json = (reply) => {
    try {
        return JSON.parse(reply.body);
    } catch {
        return null;
    }
};

const withDesk = (run, words = [small]) => async (v, options) => {
    const desk = await Desk.begin(words, options);
    try {
        await run(v, desk, options);
    } finally {
        v.is("the end", await desk.end(), 0);
        v.is("told on standard error", desk.errors, "");
    }
};

async function begins(v, desk) {
    v.holds("the address is one line", /^http:\/\/127\.0\.0\.1:\d+\/#[0-9a-f]{32}\n$/.test(desk.out));
    const mine = new Set();
    for (const name of fs.readdirSync(`/proc/${desk.pid}/fd`)) {
        const link = fs.readlinkSync(`/proc/${desk.pid}/fd/${name}`);
        if (link.startsWith("socket:[")) mine.add(link.slice(8, -1));
    }
    const listening = (file) =>
        fs.readFileSync(file, "latin1").split("\n").slice(1).map((line) => line.trim().split(/\s+/))
            .filter((row) => row[3] === "0A" && mine.has(row[9])).map((row) => row[1]);
    const port = desk.port.toString(16).toUpperCase().padStart(4, "0");
    v.is("listens at", listening("/proc/net/tcp").join(), `0100007F:${port}`);
    v.is("listens by IPv6 at", listening("/proc/net/tcp6").join(), "");
    const other = await Desk.begin([small], { work: desk.temporary });
    v.holds("two desks have two tokens", other.token !== desk.token);
    v.is("one's token at the other", (await other.post("open", {}, { "X-Desk-Token": desk.token })).code, 401);
    await other.end();
}

async function page(v, desk) {
    const types = { html: "text/html", css: "text/css", js: "text/javascript", svg: "image/svg+xml" };
    for (const name of fs.readdirSync("src/desk/page")) {
        const reply = await desk.get(name === "index.html" ? "/" : `/${name}`);
        check(v, name, reply, 200, policyOfPage);
        v.is(`${name}: bytes`, reply.content, fs.readFileSync(`src/desk/page/${name}`));
        v.is(`${name}: type`, reply.headers["content-type"], `${types[name.split(".").pop()]}; charset=utf-8`);
    }
    check(v, "the icon", await desk.get("/favicon.ico"), 204);
}

async function hosts(v, desk) {
    const { host, port } = desk;
    const bad = {
        none: null, empty: "", twice: [host, host], "twice, once right": [host, "evil.example"],
        "twice, once wrong": ["evil.example", host], other: "evil.example", "other with port": `evil.example:${port}`,
        "no port": "127.0.0.1", "other port": `127.0.0.1:${port + 1}`, "0 before": `127.0.0.1:0${port}`,
        "point behind": `localhost.:${port}`, ipv6: `[::1]:${port}`, "all addresses": `0.0.0.0:${port}`,
        "another way to write it": `127.1:${port}`, "name before": `a@127.0.0.1:${port}`, more: `${host}.evil.example`,
    };
    for (const [name, value] of Object.entries(bad)) {
        check(v, `GET, host ${name}`, await desk.get("/", { Host: value }), 403);
        const origin = typeof value === "string" ? { Origin: `http://${value}` } : {};
        check(v, `POST, host ${name}`, await desk.post("open", {}, { Host: value, ...origin }), 403);
    }
    for (const good of [host, `localhost:${port}`]) {
        check(v, `GET ${good}`, await desk.get("/", { Host: good }), 200, policyOfPage);
        check(v, `POST ${good}`, await desk.post("open", {}, { Host: good, Origin: `http://${good}` }), 200);
    }
}

async function origins(v, desk) {
    const { host, port } = desk;
    const bad = {
        none: null, empty: "", null: "null", twice: [`http://${host}`, `http://${host}`], other: "http://evil.example",
        https: `https://${host}`, slash: `http://${host}/`, bare: host, "other name": `http://localhost:${port}`,
        "no port": "http://127.0.0.1", more: `http://${host}.evil.example`, before: `http://evil.example http://${host}`,
    };
    for (const [name, value] of Object.entries(bad))
        check(v, `origin ${name}`, await desk.post("open", {}, { Origin: value }), 403);
    v.is("a preflight", (await desk.raw(message("OPTIONS", "/api/open", {
        Host: host, Origin: "http://evil.example", "Access-Control-Request-Method": "POST" }))).code, 405);
}

async function types(v, desk) {
    for (const type of [null, "", "text/plain", "application/x-www-form-urlencoded", "multipart/form-data; boundary=x",
        "application/jsonx", "application/json, text/plain", "application/json; charset=latin1", "application/json;",
        "application/json; charset=utf-8; x=y", "text/plain; application/json", ["application/json", "application/json"]])
        check(v, `type ${type}`, await desk.post("open", {}, { "Content-Type": type }), 415);
    for (const type of ["application/json; charset=utf-8", "application/json;charset=UTF-8", "application/json \t;\t charset=utf-8", "Application/JSON"])
        check(v, `type ${type}`, await desk.post("open", {}, { "Content-Type": type }), 200);
}

async function tokens(v, desk) {
    const { token } = desk;
    const flip = (at) => token.slice(0, at) + (token[at] === "0" ? "1" : "0") + token.slice(at + 1);
    for (const told of [null, "", token.slice(1), token.slice(0, 31), token + "0", flip(0), flip(15), flip(31),
        token.toUpperCase() === token ? "x" : token.toUpperCase(), [token, token], "0".repeat(32)])
        check(v, `token ${told}`, await desk.post("open", {}, { "X-Desk-Token": told }), 401);
    check(v, "token as cookie", await desk.post("open", {}, { "X-Desk-Token": null, Cookie: `X-Desk-Token=${token}` }), 401);
    check(v, "token in the path", await desk.post(`open?token=${token}`, {}, { "X-Desk-Token": null }), 401);
    check(v, "as a header written otherwise", await desk.post("open", {}, { "X-Desk-Token": null, "x-desk-token": token }), 200);
}

async function methods(v, desk) {
    for (const [path, allow] of [["/", "GET, HEAD"], ["/desk.css", "GET, HEAD"], ["/paper/0", "GET, HEAD"], ["/api/open", "POST"]])
        for (const method of [allow === "POST" ? "HEAD" : "POST", "OPTIONS", "TRACE", "PUT", "DELETE", "PATCH", "CONNECT", "BREW", "get", allow === "POST" ? "GET" : "PATCH"]) {
            const reply = await desk.raw(message(method, path, desk.head(), ["POST", "PUT", "PATCH"].includes(method) ? "{}" : undefined));
            reply.isHead = method === "HEAD";
            check(v, `${method} ${path}`, reply, 405);
            v.is(`${method} ${path}: Allow`, reply.headers.allow, allow);
            if (reply.isHead) v.is("HEAD: content", contentBytes(reply), 0);
        }
    // RFC 9110 section 9.3.2: as GET, without the content.
    for (const [path, code, policy] of [["/", 200, policyOfPage], ["/desk.css", 200, policyOfPage], ["/favicon.ico", 204], ["/x", 404]]) {
        const whole = await desk.get(path);
        const reply = await desk.raw(message("HEAD", path, { Host: desk.host }));
        reply.isHead = true;
        check(v, `HEAD ${path}`, reply, code, policy);
        v.is(`HEAD ${path}: content`, contentBytes(reply), 0);
        v.is(`HEAD ${path}: headers`, JSON.stringify({ ...reply.headers, date: "" }), JSON.stringify({ ...whole.headers, date: "" }));
    }
    check(v, "HEAD of another host", Object.assign(await desk.raw(message("HEAD", "/", { Host: "evil.example" })), { isHead: true }), 403);
}

const contentBytes = (reply) => reply.bytes.length - reply.bytes.indexOf("\r\n\r\n") - 4;

// A length that is too large is told of at once, whatever comes behind it.
async function tooLong(v, desk) {
    for (const length of ["65537", "1000000000", "4294967296", "9223372036854775807", "9223372036854775808", "99999999999999999999"]) {
        const begun = now();
        const reply = await desk.post("open", "{}", { "Content-Length": length });
        v.holds(`a length of ${length}: ${reply.code}`, reply.code === 413);
        check(v, `a length of ${length}`, reply, 413);
        v.holds(`a length of ${length}: told after ${now() - begun} s`, now() - begun < 1 + patience);
        const asks = await desk.post("open", "{}", { "Content-Length": length, Expect: "100-continue" });
        check(v, `a length of ${length}, asked first`, asks, 413);
    }
    check(v, "another expectation", await desk.post("open", "{}", { Expect: "more" }), 400);
    // Who sends on meets no reset, and has the whole reply.
    const eager = desk.connect();
    const body = Buffer.alloc(1 << 22, " ");
    eager.send(message("POST", "/api/open", desk.head(), body));
    await eager.end(10 * patience);
    v.is("4 MB sent: the error", eager.error, undefined);
    check(v, "4 MB sent", parse(eager.bytes()), 413);
    // Who sends without end is let go of.
    const endless = net.connect({ port: desk.port, host: "127.0.0.1", allowHalfOpen: true });
    const ended = new Promise((done) => endless.on("error", done).on("close", done));
    endless.on("data", () => {});
    endless.write(message("POST", "/api/open", desk.head({ "Content-Length": "1000000000000" })));
    const sending = setInterval(() => endless.write(Buffer.alloc(10000, " ")), 100);
    const begun = now();
    await Promise.race([ended, sleep(20000 * patience)]);
    clearInterval(sending);
    endless.destroy();
    v.holds(`sending without end: ${now() - begun} s`, now() - begun > 4 && now() - begun < 6 + patience);
    check(v, "afterwards", await desk.get("/"), 200, policyOfPage);
}

async function sizes(v, desk) {
    const lots = Object.fromEntries(Array.from({ length: 200 }, (_, i) => [`X-${i}`, "y".repeat(90)]));
    check(v, "a header of 15 kB", await desk.get("/", { "X-Long": "y".repeat(15000) }), 200, policyOfPage);
    check(v, "a header of 17 kB", await desk.get("/", { "X-Long": "y".repeat(17000) }), 400);
    check(v, "200 headers of 90 bytes", await desk.get("/", lots), 400);
    check(v, "a path of 17 kB", await desk.get("/" + "y".repeat(17000)), 400);
    check(v, "a body of 64 kB", await desk.post("open", "{}" + " ".repeat(65534)), 200);
    check(v, "a body of 64 kB and one", await desk.post("open", "{}" + " ".repeat(65535)), 413);
    check(v, "a body of 1 MB", await desk.post("open", "{}" + " ".repeat(1 << 20)), 413);
    const chunks = (count, size) => "1\r\n{\r\n" + (size.toString(16) + "\r\n" + " ".repeat(size) + "\r\n").repeat(count) + "1\r\n}\r\n0\r\n\r\n";
    check(v, "a chunked body of 16 kB", await desk.post("open", chunks(4, 4096), { "Transfer-Encoding": "chunked" }), 200);
    check(v, "a chunked body of 80 kB", await desk.post("open", chunks(20, 4096), { "Transfer-Encoding": "chunked" }), 413);
    for (const huge of ["7fffffffffffffff", "ffffffffffffffff", "fffffffffffffffff"]) {
        const reply = await desk.post("open", `${huge}\r\n{`, { "Transfer-Encoding": "chunked" });
        v.holds(`a chunk of 0x${huge}: ${reply.code}`, [0, 400, 413].includes(reply.code));
    }
    // Headers without an end: refused, long before they are told.
    const line = desk.connect();
    line.send(`GET / HTTP/1.1\r\nHost: ${desk.host}\r\n`);
    for (let i = 0; i < 200 && !line.over; i++) {
        line.send(`X-${i}: ${"y".repeat(500)}\r\n`);
        await sleep(1);
    }
    v.holds("headers without an end: the connection stays", await line.end(2 * patience));
}

async function lengths(v, desk) {
    const two = (headers, body) => desk.raw(message("POST", "/api/open", { ...desk.head(), ...headers }, body));
    check(v, "two lengths", await two({ "Content-Length": [2, 2] }, "{}"), 400);
    check(v, "two lengths that differ", await two({ "Content-Length": [2, 40] }, "{}"), 400);
    check(v, "both ways to tell it", await two({ "Content-Length": 40, "Transfer-Encoding": "chunked" }, "2\r\n{}\r\n0\r\n\r\n"), 400);
    for (const length of ["-1", "abc", "0x2", "2 2", "99999999999999999999", "+2", "2,2"]) {
        const reply = await two({ "Content-Length": length }, "{}");
        v.holds(`length ${length}: ${reply.code}`, [0, 400, 413].includes(reply.code));
    }
    for (const coding of ["gzip", "chunked, gzip", "identity", "xchunked"]) {
        const reply = await two({ "Transfer-Encoding": coding }, "{}");
        v.holds(`coding ${coding}: ${reply.code}`, reply.code >= 400 || reply.code === 0);
    }
}

async function slowness(v, desk) {
    const begun = now();
    const timed = async (line) => ((await line.end(12 * patience)) ? now() - begun : Infinity);
    const drip = desk.connect(), silent = desk.connect(), half = desk.connect(), body = desk.connect(), first = desk.connect();
    const head = `GET / HTTP/1.1\r\nHost: ${desk.host}\r\nX: `;
    const dripping = setInterval(() => drip.send("y"), 200);
    drip.send(head);
    half.send("GET / HT");
    first.send("\r\n");
    body.send(message("POST", "/api/open", desk.head({ "Content-Length": 100 })));
    body.send("{");
    const times = await Promise.all([drip, silent, half, body, first].map(timed));
    clearInterval(dripping);
    ["a header byte by byte", "nothing at all", "half a line", "half a body", "an empty line"].forEach((what, i) =>
        v.holds(`${what} ends after ${times[i].toFixed(2)} s`, (times[i] > 4 || what === "an empty line") && times[i] < 6 + patience));
    // What is slow but comes in time is answered.
    const slow = desk.connect();
    const bytes = message("POST", "/api/open", desk.head(), "{}");
    for (let at = 0; at < bytes.length; at += 40) {
        slow.send(bytes.subarray(at, at + 40));
        await sleep(100);
    }
    await slow.end(5 * patience);
    check(v, "a request of one second", parse(slow.bytes()), 200);
}

async function cap(v, desk) {
    for (const round of [1, 2]) {
        const lines = Array.from({ length: 16 }, () => desk.connect());
        await sleep(300);
        v.is(`round ${round}: open`, lines.filter((line) => !line.over).length, 16);
        const begun = now();
        const more = [desk.connect(), desk.connect()];
        for (const line of more) v.holds("one too many stays", await line.end(2 * patience));
        v.holds("one too many is closed late", now() - begun < patience);
        lines[3].leave();
        await sleep(200 * patience);
        check(v, "when one has left", await desk.get("/"), 200, policyOfPage);
        lines.forEach((line) => line.leave());
        await sleep(200 * patience);
    }
    // All at once: never more than 16 are kept.
    const crowd = Array.from({ length: 40 }, () => desk.connect());
    await sleep(500);
    v.is("of 40 at once stay", crowd.filter((line) => !line.over).length, 16);
    await sleep(isSanitized ? 12000 : 6500);
    v.is("of these after their time", crowd.filter((line) => !line.over).length, 0);
    check(v, "afterwards", await desk.get("/"), 200, policyOfPage);
}

async function versions(v, desk) {
    const get = (version, headers = { Host: desk.host }) => desk.raw(message("GET", "/", headers, undefined, version));
    check(v, "HTTP/1.0", await get("HTTP/1.0"), 200, policyOfPage);
    check(v, "HTTP/1.0 without Host", await get("HTTP/1.0", {}), 403);
    check(v, "HTTP/1.0 kept alive", await get("HTTP/1.0", { Host: desk.host, Connection: "keep-alive" }), 200, policyOfPage);
    for (const version of ["HTTP/2.0", "HTTP/9.9", "HTTP/0.9", "HTTP/1.2", "HTTP/1", "FTP/1.1", "", "HTTP/1.1 x", "HTTP/-1.1"]) {
        const reply = await get(version);
        v.holds(`version "${version}": ${reply.code}`, reply.code === 400 || reply.code === 0);
        if (reply.code !== 0) check(v, `version ${version}`, reply, 400);
    }
    for (const bytes of ["\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03", "\0\0\0\0\r\n\r\n", "GET\r\n\r\n", " / HTTP/1.1\r\n\r\n",
        "PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n", `GET / HTTP/1.1\r\nHost: ${desk.host}\r\nno colon\r\n\r\n`, ":\r\n:\r\n\r\n",
        `GET / HTTP/1.1\r\n folded: x\r\nHost: ${desk.host}\r\n\r\n`]) {
        const line = desk.connect();
        line.send(Buffer.from(bytes, "latin1"));
        await line.end(6 * patience);
        const reply = parse(line.bytes());
        if (reply.code !== 0) check(v, `bytes ${JSON.stringify(bytes)}`, reply, 400);
    }
}

async function pipelines(v, desk) {
    const one = message("GET", "/", { Host: desk.host });
    const reply = await desk.raw(Buffer.concat([one, one, one]));
    check(v, "three in one", reply, 200, policyOfPage);
    v.holds("the connection is to be closed", reply.headers.connection === "close");
    const sheet = await desk.open();
    const ask = message("POST", "/api/ask", desk.head(), JSON.stringify({ sheet, question: "look" }));
    check(v, "a question with another behind it", await desk.raw(Buffer.concat([ask, ask])), 200);
    check(v, "a question with bytes behind it", await desk.raw(Buffer.concat([ask, Buffer.alloc(100000, "x")])), 200);
}

async function paths(v, desk) {
    for (const path of ["/index.html", "/x", "//", "/./", "/../", "/..%2f", "/%2e%2e/etc/passwd", "/desk.css/", "/desk.css?x", "/?", "/%00",
        "/desk%2ecss", "/paper/", "/paper/../desk.css", `/paper/${"0".repeat(32)}`, `/paper/${"0".repeat(31)}`, "/paper/..%2f..", "/API/open"])
        check(v, `GET ${path}`, await desk.get(path), 404);
    for (const path of ["http://evil.example/", `http://${desk.host}/`, "*", "evil.example:443"])
        check(v, `GET ${path}`, await desk.get(path), 400);
    for (const name of ["", "x", "open/", "/open", "open?x", "open%20", "OPEN", "../open", "open\\"])
        check(v, `POST /api/${name}`, await desk.post(name, {}), 404);
}

async function bodies(v, desk) {
    for (const body of ["", "x", "[]", "null", '""', '{"a":1,"a":1}', '{"sheet":"x","sheet":"y"}', '{"x":1}', '{"sheet":1}', '{"sheet":null}',
        "{}{}", "\ufeff{}", '{"sheet":"\\u0000"}', "{'sheet':1}", "{}//",
        "[".repeat(60000), '{"a":'.repeat(10000), "1e999"])
        check(v, `body ${body.slice(0, 30)}`, await desk.post("open", body), 400);
    check(v, "bytes that are no UTF-8", await desk.post("open", Buffer.from('{"sheet":"\xff"}', "latin1")), 400);
    const sheet = await desk.open();
    const other = sheet.replace(/./, (digit) => (digit === "0" ? "1" : "0"));
    for (const id of ["", "x", other, sheet.slice(1), sheet + "0"])
        check(v, `sheet ${id}`, await desk.post("ask", { sheet: id, question: "look" }), 404);
    for (const body of [{ sheet }, { question: "look" }, { sheet, question: "look", more: 1 }, { sheet, question: "x" }, { sheet, question: "desk" }, { sheet, question: "intake" },
        { sheet, question: "export" }, { sheet, question: "look", words: [] }, { sheet, question: "look", words: { output: "x" } },
        { sheet, question: "plan", words: { best: true } }, { sheet, question: "plan", words: { best: [1] } }, { sheet, question: "plan", words: { best: "0" } },
        { sheet, question: "plan", words: { best: "--json" } }, { sheet, question: "whatif" }, { sheet, question: "whatif", words: { settings: [] } },
        { sheet, question: "whatif", words: { settings: [1] } }, { sheet, question: "why" }, { sheet, question: "look", set: "x" },
        { sheet, question: "look", set: [1] }, { sheet, question: "look", set: ["nothing"] }, { sheet, question: "look", set: ["=1"] },
        { sheet, question: "shopping", words: { take: "x", option: 1 } }, { sheet, question: "fits", words: { parts: ["--catalog", "/etc"] } }])
        check(v, JSON.stringify(body), await desk.post("ask", body), 400);
    for (const [name, body] of [["words", { more: 1 }], ["parts", { sheet, more: 1 }], ["parts", {}], ["profiles", { sheet: 1 }]])
        check(v, `${name} ${JSON.stringify(body)}`, await desk.post(name, body), 400);
    for (const body of [{ sheet }, { sheet, paper: "x" }, { sheet, paper: "bench", more: 1 }, { sheet, paper: "bench", option: "1" }, { sheet, paper: "proposal", option: 1 }])
        check(v, JSON.stringify(body), await desk.post("paper", body), 400);
}

async function sheets(v, desk) {
    const first = JSON.parse((await desk.post("open", {})).body);
    v.is("revision", first.revision, 1);
    v.is("file", first.file, "scenario.json");
    v.is("catalog", first.catalog, fs.realpathSync("tests/schemas/host/catalog"));
    v.is("job", JSON.stringify(first.job), JSON.stringify(JSON.parse(fs.readFileSync(small))));
    const again = JSON.parse((await desk.post("open", { sheet: first.sheet })).body);
    v.is("the same again", JSON.stringify(again), JSON.stringify(first));
    const ids = new Set([first.sheet]);
    for (let i = 0; i < 16; i++) ids.add(await desk.open());
    v.is("ids", ids.size, 17);
    v.is("the oldest of 17", (await desk.post("open", { sheet: first.sheet })).code, 404);
    for (const id of [...ids].slice(1)) v.is(`sheet ${id}`, (await desk.post("open", { sheet: id })).code, 200);
}

async function none(v, desk) {
    const told = JSON.parse((await desk.post("open", {})).body);
    v.is("file", told.file, null);
    v.is("job", told.job, null);
    const reply = await desk.post("ask", { sheet: told.sheet, question: "look" });
    v.is("a question about nothing", reply.code, 422);
    v.holds("tells that there is no job", JSON.parse(reply.body).error.what.includes("no job"));
}

// A client that takes nothing of a long answer must not hold anything up.
async function deaf(v, desk) {
    const sheet = await desk.open();
    const lines = Array.from({ length: 5 }, () => desk.connect());
    for (const line of lines) {
        line.socket.pause();
        line.send(message("POST", "/api/parts", desk.head(), JSON.stringify({ sheet })));
    }
    await sleep(1500);
    check(v, "another beside deaf ones", await desk.get("/"), 200, policyOfPage);
    lines.forEach((line) => line.leave());
    const whole = await desk.post("parts", { sheet });
    check(v, "parts", whole, 200);
    v.holds(`all parts come whole: ${whole.content.length}`, JSON.parse(whole.body).parts.length > 300 && whole.content.length > 100000);
}

export const defence = [
    ["begins", withDesk(begins)],
    ["page", withDesk(page)],
    ["hosts", withDesk(hosts)],
    ["origins", withDesk(origins)],
    ["types", withDesk(types)],
    ["tokens", withDesk(tokens)],
    ["methods", withDesk(methods)],
    ["sizes", withDesk(sizes)],
    ["too-long", withDesk(tooLong)],
    ["lengths", withDesk(lengths)],
    ["slowness", withDesk(slowness)],
    ["cap", withDesk(cap)],
    ["versions", withDesk(versions)],
    ["pipelines", withDesk(pipelines)],
    ["paths", withDesk(paths)],
    ["bodies", withDesk(bodies)],
    ["sheets", withDesk(sheets)],
    ["none", withDesk(none, [])],
    ["deaf", withDesk(deaf, ["scenarios/good-enough.json"])],
];
