// node files.mjs TOOL FAULTS WORK KILLS [torn]: a job's file under two tabs, an editor, disks that fail, kills in
// the middle of saves; and what is told of differences. `torn` is a planted fault that must be seen.
import { spawnSync } from "node:child_process";
import * as fs from "node:fs";
import { Desk, counts, random, same, verdict } from "./client.mjs";

const [tool, faults, work, kills, planted] = process.argv.slice(2);
const leftovers = (folder) => fs.readdirSync(folder).filter((name) => name.startsWith(".swapworth-desk-"));
let made = 0;
function job(name = "job.json") {
  const folder = `${work}/files-${++made}`;
  fs.rmSync(folder, { recursive: true, force: true });
  fs.mkdirSync(folder, { recursive: true });
  const text = fs.readFileSync("scenarios/good-enough.json", "utf8").replace('"../catalog"', `"${process.cwd()}/catalog"`);
  fs.writeFileSync(`${folder}/${name}`, text);
  return { folder, path: `${folder}/${name}`, text };
}
const read = (path) => fs.readFileSync(path, "utf8");
const begin = async (place, words = [], env = {}) => {
  const desk = new Desk(tool, ["--scenario", place.path, "--temporary", place.folder, ...words], env);
  const opened = await desk.ask("open", {});
  return { desk, sheet: opened?.json?.sheet, opened };
};
const change = async (tab, revision, ...set) => tab.desk.ask("change", { sheet: tab.sheet, revision, set });
const rooted = process.getuid() === 0;

async function plain() {
  const place = job(), tab = await begin(place);
  fs.chmodSync(place.path, 0o640);
  const sheet = tab.sheet;
  verdict(/^[0-9a-f]{16}$/.test(sheet) && tab.opened.json.revision === 1 && tab.opened.json.file === "job.json", "opened otherwise");
  let answer = await tab.desk.ask("difference", { sheet });
  verdict(same(answer.json.changes, []) && !answer.json.is_new && !answer.json.changed_on_disk, "an untouched job differs");
  answer = await change(tab, 1, "budget.total=650", "wishes.keep.sound=yes", "machine.memory.0.count=1");
  verdict(answer.status === 200 && answer.json.revision === 2, `a change is ${answer.status} ${answer.text}`);
  verdict(read(place.path) === place.text, "a change wrote the file");
  answer = await tab.desk.ask("difference", { sheet });
  const changed = answer.json.changes.map((one) => one.path);
  const find = (path) => answer.json.changes.find((one) => one.path === path);
  verdict(find("budget.total")?.after === "650" && find("budget.total")?.before === JSON.parse(place.text).budget.total, "the budget's change is not told");
  verdict(find("wishes.keep.sound")?.before === null && find("wishes.keep.sound")?.after === "yes", `the wish is told otherwise: ${changed}`);
  verdict(changed.length === 3 && changed.some((path) => /^machine\.memory\.[a-z0-9-]+\.count$/.test(path)), `differences are ${changed}`);
  answer = await change(tab, 1, "budget.total=700");
  verdict(answer.status === 409 && answer.json.revision === 2 && answer.json.job.budget.total === "650", "an old revision is taken");
  answer = await change(tab, 2, "budget.total");
  verdict(answer.status === 422 && answer.json.error.mend !== "", "a change without a value is taken");
  answer = await change(tab, 2, "catalog=elsewhere");
  verdict(answer.status === 422, "the catalog is changed");
  answer = await change(tab, 2, "budget.total=lots");
  verdict(answer.status === 200 && answer.json.complaints.length === 1 && answer.json.complaints[0].file === "job.json"
    && answer.json.complaints[0].place === "$.budget.total", `complaints of a text are ${JSON.stringify(answer.json.complaints)}`);
  answer = await tab.desk.ask("undo", { sheet, revision: 3 });
  verdict(answer.status === 200 && answer.json.revision === 4 && answer.json.job.budget.total === "650", "undo gives another job");
  answer = await tab.desk.ask("save", { sheet, revision: 4 });
  verdict(answer.status === 200 && answer.json.file === "job.json", `saving is ${answer.status} ${answer.text}`);
  verdict(JSON.parse(read(place.path)).budget.total === "650", "the file has another budget");
  verdict((fs.statSync(place.path).mode & 0o7777) === 0o640, "the file lost its rights");
  verdict(leftovers(place.folder).length === 0, "saving left something behind");
  for (let i = 0; i < 130; i++) await change(tab, 4 + i, `budget.total=${700 + i}`);
  let back = 0, revision = 134;
  for (; (answer = await tab.desk.ask("undo", { sheet, revision })).status === 200; back++) revision++;
  verdict(back === 100 && answer.status === 422, `${back} steps go back`);
  await tab.desk.end();
}

