// A desk and raw connections to it: no HTTP library, so that what is wrong can be sent too.
import { spawn, spawnSync } from "node:child_process";
import fs from "node:fs";
import net from "node:net";

export const program = fs.realpathSync(process.env.SWAPWORTH ?? "build/swapworth");
export const sleep = (milliseconds) => new Promise((done) => setTimeout(done, milliseconds));
// The sanitizers' builds take their time, and so does a machine that is at work.
export const isSanitized = spawnSync("nm", [program], { maxBuffer: 1 << 28 }).stdout.includes("__asan_init");
export const patience = isSanitized ? 8 : 2;
export const now = () => Number(process.hrtime.bigint()) / 1e9;

// Until `test` is true, at most so many seconds.
export async function until(test, seconds) {
    const end = now() + seconds * patience;
    while (now() < end) {
        if (await test()) return true;
        await sleep(20);
    }
    return Boolean(await test());
}

// ---- one desk ------------------------------------------------------------------------------------

const begun = [];

// Ends what a check that broke off has left.
export function endAll(work) {
    for (const one of begun.filter((one) => one.work === work && one.child.exitCode === null)) one.child.kill("SIGKILL");
}

export class Desk {
    constructor(child, temporary) {
        this.child = child;
        this.temporary = temporary;
        this.out = "";
        this.errors = "";
        child.stdout.on("data", (bytes) => (this.out += bytes));
        child.stderr.on("data", (bytes) => (this.errors += bytes));
        this.ended = new Promise((done) =>
            child.on("close", (code, signal) => {
                this.code = code;
                this.signal = signal;
                done();
            }),
        );
    }

    // Begins one, and waits for its address.
    static async begin(words, { work, environment = {}, cores = 0, ignored = "", limits = "true" }) {
        const temporary = fs.mkdtempSync(`${work}/tmp-`);
        const child = spawn("sh", ["-c", `${limits}; ulimit -S -c "$0"; [ -z "$1" ] || trap "" "$1"; shift; exec "$@"`, String(cores), ignored, program, "desk", ...words], {
            stdio: ["ignore", "pipe", "pipe"],
            env: { ...process.env, TMPDIR: temporary, ...environment },
        });
        const desk = new Desk(child, temporary);
        begun.push({ work, child });
        await until(() => desk.out.endsWith("\n") || desk.code !== undefined, 20);
        const told = /^http:\/\/127\.0\.0\.1:(\d+)\/#([0-9a-f]{32})\n$/.exec(desk.out);
        if (!told) throw new Error(`no address: "${desk.out}" ${desk.errors}`);
        desk.port = Number(told[1]);
        desk.token = told[2];
        desk.host = `127.0.0.1:${desk.port}`;
        return desk;
    }

    get pid() {
        return this.child.pid;
    }

    // Its exit code; where it ended before, of itself, that is told too.
    async end(signal = "SIGINT") {
        if (this.code !== undefined) return `${this.code} ${this.signal} before it was told to end`;
        this.child.kill(signal);
        await Promise.race([this.ended, sleep(10000 * patience)]);
        if (this.code === undefined && this.signal === undefined) this.child.kill("SIGKILL");
        await this.ended;
        return this.code;
    }

    // What is in the folder for temporary files: empty when a desk has ended.
    left() {
        return fs.readdirSync(this.temporary);
    }

    workers() {
        return childrenOf(this.pid);
    }

    connect() {
        return new Line(this.port);
    }

    // Sends bytes, waits for the end of the connection, and gives the reply.
    async raw(bytes, { pieces, seconds = 20 * patience } = {}) {
        const line = this.connect();
        for (const piece of pieces ?? [bytes]) line.send(piece);
        await line.end(seconds);
        return parse(line.bytes());
    }

    get(path, headers = {}) {
        return this.raw(message("GET", path, { Host: this.host, ...headers }));
    }

    head(extra = {}) {
        return {
            Host: this.host,
            Origin: `http://${this.host}`,
            "Content-Type": "application/json",
            "X-Desk-Token": this.token,
            ...extra,
        };
    }

    post(name, body, headers = {}, options = {}) {
        const text = typeof body === "string" || Buffer.isBuffer(body) ? body : JSON.stringify(body);
        return this.raw(message("POST", `/api/${name}`, this.head(headers), text), options);
    }

    async open() {
        return JSON.parse((await this.post("open", {})).body).sheet;
    }
}

