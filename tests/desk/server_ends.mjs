// Ends: of workers whose client left, of workers that die, of the desk itself; limits and memory.
import { spawn, spawnSync } from "node:child_process";
import fs from "node:fs";
import net from "node:net";

import { Desk, command, isSanitized, message, now, parse, patience, program, sleep, until } from "./raw.mjs";
import { check, small } from "./server_defence.mjs";

const long = "scenarios/saver-box.json"; // `phases` of it takes many seconds

const ask = (desk, sheet, question) => {
    const line = desk.connect();
    line.send(message("POST", "/api/ask", desk.head(), JSON.stringify({ sheet, question })));
    return line;
};

const asks = async (desk, sheet, count, question = "phases") => {
    const lines = [];
    for (let i = 0; i < count; i++) {
        lines.push(ask(desk, sheet, question));
        await sleep(20);
    }
    return lines;
};

const folders = (desk) => fs.readdirSync(`${desk.temporary}/${desk.left()[0]}`);

async function leaving(v, { work }) {
    const desk = await Desk.begin([long], { work });
    const sheet = await desk.open();
    // Three at once, eight wait, more are refused.
    const lines = await asks(desk, sheet, 11);
    v.holds("three are at work", await until(() => desk.workers().length === 3, 3));
    await sleep(300);
    v.is("at work", desk.workers().length, 3);
    check(v, "the twelfth", await desk.post("ask", { sheet, question: "phases" }), 503);
    const begun = now();
    v.is("the page meanwhile", (await desk.get("/")).code, 200);
    v.holds(`the page comes after ${now() - begun} s`, now() - begun < patience);
    // One that waits leaves: its place is free.
    lines[10].leave();
    await sleep(200 * patience);
    const last = ask(desk, sheet, "phases");
    await sleep(200 * patience);
    v.is("in the free place", last.bytes().length, 0);
    // One at work leaves: the next begins.
    const old = desk.workers().map((one) => one.pid);
    lines[0].leave();
    v.holds("the next begins", await until(() => desk.workers().filter((one) => !old.includes(one.pid) && one.state !== "Z").length === 1, 2));
    v.is("still three", desk.workers().length, 3);
    for (const line of [...lines, last]) line.leave();
    v.holds("workers stay", await until(() => desk.workers().length === 0, 2));
    v.holds("files stay", await until(() => folders(desk).length === 0, 2));
    // Half a close is an end too: nobody reads on from here.
    const half = ask(desk, sheet, "phases");
    await until(() => desk.workers().length === 1, 2);
    half.socket.end();
    v.holds("half closed: the worker stays", await until(() => desk.workers().length === 0, 2));
    // Reset, with bytes behind the question that nobody has read.
    const early = ask(desk, sheet, "phases");
    early.send("GET / HTTP/1.1\r\n\r\n");
    await until(() => desk.workers().length === 1, 2);
    await sleep(100);
    early.socket.resetAndDestroy();
    v.holds("reset: the worker stays", await until(() => desk.workers().length === 0, 2));
    // Many that come and go.
    for (let i = 0; i < 60; i++) {
        const line = ask(desk, sheet, i % 2 ? "phases" : "look");
        await sleep(i % 7 * 10);
        if (i % 3 === 0) line.socket.resetAndDestroy();
        else line.leave();
    }
    v.holds("workers of those who left stay", await until(() => desk.workers().length === 0, 5));
    v.holds("their files stay", await until(() => folders(desk).length === 0, 2));
    check(v, "afterwards", await desk.post("ask", { sheet, question: "look" }), 200);
    v.is("the end", await desk.end(), 0);
    v.is("told on standard error", desk.errors, "");
}