async function tabs() {
  const place = job(), one = await begin(place), sheet = one.sheet;
  const two = { desk: one.desk, sheet: (await one.desk.ask("open", {})).json.sheet };
  verdict(sheet !== two.sheet, "two tabs have one sheet");
  await change(one, 1, "budget.total=610");
  await change(two, 1, "budget.total=620");
  verdict((await one.desk.ask("save", { sheet, revision: 2 })).status === 200, "the first save is refused");
  let answer = await one.desk.ask("save", { sheet: two.sheet, revision: 2 });
  verdict(answer.status === 409 && answer.json.changed_on_disk === true, `the second save is ${answer.status}`);
  answer = await one.desk.ask("save", { sheet: two.sheet, revision: 2, over: true });
  verdict(answer.status === 409, "it is saved over what nobody was shown");
  answer = await one.desk.ask("difference", { sheet: two.sheet });
  verdict(answer.json.changed_on_disk && !answer.json.is_gone && same(answer.json.changes, [{ path: "budget.total", before: "610", after: "620" }]), `the difference is ${answer.text}`);
  // An editor writes between the look and the save.
  const edited = read(place.path).replace("610", "615");
  fs.writeFileSync(place.path, edited);
  answer = await one.desk.ask("save", { sheet: two.sheet, revision: 2, over: true });
  verdict(answer.status === 409 && read(place.path) === edited, "an editor's work is lost");
  await one.desk.ask("difference", { sheet: two.sheet });
  answer = await one.desk.ask("save", { sheet: two.sheet, revision: 2 });
  verdict(answer.status === 409, "it is saved over without a word");
  answer = await one.desk.ask("save", { sheet: two.sheet, revision: 2, over: true });
  verdict(answer.status === 200 && JSON.parse(read(place.path)).budget.total === "620", "it is not saved over what was shown");
  // The file goes.
  fs.unlinkSync(place.path);
  await change(two, 2, "budget.total=630");
  answer = await one.desk.ask("save", { sheet: two.sheet, revision: 3 });
  verdict(answer.status === 409 && answer.json.changed_on_disk && answer.json.is_gone && /no longer there/.test(answer.json.error.what)
    && !/wrote/.test(answer.text), `a file that went is told as ${answer.text}`);
  answer = await one.desk.ask("difference", { sheet: two.sheet });
  verdict(answer.json.is_new && answer.json.changed_on_disk && answer.json.is_gone, "the difference does not tell that it went");
  verdict((await one.desk.ask("save", { sheet: two.sheet, revision: 3, over: true })).status === 200, "it is not saved anew");
  await one.desk.end();
}

