// node intake.mjs TOOL PROGRAM WORK [spoil]: the tray, drafts from dumps, a role said anew, price lists and the
// interview, each against the command line's own answer.
import { execFileSync, spawnSync } from "node:child_process";
import * as fs from "node:fs";
import { Desk, counts, same, verdict } from "./client.mjs";

const [tool, program, work, spoil] = process.argv.slice(2);
const folder = `${process.cwd()}/${work}/intake`.replace(`${process.cwd()}//`, "/");
fs.rmSync(folder, { recursive: true, force: true });
fs.mkdirSync(`${folder}/tray`, { recursive: true });
const begin = async (words) => {
  const desk = new Desk(tool, ["--otherwise", "catalog", "--temporary", `${folder}/tray`, ...words]);
  const opened = (await desk.ask("open", {})).json;
  return { desk, sheet: opened.sheet, opened };
};
const trays = () => fs.readdirSync(`${folder}/tray`);
const onTray = () => trays().flatMap((tray) => fs.readdirSync(`${folder}/tray/${tray}`, { recursive: true }));
const PART = 33750;
async function put(tab, name, bytes, size = PART) {
  const of = Math.max(1, Math.ceil(bytes.length / size));
  let answer;
  for (let part = 1; part <= of; part++)
    answer = await tab.desk.ask("tray", { sheet: tab.sheet, name, part, of, data: bytes.subarray((part - 1) * size, part * size).toString("base64") });
  return answer;
}

// RFC 4648 section 10, and what its sections 3 and 4 do not allow.
async function base64() {
  const desk = new Desk(tool);
  for (const [plain, text] of [["", ""], ["f", "Zg=="], ["fo", "Zm8="], ["foo", "Zm9v"], ["foob", "Zm9vYg=="], ["fooba", "Zm9vYmE="], ["foobar", "Zm9vYmFy"]]) {
    const answer = await desk.raw("base64", { text });
    verdict(answer.status === 200 && answer.bytes.toString() === plain, `base64 of ${plain}`);
  }
  const all = Buffer.from(Array.from({ length: 256 }, (_, i) => i));
  verdict((await desk.raw("base64", { text: all.toString("base64") })).bytes.equals(all), "base64 of all bytes");
  for (const text of ["Z", "Zg", "Zg=", "Zg===", "=Zg=", "Zg==Zg==", "Zh==", "Zm9=", "Zm 9v", "Zm9v\n", "Zm-_", "Z===", "====", "Zm9v=", "=", "Zg=a", "Zm9\u00e9", "Zm9vZg==="])
    verdict((await desk.raw("base64", { text })).status === 422, `base64 takes ${JSON.stringify(text)}`);
  await desk.end();
}