async function limits(v, { work }) {
    const desk = await Desk.begin([long, "--seconds", "30"], { work, cores: "unlimited" });
    const sheet = await desk.open();
    const line = ask(desk, sheet, "phases");
    await until(() => desk.workers().length === 1, 3);
    await sleep(200);
    const { pid } = desk.workers()[0];
    const limit = (name) => new RegExp(`^${name} +(\\S+)`, "m").exec(fs.readFileSync(`/proc/${pid}/limits`, "latin1"))?.[1];
    if (!isSanitized) v.is("address space", limit("Max address space"), String(2 ** 31));
    v.is("processor", limit("Max cpu time"), "70");
    v.is("core", limit("Max core file size"), "0");
    v.holds("files", Number(limit("Max file size")) <= 2 ** 28);
    const open = fs.readdirSync(`/proc/${pid}/fd`).map((name) => `${name} ${fs.readlinkSync(`/proc/${pid}/fd/${name}`)}`);
    v.holds(`a worker holds ${open.join(", ")}`, open.length === 3 && !open.some((one) => one.includes("socket")));
    const folder = fs.readlinkSync(`/proc/${pid}/cwd`);
    v.is("mode of its folder", (fs.statSync(folder).mode & 0o777).toString(8), "700");
    v.is("its files", fs.readdirSync(folder).join(), "saver-box.json");
    v.is("mode of the job", (fs.statSync(`${folder}/saver-box.json`).mode & 0o777).toString(8), "600");
    v.is("mode of the desk's folder", (fs.statSync(`${folder}/..`).mode & 0o777).toString(8), "700");
    line.leave();
    await desk.end();
}

// Whoever began the desk may have set less than it would: workers keep to that, and answer.
async function lessLimits(v, { work }) {
    const desk = await Desk.begin([small, "--seconds", "30"], { work, limits: "ulimit -t 40; ulimit -f 100000" });
    const sheet = await desk.open();
    check(v, "under lower limits", await desk.post("ask", { sheet, question: "look" }), 200);
    v.is("the end", await desk.end(), 0);
}

// A worker that dies is told of, and the desk goes on.
async function deaths(v, { work }) {
    const desk = await Desk.begin([long, "--seconds", "3"], { work });
    const sheet = await desk.open();
    for (const [signal, word] of [["SIGSEGV", "fault"], ["SIGABRT", "fault"], ["SIGKILL", "stopped"], ["SIGXCPU", "processor"], ["SIGSTOP", "longer"]]) {
        const line = ask(desk, sheet, "phases");
        await until(() => desk.workers().length === 1, 3);
        await sleep(200); // it has its limits by then
        process.kill(desk.workers()[0].pid, signal);
        // Stopped, it goes on for nothing: 3 seconds and 10 more are its time.
        const begun = now();
        await line.end(20 * patience);
        const reply = parse(line.bytes());
        if (isSanitized && (signal === "SIGSEGV" || signal === "SIGABRT")) {
            v.is(`${signal}: code`, reply.code, 500);
            continue;
        }
        check(v, signal, reply, 500);
        const told = reply.body.length > 0 ? JSON.parse(reply.body) : {};
        v.is(`${signal}: what`, told.error?.what, "the work came to an end by itself");
        v.holds(`${signal}: tells "${told.error?.why}"`, told.error?.why.includes(word));
        if (signal === "SIGSTOP") v.holds(`it was waited for ${now() - begun} s`, now() - begun > 11 && now() - begun < 14 + patience);
    }
    v.holds("none is left", await until(() => desk.workers().length === 0, 2));
    check(v, "afterwards", await desk.post("ask", { sheet, question: "look" }), 200);
    v.is("the end", await desk.end(), 0);
}

async function memory(v, { work, whole }) {
    const desk = await Desk.begin(["scenarios/good-enough.json"], { work });
    const sheet = await desk.open();
    const resident = () => Number(/^VmRSS:\s+(\d+)/m.exec(fs.readFileSync(`/proc/${desk.pid}/status`, "latin1"))[1]);
    const round = async (count) => {
        for (let i = 0; i < count; i++) {
            await desk.get("/");
            await desk.post("open", { sheet });
            await desk.post("ask", { sheet, question: "check" });
            await desk.post("ask", { sheet: "x", question: "check" });
            await desk.get("/", { "X-Long": "y".repeat(17000) });
            ask(desk, sheet, "look").leave();
        }
        await until(() => desk.workers().length === 0, 5);
    };
    await round(40);
    const before = resident();
    await round(whole ? 400 : 80);
    const grown = resident() - before;
    if (!isSanitized) v.holds(`memory grew by ${grown} kB`, grown < 150);
    v.is("files", folders(desk).length, 0);
    v.holds("open files", fs.readdirSync(`/proc/${desk.pid}/fd`).length < 14);
    v.is("the end", await desk.end(), 0);
}