async function names() {
  const place = job(), tab = await begin(place), sheet = tab.sheet;
  const save = (file) => tab.desk.ask("save", { sheet, revision: 1, file });
  fs.writeFileSync(`${place.folder}/other.json`, "{}");
  for (const file of ["", ".json", "x", "../up.json", "/tmp/x.json", "a/b.json", ".hidden.json", "-o.json", "a\u0007.json", "a\u202e.json",
    `${"x".repeat(96)}.json`, "x.json/", "x.JSON", " .json", " a.json", "a .json", "a.json ", "a.json\n", "\ta.json", "\u00a0a.json", "a\u3000.json", "\u2003.json",
    "a\\b.json", "\\.json", "..json", "a\u0000b.json", "a\u0085.json", "a\u200b.json"]) {
    const answer = await save(file);
    const gate = file.includes("\0") ? 400 : 422; // no text may hold a NUL
    verdict(answer.status === gate, `${JSON.stringify(file)} is ${answer.status}`);
    if (gate === 422) verdict(/^it /.test(answer.json.error.why) && /anna\.json/.test(answer.json.error.mend), `${JSON.stringify(file)} is refused because ${answer.json.error.why}`);
  }
  verdict(same(fs.readdirSync(place.folder).sort(), ["job.json", "other.json"]), `names that are none made ${fs.readdirSync(place.folder)}`);
  let answer = await save("other.json");
  verdict(answer.status === 409 && answer.json.is_there && read(`${place.folder}/other.json`) === "{}", "another's file is written over");
  answer = await save(`${"x".repeat(95)}.json`);
  verdict(answer.status === 200 && fs.existsSync(`${place.folder}/${"x".repeat(95)}.json`), "a long name is refused");
  answer = await save("anna's box \u00e9.json");
  verdict(answer.status === 200 && answer.json.file === "anna's box \u00e9.json", `a name with letters is ${answer.status}`);
  verdict(read(`${place.folder}/anna's box \u00e9.json`) === place.text, "what is saved beside is another text");
  const usual = spawnSync("sh", ["-c", `: >"${place.folder}/usual"`]);
  verdict(usual.status === 0 && fs.statSync(`${place.folder}/usual`).mode === fs.statSync(`${place.folder}/anna's box \u00e9.json`).mode, "a new file has unusual rights");
  await tab.desk.end();
  // A link stays one; a catalog is no place for jobs, by whatever name.
  fs.symlinkSync("job.json", `${place.folder}/link.json`);
  const linked = await begin({ ...place, path: `${place.folder}/link.json` });
  await change(linked, 1, "budget.total=640");
  verdict((await linked.desk.ask("save", { sheet: linked.sheet, revision: 2 })).status === 200 && fs.lstatSync(`${place.folder}/link.json`).isSymbolicLink()
    && JSON.parse(read(place.path)).budget.total === "640", "a link is replaced");
  await linked.desk.end();
  const catalog = `${place.folder}/catalog`;
  fs.cpSync("catalog", catalog, { recursive: true });
  fs.writeFileSync(`${catalog}/job.json`, place.text.replace(/"catalog": *"[^"]*"/, '"catalog": "."'));
  const inside = await begin({ ...place, path: `${catalog}/job.json` });
  await change(inside, 1, "budget.total=640");
  for (const body of [{}, { file: "new.json" }, { file: "roles.json" }]) {
    const refused = await inside.desk.ask("save", { sheet: inside.sheet, revision: 2, ...body });
    verdict(refused.status === 422 && /catalog/.test(refused.text), `a job is saved into the catalog: ${refused.status}`);
  }
  await inside.desk.end();
  fs.symlinkSync("catalog/parts/sound.json", `${place.folder}/sly.json`);
  const sly = await begin({ ...place, path: `${place.folder}/sly.json` }, ["--catalog", catalog]);
  verdict((await sly.desk.ask("save", { sheet: sly.sheet, revision: 1 })).status === 422, "a catalog's file is written through a link");
  await sly.desk.end();
}

async function disks() {
  for (const fault of ["write:ENOSPC", "fsync:EIO", "mkstemp:EACCES", "rename:EROFS"]) {
    const place = job(), tab = await begin(place, [], { LD_PRELOAD: faults, SWAPWORTH_FAULT: fault });
    await change(tab, 1, "budget.total=611");
    const answer = await tab.desk.ask("save", { sheet: tab.sheet, revision: 2 });
    verdict(answer.status === 422 && answer.json.error.why !== "" && /still has/.test(answer.json.error.mend), `${fault}: ${answer.status} ${answer.text}`);
    verdict(read(place.path) === place.text && leftovers(place.folder).length === 0, `${fault}: the folder is not as it was`);
    const still = await tab.desk.ask("open", { sheet: tab.sheet });
    verdict(still.json.job.budget.total === "611" && still.json.revision === 2, `${fault}: the desk lost the change`);
    await tab.desk.end();
  }
  // Without links a new name is taken first.
  const place = job(), tab = await begin(place, [], { LD_PRELOAD: faults, SWAPWORTH_FAULT: "link:EPERM" });
  verdict((await tab.desk.ask("save", { sheet: tab.sheet, revision: 1, file: "new.json" })).status === 200
    && read(`${place.folder}/new.json`) === place.text, "no new file where there are no links");
  verdict((await tab.desk.ask("save", { sheet: tab.sheet, revision: 1, file: "job.json" })).status === 409, "a file is written over where there are no links");
  await tab.desk.end();
  // A real disk that is full, where one may be had.
  const small = job();
  fs.mkdirSync(`${small.folder}/small`);
  if (rooted && spawnSync("mount", ["-t", "tmpfs", "-o", "size=16k", "none", `${small.folder}/small`]).status === 0) {
    try {
      const path = `${small.folder}/small/job.json`;
      fs.writeFileSync(path, small.text);
      const full = await begin({ ...small, path });
      await change(full, 1, "budget.total=612");
      fs.writeFileSync(`${small.folder}/small/filler`, "");
      try { for (;;) fs.appendFileSync(`${small.folder}/small/filler`, "x".repeat(512)); } catch { /* full */ }
      const answer = await full.desk.ask("save", { sheet: full.sheet, revision: 2 });
      verdict(answer.status === 422 && /space/i.test(answer.text) && read(path) === small.text && leftovers(`${small.folder}/small`).length === 0, `a full disk: ${answer.text}`);
      fs.unlinkSync(`${small.folder}/small/filler`);
      verdict((await full.desk.ask("save", { sheet: full.sheet, revision: 2 })).status === 200, "with room again it is not saved");
      await full.desk.end();
    } finally { spawnSync("umount", [`${small.folder}/small`]); }
  } else console.log("no small disk is to be had here: left out");
  // Folders and files that may not be written, as somebody who is not root.
  const closed = job();
  fs.chmodSync(closed.path, 0o444);
  await denied(closed, "a file that is read only", () => fs.chmodSync(closed.path, 0o666));
  const shut = job();
  fs.chmodSync(shut.path, 0o666);
  fs.chmodSync(shut.folder, 0o555);
  await denied(shut, "a folder that is read only", () => fs.chmodSync(shut.folder, 0o777));
}

async function denied(place, what, open) {
  const words = ["--scenario", place.path];
  const desk = rooted && spawnSync("setpriv", ["--version"]).status === 0
    ? new Desk("setpriv", ["--reuid=65534", "--regid=65534", "--clear-groups", tool, ...words]) : rooted ? null : new Desk(tool, words);
  if (desk === null) { console.log(`${what}: nobody to be here: left out`); return; }
  const sheet = (await desk.ask("open", {}))?.json?.sheet;
  if (sheet === undefined) { console.log(`${what}: not to be reached as nobody: left out`); return; }
  await desk.ask("change", { sheet, revision: 1, set: ["budget.total=613"] });
  const answer = await desk.ask("save", { sheet, revision: 2 });
  verdict(answer.status === 422 && /denied|read-only/i.test(answer.text) && read(place.path) === place.text, `${what}: ${answer.status} ${answer.text}`);
  verdict(leftovers(place.folder).length === 0, `${what}: something is left behind`);
  open();
  await desk.end();
}

// Saves one after another until a kill: the file is whole, before or after; what stands beside it is swept.
async function killed() {
  const place = job(), draw = random(11), total = Number(kills);
  const fault = planted === "torn" ? "rename:torn" : "rename:slow";
  let saves = 0, left = 0, torn = 0;
  for (let round = 0; saves < total && round < 4 * total; round++) {
    const tab = await begin(place, [], { LD_PRELOAD: faults, SWAPWORTH_FAULT: fault });
    if (tab.opened === null || tab.opened.status !== 200) { torn++; break; }
    let timer = null;
    for (let i = 0; ; i++) {
      const revision = 1 + i;
      if (await change(tab, revision, `budget.total=${1000 + round * 50 + i}`) === null) break;
      timer ??= setTimeout(() => tab.desk.kill(), draw() * 60);
      if (await tab.desk.ask("save", { sheet: tab.sheet, revision: revision + 1 }) === null) break;
      saves++;
    }
    clearTimeout(timer);
    await tab.desk.kill();
    left += leftovers(place.folder).length;
    const text = read(place.path);
    let whole = true;
    try { JSON.parse(text); } catch { whole = false; }
    whole = whole && text.replace(/"total": *"[0-9.]+"/, "") === place.text.replace(/"total": *"[0-9.]+"/, "");
    torn += !whole;
    if (!whole) break;
    const next = new Desk(tool, ["--scenario", place.path, "--temporary", place.folder]);
    await next.ask("sweep", {});
    const rest = leftovers(place.folder);
    verdict(rest.length === 0, `stale files stay: ${rest}`);
    await next.end();
  }
  console.log(`${saves} saves, ${left} files left by kills, ${torn} torn`);
  verdict(torn === 0, "a kill left a torn file");
  verdict(planted !== undefined || (saves >= total && left > 0), "no kill fell into a save");
}

// A sweep takes away what a desk left, and nothing else.
async function swept() {
  const place = job();
  const gone = spawnSync("sh", ["-c", "echo $$"]).stdout.toString().trim();
  const keep = [".swapworth-desk-1-ABCDEF", ".swapworth-desk-x-ABCDEF", `.swapworth-desk-${gone}-ABC`, `x.swapworth-desk-${gone}-ABCDEF`,
    `.swapworth-desk-${gone}-ABCDEFG`, ".swapworth-desk-99999999999999-ABCDEF", "notes.txt"];
  for (const name of [...keep, `.swapworth-desk-${gone}-ABCDEF`]) fs.writeFileSync(`${place.folder}/${name}`, "x");
  fs.mkdirSync(`${place.folder}/.swapworth-desk-${gone}-FOLDER`);
  fs.mkdirSync(`${place.folder}/swapworth-desk-${gone}-TRAYAA/1`, { recursive: true });
  fs.writeFileSync(`${place.folder}/swapworth-desk-${gone}-TRAYAA/1/dmi.txt`, "serial");
  fs.writeFileSync(`${place.folder}/outside`, "x");
  fs.symlinkSync("../../outside", `${place.folder}/swapworth-desk-${gone}-TRAYAA/1/link`);
  fs.symlinkSync(`${place.folder}`, `${place.folder}/swapworth-desk-${gone}-TRAYAA/up`);
  const tab = await begin(place);
  await tab.desk.ask("sweep", {});
  verdict(!fs.existsSync(`${place.folder}/.swapworth-desk-${gone}-ABCDEF`), "a stale file stays");
  verdict(!fs.existsSync(`${place.folder}/swapworth-desk-${gone}-TRAYAA`), "a stale tray stays");
  verdict(fs.existsSync(`${place.folder}/outside`) && fs.existsSync(place.path), "a sweep follows links");
  for (const name of keep) verdict(fs.existsSync(`${place.folder}/${name}`), `${name} is swept`);
  verdict(fs.existsSync(`${place.folder}/.swapworth-desk-${gone}-FOLDER`), "a folder of that name is swept as a file");
  await tab.desk.end();
}

async function many() {
  const place = job(), tab = await begin(place), ids = [tab.sheet];
  for (let i = 1; i < 16; i++) ids.push((await tab.desk.ask("open", {})).json.sheet);
  verdict(new Set(ids).size === 16, "sheets share an id");
  await tab.desk.ask("open", { sheet: ids[0] });
  await tab.desk.ask("open", {});
  verdict((await tab.desk.ask("open", { sheet: ids[0] })).status === 200, "the one used last goes");
  verdict((await tab.desk.ask("open", { sheet: ids[1] })).status === 404, "a seventeenth sheet is kept");
  for (const [name, body] of [["change", { sheet: ids[0], revision: 1 }], ["change", { sheet: ids[0], revision: 1, set: ["a=1"], x: 1 }],
    ["change", { sheet: ids[0], revision: "1", set: [] }], ["change", [1]], ["undo", {}], ["interview", { sheet: ids[0], answers: [], take: true }],
    ["tray", { sheet: ids[0], name: "x" }], ["tray", { sheet: ids[0], drop: "x", name: "y" }]]) {
    const answer = await tab.desk.ask(name, body);
    verdict(answer.status === 400 && answer.json.error.what !== "" && answer.json.schema === "swapworth-desk-1", `${name} ${JSON.stringify(body)} is ${answer.status}`);
  }
  verdict((await tab.desk.ask("change", { sheet: ids[0], revision: 1, set: [1] })).status === 422, "a change that is no text is taken");
  for (const revision of [0, -1, 1.5, 2, 1e15]) verdict((await tab.desk.ask("undo", { sheet: ids[0], revision })).status === 409, `revision ${revision} is taken`);
  await tab.desk.end();
  const none = new Desk(tool, []);
  const opened = await none.ask("open", {});
  verdict(opened.status === 200 && opened.json.job === null && opened.json.file === null, `a desk without a job: ${opened.text}`);
  for (const [name, body] of [["change", { set: ["title=x"] }], ["save", { file: "new.json" }], ["undo", {}], ["interview", { answers: [] }]])
    verdict((await none.ask(name, { sheet: opened.json.sheet, revision: 1, ...body })).status === 422, `${name} without a job`);
  await none.end();
  for (const text of ["[]", "{", "\"x\"", ""]) {
    const bad = job();
    fs.writeFileSync(bad.path, text);
    const desk = new Desk(tool, ["--scenario", bad.path]);
    const answer = await desk.ask("open", {});
    verdict(answer.status === 422 && answer.json.complaints.length > 0, `${JSON.stringify(text)} is opened`);
    verdict(answer.json.complaints[0].file === "job.json" && !answer.text.includes(fs.realpathSync(bad.folder)), `a bad job tells where it lies: ${answer.text}`);
    await desk.end();
  }
}

const differences = async () => {
  const place = job(), tab = await begin(place), sheet = tab.sheet;
  const told = async (change) => {
    const old = JSON.parse(place.text);
    fs.writeFileSync(place.path, JSON.stringify(change(old)));
    return Object.fromEntries((await tab.desk.ask("difference", { sheet })).json.changes.map((one) => [one.path, [one.before, one.after]]));
  };
  const job0 = JSON.parse(place.text);
  verdict(same(await told((old) => old), {}), "other blanks are a difference");
  verdict(same(await told((old) => ({ ...old, title: "x" })), { title: ["x", job0.title] }), "a title");
  verdict(same(await told((old) => { old.wishes.keep = ["sound", ...(old.wishes.keep ?? [])]; return old; }), { "wishes.keep.sound": ["yes", null] }), "a text of a list");
  verdict(same(await told((old) => { old.wishes.uses[0].share = 7; return old; }), { [`wishes.uses.${job0.wishes.uses[0].use}.share`]: ["7", String(job0.wishes.uses[0].share)] }), "a share");
  verdict(same(await told((old) => { old.wishes.ranks = ["quiet", "speed"]; return old; }), { "wishes.ranks.quiet": ["yes", null], "wishes.ranks.speed": ["yes", null] }), "ranks");
  verdict(same(await told((old) => { old.quotes = []; return old; }), { quotes: ["[]", null] }), "an empty list");
  const roles = Object.entries(job0.machine).filter(([, list]) => list.length === 1)[0];
  verdict(same(await told((old) => { old.machine[roles[0]][0].count = 3; return old; }), { [`machine.${roles[0]}.${roles[1][0].part}.count`]: ["3", roles[1][0].count === undefined ? null : String(roles[1][0].count)] }), "a count");
  verdict(same(await told((old) => { old.assumed = ["a. b", "a. b"]; return old; }), { "assumed.0": ["a. b", null], "assumed.1": ["a. b", null] }), "sentences that are the same");
  if (job0.wishes.uses.length > 1) {
    const order = job0.wishes.uses.map((use) => use.use);
    verdict(same(await told((old) => { old.wishes.uses.reverse(); return old; }), { "wishes.uses": [[...order].reverse().join(", "), order.join(", ")] }), "an order");
  }
  // More than may be told is not told, and takes no time.
  const begun = Date.now(), odd = Object.fromEntries(Array.from({ length: 60000 }, (_, i) => [`n${i}`, i]));
  fs.writeFileSync(place.path, JSON.stringify({ ...job0, ["x".repeat(1000000)]: Array(100000).fill(1), odd }));
  const many = await tab.desk.ask("difference", { sheet });
  verdict(many.status === 200 && many.json.all === false && many.json.changes.length <= 5000 && many.text.length < 1e8, `far too much is told: ${many.text.length}`);
  fs.writeFileSync(place.path, JSON.stringify({ ...job0, odd }));
  const wide = await tab.desk.ask("difference", { sheet });
  verdict(wide.json.all === false && wide.json.changes.length === 5000 && wide.json.changes[0].path === "odd.n0", "a wide object is told otherwise");
  verdict(Date.now() - begun < 20000, `it takes ${Date.now() - begun} ms`);
  fs.unlinkSync(place.path);
  spawnSync("mkfifo", [place.path]);
  const pipe = await tab.desk.ask("difference", { sheet });
  verdict(pipe.status === 422 && (await tab.desk.ask("save", { sheet, revision: 1 })).status === 422 && (await tab.desk.ask("open", {})).status === 422, "a pipe is read");
  await tab.desk.end();
};

if (planted === undefined) {
  await plain();
  await tabs();
  await names();
  await disks();
  await swept();
  await many();
  await differences();
}
await killed();
console.log(`${counts.passed} passed, ${counts.failed} failed`);
process.exit(counts.failed > 0 ? 1 : 0);