async function tray() {
  const tab = await begin([]), { desk, sheet } = tab;
  verdict(same((await desk.ask("tray", { sheet })).json.files, []), "a new tray is not empty");
  const hostile = ["../../etc/passwd", "/etc/passwd", "..", ".", "a/b/c.txt", "~root", "$(touch x)", "-rf", "con", "x".repeat(100), "caf\u00e9.txt", "a b\\c.txt", ".bashrc", "a;b|c"];
  for (const name of hostile) {
    const answer = await put(tab, name, Buffer.from(`of ${name}`));
    verdict(answer.status === 200 && answer.json.files.at(-1).name === name && answer.json.files.at(-1).whole, `${name} is ${answer.status}`);
  }
  const there = onTray().filter((path) => fs.statSync(`${folder}/tray/${trays()[0]}/${path}`).isFile());
  verdict(trays().length === 1 && there.length === hostile.length && there.every((path) => /^[0-9]+\/[A-Za-z0-9_-][A-Za-z0-9_.-]*$/.test(path)), `files are called ${there}`);
  verdict((fs.statSync(`${folder}/tray/${trays()[0]}`).mode & 0o777) === 0o700, "the tray is not private");
  for (const name of ["", "x".repeat(101), "a\nb", "a\u0007", "a\u202eb"])
    verdict((await put(tab, name, Buffer.from("x"))).status === 422, `${JSON.stringify(name)} is a name`);
  // Parts in order, and none else.
  const part = (name, k, of, data = "Zm9v") => desk.ask("tray", { sheet, name, part: k, of, data });
  verdict((await part("p", 2, 3)).status === 422, "the second part is taken first");
  verdict((await part("p", 1, 3)).json.files.at(-1).whole === false, "one of three parts is whole");
  for (const [k, of] of [[3, 3], [2, 4], [0, 3], [4, 3], [1.5, 3], [-1, 3], [2, 1e9]]) verdict((await part("p", k, of)).status === 422, `part ${k} of ${of} is taken`);
  verdict((await part("p", 2, 3, "Zm9")).status === 422 && (await part("p", 2, 3)).status === 200, "a bad part does harm");
  verdict((await desk.ask("dumps", { sheet, revision: 1, files: ["p"] })).status === 422, "a file that is not whole is read");
  const last = (await part("p", 3, 3)).json.files.at(-1);
  verdict(last.whole && last.bytes === 9, `three parts are ${JSON.stringify(last)}`);
  verdict((await part("p", 1, 1, "Zg==")).json.files.filter((file) => file.name === "p").length === 1, "a file is there twice");
  verdict((await part("p", 1, 1, "A".repeat(45004))).status === 422, "a long part is taken");
  verdict((await desk.ask("tray", { sheet, drop: "p" })).json.files.every((file) => file.name !== "p"), "a file stays");
  verdict((await desk.ask("tray", { sheet, drop: "../p" })).status === 422, "what is not there is taken out");
  // 64 files, 16 MiB each, 64 MiB in all.
  for (let i = hostile.length; i < 64; i++) verdict((await part(`n${i}`, 1, 1)).status === 200, `file ${i} is refused`);
  verdict((await part("one more", 1, 1)).status === 422 && (await part("n20", 1, 1)).status === 200, "64 files are not the most");
  for (let i = 50; i < 64; i++) await desk.ask("tray", { sheet, drop: `n${i}` });
  verdict((await part("of one byte", 1, 1, "Zg==")).status === 200, "one byte is refused"); // on the disk below
  const data = Buffer.alloc(PART, 7).toString("base64"), most = 16 * 1024 * 1024, of = Math.floor(most / PART);
  let answer;
  for (let k = 1; k <= of; k++) answer = await part("big", k, of + 2, data);
  verdict(answer.status === 200, `16 MiB less a part are ${answer.status}`);
  const rest = most - of * PART;
  verdict((await part("big", of + 1, of + 2, Buffer.alloc(rest + 1).toString("base64"))).status === 422, "a byte more than 16 MiB is taken");
  verdict((await part("big", of + 1, of + 2, Buffer.alloc(rest).toString("base64"))).status === 200, "16 MiB are refused");
  let refused = 0, kept = 0;
  for (const name of ["big2", "big3", "big4"])
    for (let k = 1; k <= of && refused === 0; k++) {
      answer = await part(name, k, of, data);
      refused += answer.status !== 200;
    }
  kept = (await desk.ask("tray", { sheet })).json.files.reduce((sum, file) => sum + file.bytes, 0);
  verdict(refused === 0 && kept < 64 * 1024 * 1024 && kept > 64 * 1024 * 1024 - 4 * PART, `${kept} bytes are kept`);
  const left = 64 * 1024 * 1024 - kept;
  let over = 0;
  for (let k = 1; k <= 5; k++) over += (await part(`last${k}`, 1, 1, data)).status === 422;
  verdict(over === 5 - Math.floor(left / PART), `${over} of 5 parts beyond 64 MiB are refused`);
  const onDisk = onTray().map((path) => fs.statSync(`${folder}/tray/${trays()[0]}/${path}`)).filter((about) => about.isFile()).reduce((sum, about) => sum + about.size, 0);
  verdict(onDisk === (await desk.ask("tray", { sheet })).json.files.reduce((sum, file) => sum + file.bytes, 0), "the disk holds more than is told");
  await desk.end();
  verdict(trays().length === 0, "a tray stays behind");
}

const run = (words, options = {}) => execFileSync(program, words, { encoding: "utf8", ...options });

