// What the desk answers: byte for byte what the command line prints, and the papers that it writes.
import fs from "node:fs";

import { Desk, command, message, until } from "./raw.mjs";
import { check, small } from "./server_defence.mjs";

const part = "tern-valley-v5-60";
const measured = "tests/papers/measured-good-enough.json";

// [question, words of the request, words of the command line, quick?]; PARTS stand last.
const questions = [
    ["plan", {}, [], true],
    ["plan", { best: 3, apart: "2" }, ["--best", "3", "--apart", "2"]],
    ["plan", { budget: 200.5 }, ["--budget", "200.5"], true],
    ["plan", { budget: "0" }, ["--budget", "0"], true],
    ["curve", {}, []],
    ["curve", { from: 100, to: "300.00" }, ["--from", "100", "--to", "300.00"], true],
    ["look", {}, [], true],
    ["options", {}, []],
    ["whatif", { settings: ["budget.total=300"] }, ["--set", "budget.total=300"], true],
    ["first", {}, [], true],
    ["phases", {}, [], true],
    ["ranges", {}, []],
    ["sure", { prices: 3, estimates: 0, options: true }, ["--prices", "3", "--estimates", "0", "--options"]],
    ["sure", { options: false }, []],
    ["map", {}, []],
    ["ask-next", {}, [], true],
    ["fits", {}, [], true],
    ["fits", { parts: [part, part] }, [part, part]],
    ["fits", { parts: ["no-such-part"] }, ["no-such-part"], true],
    ["why", { part }, [part]],
    ["why", { part, over: "no-such-part" }, [part, "--over", "no-such-part"], true],
    ["explain", {}, [], true],
    ["explain", { part }, [part], true],
    ["shopping", { option: 1 }, ["--option", "1"]],
    ["shopping", { option: 2, gone: ["no-such-part"] }, ["--option", "2", "--gone", "no-such-part"]],
    ["bench", { option: 1 }, ["--option", "1"]],
    ["handover", { option: 1, measured: fs.readFileSync(measured, "utf8") }, ["--option", "1", "--measured", fs.realpathSync(measured)], true],
    ["check", {}, [], true],
];

const codes = { 0: 200, 1: 200, 2: 200, 64: 400, 65: 422 };

async function same(v, desk, sheet, file, row) {
    const [question, words, line] = row;
    const folder = file.slice(0, file.lastIndexOf("/"));
    const what = `${question} ${line.join(" ")} of ${file}`;
    // The scenario stands before the parts.
    const right = await command([question, file.slice(folder.length + 1), ...line, "--json"], folder);
    const reply = await desk.post("ask", { sheet, question, words }, {}, { seconds: 120 });
    if (right.out.length === 0) {
        v.is(`${what}: code`, reply.code, codes[right.code]);
        return;
    }
    check(v, what, reply, codes[right.code]);
    v.is(`${what}: X-Desk-Exit`, reply.headers["x-desk-exit"], String(right.code));
    v.is(`${what}: bytes`, reply.content, right.out);
}

async function asLine(v, { work, whole }) {
    const files = whole ? ["scenarios/good-enough.json", "scenarios/saver-box.json"] : ["scenarios/good-enough.json"];
    for (const file of files) {
        const desk = await Desk.begin([file], { work });
        const sheet = await desk.open();
        // What was measured belongs to one job; what is refused of it is told of the desk's own copy.
        for (const row of questions.filter((row) => (whole || row[3]) && (row[0] !== "handover" || file.includes("good-enough")))) await same(v, desk, sheet, file, row);
        v.is("the end", await desk.end(), 0);
    }
}

// Changes before the question: as if they stood in the file.
async function changes(v, { work }) {
    const folder = `${work}/changed`;
    fs.mkdirSync(folder);
    const file = "scenarios/good-enough.json";
    const desk = await Desk.begin([file], { work });
    const sheet = await desk.open();
    const job = JSON.parse(fs.readFileSync(file));
    job.budget.total = "123.45";
    job.catalog = fs.realpathSync("catalog");
    fs.writeFileSync(`${folder}/good-enough.json`, JSON.stringify(job));
    const right = await command(["plan", "good-enough.json", "--json"], folder);
    const reply = await desk.post("ask", { sheet, question: "plan", set: ["budget.total=123.45"] });
    v.is("changed: code", reply.code, 200);
    v.is("changed: bytes", reply.content, right.out);
    v.holds("changed: is another answer", !reply.content.equals((await desk.post("ask", { sheet, question: "plan" })).content));
    const wrong = await desk.post("ask", { sheet, question: "look", set: ["budget.total=1000000000000"] });
    v.is("what the check refuses", wrong.code, 422);
    v.holds("the complaint names the job's file", JSON.parse(wrong.body).complaints[0].file === "good-enough.json");
    await desk.end();
}