export function childrenOf(pid) {
    const found = [];
    for (const name of fs.readdirSync("/proc")) {
        if (!/^\d+$/.test(name)) continue;
        try {
            const stat = fs.readFileSync(`/proc/${name}/stat`, "latin1");
            const [state, parent] = stat.slice(stat.lastIndexOf(")") + 2).split(" ");
            if (Number(parent) === pid) found.push({ pid: Number(name), state });
        } catch {
            // It ended meanwhile.
        }
    }
    return found;
}

// ---- bytes on the line -----------------------------------------------------------------------------

export class Line {
    constructor(port) {
        this.parts = [];
        this.over = false;
        this.socket = net.connect({ port, host: "127.0.0.1", allowHalfOpen: true });
        this.socket.on("data", (bytes) => this.parts.push(bytes));
        this.socket.on("error", (error) => {
            this.error = error.code;
            this.over = true;
        });
        this.ended = new Promise((done) => {
            const over = () => {
                this.over = true;
                this.socket.destroy();
                done();
            };
            this.socket.on("end", over);
            this.socket.on("close", over);
        });
    }

    send(bytes) {
        if (!this.over) this.socket.write(bytes);
    }

    bytes() {
        return Buffer.concat(this.parts);
    }

    // True: it ended within these seconds.
    async end(seconds) {
        await Promise.race([this.ended, sleep(seconds * 1000)]);
        const ended = this.over;
        this.socket.destroy();
        return ended;
    }

    leave() {
        this.socket.destroy();
    }
}

// `headers`: values, or lists of them where one stands many times; null: not at all.
export function message(method, path, headers, body, version = "HTTP/1.1") {
    let head = `${method} ${path} ${version}\r\n`;
    const all = { ...headers };
    if (body !== undefined && !("Content-Length" in all) && !("Transfer-Encoding" in all))
        all["Content-Length"] = Buffer.byteLength(body);
    for (const [name, value] of Object.entries(all))
        for (const one of value === null ? [] : [value].flat()) head += `${name}: ${one}\r\n`;
    return Buffer.concat([Buffer.from(head + "\r\n", "latin1"), Buffer.from(body ?? "")]);
}

// One reply as it came; `rest`: bytes behind it.
export function parse(bytes) {
    const end = bytes.indexOf("\r\n\r\n");
    if (end < 0) return { code: 0, headers: {}, body: "", bytes };
    const [first, ...lines] = bytes.subarray(0, end).toString("latin1").split("\r\n");
    const headers = {};
    for (const line of lines) {
        const at = line.indexOf(": ");
        const name = line.slice(0, at).toLowerCase();
        headers[name] = name in headers ? `${headers[name]} | ${line.slice(at + 2)}` : line.slice(at + 2);
    }
    const length = Number(headers["content-length"] ?? 0);
    const all = bytes.subarray(end + 4);
    return {
        code: Number(first.split(" ")[1]),
        version: first.split(" ")[0],
        headers,
        content: all.subarray(0, length),
        body: all.subarray(0, length).toString(),
        whole: all.length >= length,
        rest: all.subarray(length),
        bytes,
    };
}

// The command line, in the folder of the scenario. Other checks go on meanwhile.
export function command(words, folder, environment = {}, timeout = 0) {
    const child = spawn(program, words, { cwd: folder, stdio: ["ignore", "pipe", "pipe"], env: { ...process.env, ...environment }, timeout });
    const out = [];
    let errors = "";
    child.stdout.on("data", (bytes) => out.push(bytes));
    child.stderr.on("data", (bytes) => (errors += bytes));
    return new Promise((done) => child.on("close", (code) => done({ code, out: Buffer.concat(out), errors })));
}

// ---- counting ----------------------------------------------------------------------------------------

export class Verdicts {
    constructor() {
        this.passed = 0;
        this.failed = 0;
        this.faults = [];
    }

    is(what, got, want) {
        const same = Buffer.isBuffer(got) && Buffer.isBuffer(want) ? got.equals(want) : got === want;
        if (!same) this.faults.push(`${what} is ${brief(got)}, not ${brief(want)}`);
    }

    holds(what, truth) {
        if (!truth) this.faults.push(what);
    }

    end(name, seconds) {
        if (process.env.TIMES) console.log(`${seconds.toFixed(1).padStart(6)} s  ${name}`);
        if (this.faults.length === 0) this.passed++;
        else {
            this.failed++;
            console.log(`FAILED ${name}`);
            for (const fault of this.faults.slice(0, 60)) console.log(`    ${fault}`);
        }
        this.faults = [];
    }
}

const brief = (value) => JSON.stringify(Buffer.isBuffer(value) ? value.toString() : value)?.slice(0, 200);