// From dumps to the whole job, as the command line makes it of the same files.
async function dumps() {
  const files = fs.readdirSync("scenarios/first-look").sort(), place = `${folder}/dumps`;
  fs.mkdirSync(place);
  const catalog = `${process.cwd()}/catalog`;
  run(["intake", "dumps", "scenarios/first-look", "-o", `${place}/by-hand.json`, "--date", "2026-03-02", "--catalog", catalog]);
  const byHand = fs.readFileSync(`${place}/by-hand.json`, "utf8");
  const told = JSON.parse(run(["intake", "dumps", "scenarios/first-look", "--json", "--date", "2026-03-02", "--catalog", catalog]));
  const tab = await begin(["--scenario", `${place}/by-hand.json`, "--catalog", catalog]), { desk, sheet } = tab;
  for (const name of files) await put(tab, name, fs.readFileSync(`scenarios/first-look/${name}`), 1000);
  let answer = await desk.ask("dumps", { sheet, revision: 1, files });
  const draft = (text) => text.slice(text.lastIndexOf('"draft":') + 8, text.lastIndexOf("}"));
  verdict(answer.status === 200 && same(answer.json.survey.files, told.files), `the dumps are told otherwise: ${answer.text.slice(0, 200)}`);
  const without = (survey) => ({ ...survey, draft: undefined });
  verdict(same(without(answer.json.survey), without(told)), "the survey is another");
  verdict(draft(answer.text) === byHand, `the draft is another\n${draft(answer.text).slice(0, 300)}\n${byHand.slice(0, 300)}`);
  const secret = /SN-?[0-9A-Z]{4,}|serial_number/i;
  verdict(!secret.test(answer.text), "something private is told");
  verdict((await desk.ask("open", { sheet })).json.revision === 1, "a look changed the job");
  answer = await desk.ask("dumps", { sheet, revision: 1, files, take: true });
  verdict(answer.json.revision === 2 && (await desk.ask("open", { sheet })).json.revision === 2, "the draft is not taken");
  for (const wrong of [[], ["none.txt"], ["../by-hand.json"], [files[0], 1]])
    verdict((await desk.ask("dumps", { sheet, revision: 2, files: wrong })).status === 422, `${JSON.stringify(wrong)} are read`);
  await piece(tab, place);
  await oddly(place);
  await whereabouts(place);
  await talk(tab, place, byHand);
  await desk.end();
}

async function piece(tab, place) {
  const { desk, sheet } = tab, job = (await desk.ask("open", { sheet })).json;
  let revision = job.revision;
  const path = `${place}/by-hand.json`;
  for (const [role, parts, extra] of [["power", ["Fenwright Plain 450"], { own: true, settings: ["rated_w=450"] }], ["case", ["Some case"], { own: true }], ["sound", ["none"], {}]]) {
    const words = ["intake", "piece", path, role, ...parts, ...(extra.own ? ["--own"] : []), ...(extra.settings ?? []).flatMap((one) => ["--set", one]), "--catalog", "catalog"];
    const by = spawnSync(program, words, { encoding: "utf8" });
    const answer = await desk.ask("machine", { sheet, revision, role, parts, ...extra });
    verdict((by.status === 0) === (answer.status === 200), `${role}: the command ends in ${by.status}, the desk in ${answer.status} ${answer.text.slice(0, 300)} ${by.stderr}`);
    if (answer.status !== 200) { verdict(answer.json.complaints.length > 0, `${role}: refused without a reason`); continue; }
    verdict(same(answer.json.job, JSON.parse(by.stdout)) && answer.json.told !== "" && answer.json.revision === revision + 1, `${role}: another job`);
    await desk.ask("undo", { sheet, revision: revision + 1 });
    revision += 2;
  }
  for (const body of [{ role: "nothing", parts: ["x"] }, { role: "power", parts: [] }, { role: "power", parts: ["x".repeat(3000)] }, { role: "power", parts: ["none"], settings: ["x"] }])
    verdict((await desk.ask("machine", { sheet, revision, ...body })).status === 422, `${JSON.stringify(body).slice(0, 60)} is taken`);
}