// What complaints call the file is its name; the catalog counts from the job's folder or is --catalog.
async function files(v, { work }) {
    const folder = `${work}/jobs`;
    fs.mkdirSync(folder);
    const job = JSON.parse(fs.readFileSync(small));
    for (const name of ["-", "-o", "--json", "a job.json", "proposal.html", "paper", "page.html", "ä'\".json"]) {
        fs.writeFileSync(`${folder}/${name}`, JSON.stringify({ ...job, catalog: "nowhere" }));
        const desk = await Desk.begin([`${folder}/${name}`, "--catalog", "tests/schemas/host/catalog"], { work });
        const sheet = await desk.open();
        v.is(`${name}: file`, JSON.parse((await desk.post("open", { sheet })).body).file, name);
        const reply = await desk.post("ask", { sheet, question: "look" });
        v.is(`${name}: code`, reply.code, 200);
        if (name === "paper" || name === "page.html")
            v.is(`${name}: a paper`, (await desk.post("paper", { sheet, paper: "bench" })).code, name === "paper" ? 500 : 200);
        await desk.end();
    }
    // A catalog that goes while the desk is at work.
    fs.cpSync("tests/schemas/host/catalog", `${folder}/kept`, { recursive: true });
    fs.writeFileSync(`${folder}/lost.json`, JSON.stringify({ ...job, catalog: "kept" }));
    fs.writeFileSync(`${folder}/bad.json`, JSON.stringify({ ...job, catalog: fs.realpathSync("tests/schemas/host/catalog"), title: 3 }));
    for (const name of ["lost.json", "bad.json"]) {
        const desk = await Desk.begin([`${folder}/${name}`], { work });
        const sheet = await desk.open();
        if (name === "lost.json") fs.rmSync(`${folder}/kept`, { recursive: true });
        const right = await command(["look", name, "--json"], folder);
        const reply = await desk.post("ask", { sheet, question: "look" });
        v.is(`${name}: exit`, reply.headers["x-desk-exit"], String(right.code));
        v.is(`${name}: code`, reply.code, codes[right.code] ?? 500);
        if (right.code === 65) v.is(`${name}: complaints`, reply.content, right.out);
        else v.is(`${name}: how to mend it`, JSON.parse(reply.body).error.mend, "put it where the job looks for it, and ask again");
        await desk.end();
    }
}

async function papers(v, { work, whole }) {
    const folder = `${work}/papers`;
    fs.mkdirSync(folder);
    const file = "scenarios/good-enough.json";
    const desk = await Desk.begin([file], { work });
    const sheet = await desk.open();
    const kinds = [
        ["proposal", {}, ["options", "-o", `${folder}/proposal.html`], `${folder}/proposal.html`, "text/html"],
        ["bench", { option: 2 }, ["bench", "--option", "2", "-o", `${folder}/bench.html`], `${folder}/bench.html`, "text/html"],
        ["handover", { option: 1, measured: fs.readFileSync(measured, "utf8") }, ["handover", "--option", "1", "--measured", fs.realpathSync(measured), "-o", `${folder}/handover.html`], `${folder}/handover.html`, "text/html"],
        ["curve", {}, ["curve", "--svg", `${folder}/curve.svg`], `${folder}/curve.svg`, "image/svg+xml"],
        ["map", {}, ["map", "--svg", `${folder}/map.svg`], `${folder}/map.svg`, "image/svg+xml"],
        ["shopping", { option: 2 }, ["shopping", "--option", "2"], null, "text/plain"],
    ];
    for (const [paper, words, line, written, type] of kinds.filter((row) => whole || row[0] !== "map")) {
        const right = await command([...line, "good-enough.json"], "scenarios");
        const made = await desk.post("paper", { sheet, paper, ...words }, {}, { seconds: 60 });
        check(v, paper, made, 200);
        const told = JSON.parse(made.body);
        v.holds(`${paper}: the ticket has 32 digits`, /^[0-9a-f]{32}$/.test(told.ticket));
        v.is(`${paper}: exit`, told.exit, right.code);
        const bytes = written ? fs.readFileSync(written) : right.out;
        const own = /<meta http-equiv="Content-Security-Policy" content="([^"]*)"/.exec(bytes.toString());
        const policy = own ? `${own[1]}; frame-ancestors 'none'` : "default-src 'none'; style-src 'unsafe-inline'; frame-ancestors 'none'";
        v.holds(`${paper}: has a policy of its own`, type !== "text/html" || own);
        for (const time of [1, 2]) {
            const got = await desk.get(`/paper/${told.ticket}`);
            check(v, `${paper}, fetched ${time}`, got, 200, policy);
            v.is(`${paper}: type`, got.headers["content-type"], `${type}; charset=utf-8`);
            v.is(`${paper}: bytes`, got.content, bytes);
        }
    }
    v.is("nothing of it stays", fs.readdirSync(`${desk.temporary}/${desk.left()[0]}`).join(), "");
    await desk.end();
}