async function signals(v, { work }) {
    for (const signal of ["SIGINT", "SIGTERM", "SIGHUP", "SIGQUIT"]) {
        const desk = await Desk.begin([long], { work });
        const sheet = await desk.open();
        const lines = await asks(desk, sheet, 5);
        const silent = desk.connect();
        await until(() => desk.workers().length === 3, 3);
        const workers = desk.workers().map((one) => one.pid);
        const begun = now();
        v.is(`${signal}: exit`, await desk.end(signal), 0);
        v.holds(`${signal}: took ${now() - begun} s`, now() - begun < 2 * patience);
        v.is(`${signal}: left`, desk.left().join(), "");
        v.holds(`${signal}: workers live on`, await until(() => !workers.some((pid) => fs.existsSync(`/proc/${pid}`)), 2));
        v.is(`${signal}: told on standard error`, desk.errors, "");
        for (const line of [...lines, silent]) v.holds(`${signal}: a connection stays`, await line.end(patience));
    }
    // nohup(1), as POSIX has it: the desk outlives its terminal, and ends when it is told to.
    const kept = await Desk.begin([small], { work, ignored: "HUP" });
    kept.child.kill("SIGHUP");
    v.is("under nohup: answers on", (await kept.get("/")).code, 200);
    v.is("under nohup: exit", await kept.end("SIGTERM"), 0);
    v.is("under nohup: left", kept.left().join(), "");
    // Ended by force: its workers go with it, and the next desk takes away what it left.
    const desk = await Desk.begin([long], { work });
    const sheet = await desk.open();
    await asks(desk, sheet, 2);
    await until(() => desk.workers().length === 2, 3);
    const workers = desk.workers().map((one) => one.pid);
    desk.child.kill("SIGKILL");
    await desk.ended;
    v.holds("by force: workers live on", await until(() => !workers.some((pid) => fs.existsSync(`/proc/${pid}`) && !/^State:\s+Z/m.test(fs.readFileSync(`/proc/${pid}/status`, "latin1"))), 2));
    v.is("by force: left", desk.left().length, 1);
    const next = await Desk.begin([small], { work, environment: { TMPDIR: desk.temporary } });
    v.is("the next desk finds", desk.left().length, 1);
    await next.end();
    v.is("both have ended", desk.left().join(), "");
    // What is no desk's stays, and what somebody holds; links lead nowhere.
    const gone = desk.pid, folder = desk.temporary;
    fs.mkdirSync(`${folder}/kept`);
    fs.writeFileSync(`${folder}/kept/note`, "x");
    fs.symlinkSync("kept", `${folder}/swapworth-desk-${gone}-LINKED`);
    for (const name of ["STALED", "HELDED"]) fs.mkdirSync(`${folder}/swapworth-desk-${gone}-${name}/sub`, { recursive: true });
    fs.symlinkSync("../kept", `${folder}/swapworth-desk-${gone}-STALED/link`);
    const holder = spawn("flock", [`${folder}/swapworth-desk-${gone}-HELDED`, "sh", "-c", "echo held; cat"], { stdio: ["pipe", "pipe", "inherit"] });
    await new Promise((held) => holder.stdout.once("data", held));
    const third = await Desk.begin([small], { work, environment: { TMPDIR: folder } });
    const left = () => fs.readdirSync(folder).map((name) => name.split("-").pop()).sort().join();
    v.is("beside its own it keeps", left().split(",").filter((name) => ["HELDED", "LINKED", "STALED", "kept"].includes(name)).join(), "HELDED,LINKED,kept");
    v.is("where links lead", fs.readFileSync(`${folder}/kept/note`, "utf8"), "x");
    holder.stdin.end();
    await third.end("SIGQUIT");
    v.is("in the end", left(), "HELDED,LINKED,kept");
}