// The bytes of what a new role does not touch, however oddly they are written.
async function oddly(place) {
  const job = JSON.parse(fs.readFileSync(`${place}/by-hand.json`, "utf8")), path = `${place}/odd.json`;
  const odd = (value) => JSON.stringify(value).replace(/[[,]/g, "$&   \n\t");
  const roles = Object.keys(job.machine), line = (role) => `"${role}"\t:  ${odd(job.machine[role])}`;
  const members = Object.keys(job).map((name) => name === "machine" ? `"machine" : {\t${roles.map(line).join("  ,\n  ")}\n\n}` : `"${name}"  : ${odd(job[name])}`);
  const text = `\n{ ${members.join(" ,\n")}\n\n}\n\n`;
  verdict(roles.length > 2, "there are too few roles to tell");
  fs.writeFileSync(path, text);
  const tab = await begin(["--scenario", path, "--catalog", "catalog"]);
  for (const [role, parts, extra] of [[roles[1], ["none"], {}], [roles[0], ["none"], {}], ["case", ["Some case"], { own: true }]]) {
    const by = spawnSync(program, ["intake", "piece", path, role, ...parts, ...(extra.own ? ["--own"] : []), "--catalog", "catalog"], { encoding: "utf8" });
    const answer = await tab.desk.ask("machine", { sheet: tab.sheet, revision: tab.revision ?? 1, role, parts, ...extra });
    verdict((by.status === 0) === (answer.status === 200), `${role} oddly written: ${answer.text.slice(0, 300)} ${by.stderr}`);
    if (answer.status !== 200) continue;
    const made = JSON.parse(by.stdout);
    verdict(same(answer.json.job, made), `${role} oddly written: another job`);
    for (const other of roles.filter((one) => one !== role && same(made.machine[one], job.machine[one])))
      verdict(answer.text.includes(line(other)), `${role}: the bytes of ${other} are not kept`);
    for (const name of Object.keys(job).filter((one) => one !== "machine" && same(made[one], job[one])))
      verdict(answer.text.includes(`"${name}"  : ${odd(job[name])}`), `${role}: the bytes of ${name} are not kept`);
    tab.revision = answer.json.revision + 1;
    await tab.desk.ask("undo", { sheet: tab.sheet, revision: answer.json.revision });
  }
  await tab.desk.end();
}

// Where the desk and its temporary files lie is told in no error.
async function whereabouts(place) {
  const tab = await begin(["--scenario", `${place}/by-hand.json`]), { desk, sheet } = tab;
  const told = (answer, what) => verdict(answer.status === 422 && !answer.text.includes(folder) && !answer.text.includes(fs.realpathSync(folder)) && !/swapworth-desk-\d+-/.test(answer.text),
    `${what} tells where it lies: ${answer.status} ${answer.text.slice(0, 400)}`);
  await put(tab, "strange thing.txt", Buffer.from("neither this nor that\n"));
  await put(tab, "cut.json", Buffer.from('{"id":"x", "class'));
  for (const files of [["strange thing.txt"], ["cut.json"], ["strange thing.txt", "cut.json"]]) {
    const answer = await desk.ask("dumps", { sheet, revision: 1, files });
    verdict(answer.status === 422 || answer.status === 200, `${files} are ${answer.status}`);
    verdict(!answer.text.includes(folder) && !/swapworth-desk-\d+-/.test(answer.text), `${files}: told where they lie: ${answer.text.slice(0, 400)}`);
  }
  // Taken away behind the desk's back.
  for (const path of fs.readdirSync(`${folder}/tray`, { recursive: true }).filter((path) => path.endsWith("thing.txt"))) fs.unlinkSync(`${folder}/tray/${path}`);
  const gone = await desk.ask("dumps", { sheet, revision: 1, files: ["strange thing.txt"] });
  told(gone, "a dump that is gone");
  verdict(gone.json.complaints[0].file === "strange thing.txt", `a dump that is gone is called ${gone.json.complaints[0].file}`);
  told(await desk.ask("prices", { sheet, file: "strange thing.txt", profile: "cloverhatch-feed" }), "a list that is gone");
  await desk.end();
  fs.writeFileSync(`${place}/astray.json`, JSON.stringify({ ...JSON.parse(fs.readFileSync(`${place}/by-hand.json`)), catalog: "no/such/folder" }));
  const astray = await begin(["--scenario", `${place}/astray.json`]);
  await put(astray, "x.txt", Buffer.from("x"));
  told(await astray.desk.ask("dumps", { sheet: astray.sheet, revision: 1, files: ["x.txt"] }), "a catalog that is not there");
  told(await astray.desk.ask("machine", { sheet: astray.sheet, revision: 1, role: "case", parts: ["none"] }), "a catalog that is not there");
  await astray.desk.end();
}

async function talk(tab, place, draft) {
  const { desk } = tab, first = (await desk.ask("open", {})).json, sheet = first.sheet;
  const answers = JSON.parse(fs.readFileSync("scenarios/first-talk/answers.json")).answers;
  fs.writeFileSync(`${place}/draft.json`, draft);
  run(["intake", "ask", `${place}/draft.json`, "-o", `${place}/whole.json`, "--answers", "scenarios/first-talk/answers.json", "--catalog", "catalog"]);
  const whole = fs.readFileSync(`${place}/whole.json`, "utf8");
  // What a terminal tells of the same answers: the questions one after another.
  const typed = answers.map((one) => one.answer);
  let before = [];
  for (let k = 0; k <= typed.length; k++) {
    const answer = await desk.ask("interview", { sheet, answers: typed.slice(0, k) });
    verdict(answer.status === 200 && answer.json.said.length === k + 1 && same(answer.json.said.slice(0, k), before), `after ${k} answers another story is told: ${answer.text.slice(0, 300)}`);
    before = answer.json.said;
    const due = answers[k];
    if (spoil === "question" && k === 3) answer.json.ask.id = "agree";
    verdict(due === undefined ? answer.json.ask === null : answer.json.ask.id === due.question, `after ${k} answers ${answer.json.ask?.id} is asked`);
    verdict(due === undefined || (answer.json.ask.question !== "" && answer.json.said[k].replace(/\s+/g, " ").includes(answer.json.ask.question.replace(/\s+/g, " ").split("\n")[0])), `what is asked after ${k} is not what was told`);
    verdict(answer.json.needs_yes === ["trade", "agree"].includes(due?.question), `yes is ${answer.json.needs_yes} at ${due?.question}`);
    verdict((answer.json.draft === null) === (k < typed.length), `a draft after ${k} answers`);
    if (k === typed.length) {
      const made = answer.text.slice(answer.text.lastIndexOf('"draft":') + 8, answer.text.lastIndexOf("}"));
      verdict((spoil === "draft" ? made.replace("450", "451") : made) === whole, "the interview makes another job than the command line");
    }
  }
  let answer = await desk.ask("interview", { sheet, answers: [typed[0], "none?", "back"] });
  verdict(answer.json.refused === null && answer.json.ask.id === "complaint" && answer.json.said[2].startsWith("\nNot taken:") || /Not taken/.test(answer.json.said[2]), `back gives ${answer.text.slice(0, 200)}`);
  answer = await desk.ask("interview", { sheet, answers: [typed[0], "certainly not"] });
  verdict(answer.json.refused !== null && answer.json.ask.id === "sorted", "an answer that is none is taken");
  answer = await desk.ask("interview", { sheet, answers: ["quit"] });
  verdict(answer.json.left && answer.json.ask === null && answer.json.draft === null, "quit does not end it");
  for (const body of [{ answers: [...typed, "yes"] }, { answers: [1] }, { answers: typed.slice(0, 4), take: true, revision: 1 }, { answers: Array(401).fill("") }, { answers: [], title: "" }])
    verdict((await desk.ask("interview", { sheet, ...body })).status === 422, `${JSON.stringify(body).slice(0, 80)} is taken`);
  answer = await desk.ask("interview", { sheet, answers: typed, take: true, revision: 1, title: "Another head" });
  verdict(answer.json.revision === 2 && answer.json.draft.title === "Another head", "a title is not taken");
  const now = (await desk.ask("open", { sheet })).json;
  verdict(now.revision === 2 && same(now.job, answer.json.draft), "the interview's job is not taken");
  verdict((await desk.ask("interview", { sheet, answers: typed, take: true, revision: 1 })).status === 409, "it is taken at an old revision");
  verdict((await desk.ask("save", { sheet, revision: 2, file: "client.json" })).status === 200, "the interview's job is not saved");
  const planned = spawnSync(program, ["check", `${place}/client.json`], { encoding: "utf8" });
  verdict(planned.status === 0, `what was saved is not sound: ${planned.stderr}`);
}

async function prices() {
  const tab = await begin(["--scenario", "scenarios/attic-desk.json"]), { desk, sheet } = tab;
  const list = fs.readdirSync("scenarios/lists")[0], profile = list.replace(/\.csv$/, "");
  await put(tab, list, fs.readFileSync(`scenarios/lists/${list}`));
  const answer = await desk.ask("prices", { sheet, file: list, profile });
  const by = spawnSync(program, ["intake", "prices", `scenarios/lists/${list}`, "--profile", profile, "--json"], { encoding: "utf8" });
  const told = JSON.parse(by.stdout);
  verdict(answer.status === 200 && same({ ...answer.json.prices, file: "" }, { ...told, file: "" }) && answer.json.prices.file === list, `the list is told otherwise: ${answer.text.slice(0, 300)}`);
  verdict((await desk.ask("prices", { sheet, file: list, profile: "guess" })).status === 422, "a profile is guessed");
  const otherwise = await desk.ask("prices", { sheet, file: list, profile: "cloverhatch-feed" });
  verdict(otherwise.status === 422 && otherwise.json.complaints[0].file === list, `a list is called otherwise than on the page: ${otherwise.text.slice(0, 300)}`);
  verdict((await desk.ask("prices", { sheet, file: "other.csv", profile })).status === 422, "a list that is not there is read");
  await desk.end();
}

await base64();
if (spoil === undefined) await tray();
await dumps();
await prices();
verdict(trays().length === 0, "a tray stays behind");
console.log(`${counts.passed} passed, ${counts.failed} failed`);
process.exit(counts.failed > 0 ? 1 : 0);