// The oldest papers go where there are many.
async function tickets(v, { work }) {
    const desk = await Desk.begin([small], { work });
    const sheet = await desk.open();
    const all = [];
    for (let i = 0; i < 33; i++) all.push(JSON.parse((await desk.post("paper", { sheet, paper: "bench", option: 1 })).body).ticket);
    v.is("different tickets", new Set(all).size, 33);
    v.is("the oldest", (await desk.get(`/paper/${all[0]}`)).code, 404);
    v.is("the next", (await desk.get(`/paper/${all[1]}`)).code, 200);
    v.is("the last", (await desk.get(`/paper/${all[32]}`)).code, 200);
    await desk.end();
}

async function names(v, { work }) {
    const desk = await Desk.begin(["scenarios/good-enough.json"], { work });
    const sheet = await desk.open();
    const read = (name) => JSON.parse(fs.readFileSync(`catalog/${name}.json`))[name];
    const words = JSON.parse((await desk.post("words", {})).body);
    const ids = (list, id = "id") => list.map((one) => one[id]).sort().join();
    const lists = { roles: "role", criteria: "id", uses: "id", tasks: "id", sellers: "id", complaints: "complaint", observations: "id" };
    for (const [name, id] of Object.entries(lists)) v.is(`words: ${name}`, ids(words[name]), ids(read(name), id));
    v.is("digits", words.digits, 2);
    v.is("scales: tidiness", words.scales.find((one) => one.fact === "tidiness")?.most, read("criteria").flatMap((one) => one.aspects ?? []).find((one) => one.fact === "tidiness").scale);
    for (const what of [{ measured: 3 }, {}, { measured: "no JSON" }]) {
        const text = typeof what.measured === "string";
        v.is(`handover with ${JSON.stringify(what)}`, (await desk.post("ask", { sheet, question: "handover", words: { option: 1, ...what } })).code, text ? 422 : 400);
        v.is(`the paper with ${JSON.stringify(what)}`, (await desk.post("paper", { sheet, paper: "handover", option: 1, ...what })).code, text ? 422 : 400);
    }
    const all = fs.readdirSync("catalog/parts").flatMap((name) => JSON.parse(fs.readFileSync(`catalog/parts/${name}`)).parts);
    const parts = JSON.parse((await desk.post("parts", { sheet })).body).parts;
    v.is("parts", ids(parts), ids(all));
    const coolers = JSON.parse((await desk.post("parts", { sheet, role: "cooler" })).body).parts;
    v.is("coolers", ids(coolers), ids(all.filter((one) => one.role === "cooler")));
    for (const one of coolers) {
        const of = all.find((other) => other.id === one.id);
        for (const [fact, value] of Object.entries(of.facts))
            if (typeof value !== "object" || Array.isArray(value) && typeof value[0] === "string" && one.facts[fact])
                v.is(`${one.id}.${fact}`, JSON.stringify([one.facts[fact]].flat().sort()), JSON.stringify([value].flat().sort()));
    }
    const profiles = JSON.parse((await desk.post("profiles", {})).body).profiles;
    const shipped = fs.readdirSync("catalog/profiles").flatMap((name) => JSON.parse(fs.readFileSync(`catalog/profiles/${name}`)));
    v.is("profiles", ids(profiles), ids(shipped));
    await desk.end();
}