async function exits(v, { work }) {
    const run = (words) => command(["desk", ...words], ".", { TMPDIR: work }, 15000 * patience);
    const bad = { "list.json": "[]", "none.json": "", "cut.json": '{"a":', "twice.json": '{"a":1,"a":2}' };
    for (const [name, text] of Object.entries(bad)) fs.writeFileSync(`${work}/${name}`, text);
    fs.writeFileSync(`${work}/astray.json`, JSON.stringify({ ...JSON.parse(fs.readFileSync(small)), catalog: "no/such/folder" }));
    fs.cpSync("tests/schemas/host/catalog", `${work}/unsound`, { recursive: true });
    fs.writeFileSync(`${work}/unsound/roles.json`, "{}");
    fs.mkdirSync(`${work}/shut`); // a folder is no job
    const taken = net.createServer();
    await new Promise((done) => taken.listen(0, "127.0.0.1", done));
    const rows = [
        [[small, small], 64], [["-"], 64], [[""], 64], [["--port", "65536"], 64], [["--port", "x"], 64], [["--port"], 64], [["--seconds", "0"], 64],
        [[small, "--json"], 64], [[small, "-o", "x"], 64], [[small, "--budget", "1"], 64], [[small, "--best", "2"], 64], [[small, "--allow-unknown"], 64],
        [[small, "--progress"], 64], [[small, "--calibration", small], 64], [[small, "--set", "a=b"], 64], [[small, "--catalog", ""], 64], [[small, "--nothing"], 64],
        ...Object.keys(bad).map((name) => [[`${work}/${name}`], 65]),
        // The catalog: as every other command finds it.
        [["--catalog", `${work}/nowhere`], 66], [[small, "--catalog", `${work}/nowhere`], 66], [[small, "--catalog", small], 66],
        [[`${work}/astray.json`], 66], [["--catalog", work], 66], [[small, "--catalog", `${work}/unsound`], 65], [[`${work}/shut`], 66],
        ...["abc", "-1", "0x50", "1.5", " 80", "70000", ""].map((port) => [[small, "--port", port], 64]),
        [[`${work}/missing.json`], 66], [["scenarios"], 66],
        [[small, "--port", String(taken.address().port)], 73],
    ];
    const one = async ([words, code]) => {
        const got = await run(words);
        v.is(`desk ${words.join(" ")}: exit`, got.code, code);
        v.is(`desk ${words.join(" ")}: on standard output`, got.out.toString(), "");
        v.holds(`desk ${words.join(" ")}: tells why`, got.errors.length > 10);
    };
    for (let at = 0; at < rows.length; at += 4) await Promise.all(rows.slice(at, at + 4).map(one));
    v.is("left in the end", fs.readdirSync(work).filter((name) => name.startsWith("swapworth-desk-")).join(), "");
    taken.close();
    v.is("--port elsewhere", spawnSync(program, ["plan", small, "--port", "1"]).status, 64);
    const desk = await Desk.begin([small], { work });
    const port = String(desk.port);
    await desk.end();
    const again = await Desk.begin([small, "--port", port], { work });
    v.is("the same port again at once", String(again.port), port);
    await again.end("SIGTERM");
    v.is("with a draft", (await draft(work)).code, 200);
    // A folder for temporary files that is none.
    const none = spawnSync(program, ["desk", small], { env: { ...process.env, TMPDIR: "/nonexistent" }, timeout: 60000 });
    v.is("no room for temporary files: exit", none.status, 73);
    // Whoever was to read the address has left.
    const closed = spawnSync("sh", ["-c", `"$0" desk "$1" >/dev/full`, program, small], { env: { ...process.env, TMPDIR: work }, timeout: 60000 });
    v.is("the address cannot be told: exit", closed.status, 74);
}

async function draft(work) {
    const job = JSON.parse(fs.readFileSync(small));
    for (const name of ["wishes", "budget", "musts"]) delete job[name];
    job.catalog = fs.realpathSync("tests/schemas/host/catalog");
    fs.writeFileSync(`${work}/draft.json`, JSON.stringify(job));
    const desk = await Desk.begin([`${work}/draft.json`], { work });
    const reply = await desk.post("ask", { sheet: await desk.open(), question: "look" });
    await desk.end();
    return reply;
}

export const ends = [
    ["leaving", leaving],
    ["limits", limits],
    ["less-limits", lessLimits],
    ["deaths", deaths],
    ["memory", memory],
    ["signals", signals],
    ["exits", exits],
];