// What mends a job, through the server: the text that `change` makes is what is asked about, and saved.
async function steps(v, { work }) {
    const folder = `${work}/steps`;
    fs.mkdirSync(folder);
    const file = `${folder}/job.json`;
    const job = JSON.parse(fs.readFileSync("scenarios/good-enough.json"));
    fs.writeFileSync(file, JSON.stringify({ ...job, catalog: fs.realpathSync("catalog") }, null, 2));
    const before = fs.readFileSync(file);
    const desk = await Desk.begin([file], { work });
    const sheet = await desk.open();
    const post = async (name, body, code = 200) => {
        const reply = await desk.post(name, { sheet, ...body });
        check(v, `${name} ${JSON.stringify(body).slice(0, 60)}`, reply, code);
        return JSON.parse(reply.body);
    };
    const changed = await post("change", { revision: 1, set: ["budget.total=222"] });
    v.is("change: revision", changed.revision, 2);
    v.is("change: the job", Number(changed.job.budget.total), 222);
    await post("change", { revision: 1, set: ["budget.total=333"] }, 409);
    await post("change", { revision: 2, set: ["nowhere"] }, 422);
    await post("change", { revision: 2, set: ["budget.total=1"], more: 1 }, 400);
    v.is("the file until it is saved", fs.readFileSync(file), before);
    const answer = await desk.post("ask", { sheet, question: "plan" });
    const difference = await post("difference", {});
    v.is("difference", difference.changes.map((one) => one.path).join(), "budget.total");
    const saved = await post("save", { revision: 2 });
    v.is("saved as", saved.file, "job.json");
    v.is("asked before it was saved", answer.content, (await command(["plan", "job.json", "--json"], folder)).out);
    v.is("beside the job", fs.readdirSync(folder).join(), "job.json");
    const machine = await post("machine", { revision: 2, role: "case", parts: ["brackenhall-calm"] });
    v.is("machine: revision", machine.revision, 3);
    const back = await post("undo", { revision: 3 });
    v.is("undo: revision", back.revision, 4);
    v.is("undo: the job", JSON.stringify(back.job), JSON.stringify(changed.job));
    for (const name of fs.readdirSync("scenarios/first-look")) {
        const data = fs.readFileSync(`scenarios/first-look/${name}`).toString("base64");
        const of = Math.ceil(data.length / 40000) || 1;
        for (let part = 1; part <= of; part++)
            await post("tray", { name, part, of, data: data.slice((part - 1) * 40000, part * 40000) });
    }
    const survey = await post("dumps", { revision: 4, files: fs.readdirSync("scenarios/first-look") });
    v.holds("dumps: the draft has a machine", Object.keys(survey.draft.machine).length > 4);
    // One who leaves while the dumps are read changes nothing.
    const line = desk.connect();
    line.send(message("POST", "/api/dumps", desk.head(), JSON.stringify({ sheet, revision: 4, files: fs.readdirSync("scenarios/first-look"), take: true })));
    await until(() => desk.workers().length === 1, 2);
    line.leave();
    await until(() => desk.workers().length === 0, 5);
    v.is("after one who left", JSON.parse((await desk.post("open", { sheet })).body).revision, 4);
    v.is("the end", await desk.end(), 0);
    v.is("left", desk.left().join(), "");
}

// Of 17 sheets the one unused longest goes: what a worker answers is a use too, also where it changes nothing.
async function uses(v, { work }) {
    const desk = await Desk.begin(["scenarios/good-enough.json"], { work });
    const sheet = await desk.open();
    const next = await desk.open();
    for (let i = 0; i < 14; i++) await desk.open();
    check(v, "a question of the interview", await desk.post("interview", { sheet, answers: [] }), 200);
    await desk.open();
    v.is("the sheet that was used", (await desk.post("open", { sheet })).code, 200);
    v.is("the one unused longest", (await desk.post("open", { sheet: next })).code, 404);
    v.is("the end", await desk.end(), 0);
}

export const answers = [
    ["as-line", asLine],
    ["changes", changes],
    ["files", files],
    ["papers", papers],
    ["tickets", tickets, "long"],
    ["names", names],
    ["steps", steps],
    ["uses", uses],
];
