// node piece.mjs PROGRAM WORK SEEDS: `intake piece` on every shipped scenario and role, drawn parts and facts,
// against what FORMATS section 29 says of it. Ends with "N passed, N failed".
import { execFileSync, spawnSync } from "node:child_process";
import { cpSync, mkdirSync, readFileSync, readdirSync, writeFileSync, existsSync } from "node:fs";

const [program, work, seeds] = [process.argv[2], process.argv[3], Number(process.argv[4] ?? 1)];
mkdirSync(work, { recursive: true });
let passed = 0, failed = 0;
const verdict = (good, what) => {
  if (good) passed++;
  else { failed++; console.log("FAILED " + what); }
};
const random = (seed) => () => {
  seed = (Math.imul(seed, 1664525) + 1013904223) >>> 0;
  return seed / 4294967296;
};
const parts = readdirSync("catalog/parts").flatMap((name) =>
  JSON.parse(readFileSync(`catalog/parts/${name}`)).parts);
const roles = JSON.parse(readFileSync("catalog/roles.json")).roles;
const intake = JSON.parse(readFileSync("catalog/intake.json"));
const facts = JSON.parse(readFileSync("catalog/facts.json")).facts;
const same = (a, b) => JSON.stringify(a) === JSON.stringify(b);
const sorted = (value) => Array.isArray(value) ? value.map(sorted)
  : value !== null && typeof value === "object"
    ? Object.fromEntries(Object.keys(value).sort().map((key) => [key, sorted(value[key])])) : value;
const equal = (a, b) => same(sorted(a), sorted(b));
const ofPiece = (role) => new Set([...intake.of_pieces, ...intake.pieces.filter((piece) => piece.role === role)
  .flatMap((piece) => piece.facts.filter((fact) => fact.of_piece).map((fact) => fact.fact))]);

// How people may write a number: other case, other blanks and hyphens.
const scrawl = (text, draw) => [...text].map((letter) =>
  letter === "-" && draw() < 0.5 ? " " : draw() < 0.5 ? letter.toLowerCase() : letter).join("");

const run = (words) => spawnSync(program, ["intake", "piece", ...words], { encoding: "utf8" });

function one(name, role, draw) {
  const path = `scenarios/${name}`, before = JSON.parse(readFileSync(path));
  const had = before.machine[role.role] ?? [];
  const pick = (list) => list[Math.floor(draw() * list.length)];
  const choice = parts.filter((part) => part.role === role.role);
  const count = draw() < 0.7 ? 1 : 1 + Math.floor(draw() * 3);
  const wanted = Array.from({ length: count }, () => pick(choice));
  const words = wanted.map((part) => part.numbers && draw() < 0.5 ? scrawl(pick(part.numbers), draw) : part.id);
  const number = facts.find((fact) => fact.roles.includes(role.role) && fact.type === "number" && !("is" in fact));
  const set = number && draw() < 0.5 ? [[number.fact, number.least ?? 0]] : [];
  const here = `${name} ${role.role} ${words.join(" ")} ${set}`;
  const answer = run([path, role.role, ...words, ...set.flatMap(([fact, value]) => ["--set", `${fact}=${value}`]),
    "--catalog", "catalog"]);
  if (answer.status !== 0) {
    // Only a check of the new scenario may refuse: fewer pieces than the role needs, a wish that went with them.
    const why = /roles.json says how many|wish|keep|replace|must|phases|complain/i.test(answer.stderr);
    verdict(answer.status === 65 && why && answer.stdout === "", `${here}: ${answer.status} ${answer.stderr}`);
    return;
  }
  const after = JSON.parse(answer.stdout), entries = after.machine[role.role];
  const ids = [...new Set(wanted.map((part) => part.id))];
  verdict(same(entries.map((entry) => entry.part), ids), `${here}: other pieces`);
  const only = wanted.length === 1 && had.length === 1 ? had[0] : null;
  for (const entry of entries) {
    const times = wanted.filter((part) => part.id === entry.part).length;
    const old = had.find((one) => one.part === entry.part), kept = old ?? only;
    const stated = { ...Object.fromEntries(Object.entries(kept?.facts ?? {})
      .filter(([fact]) => old !== undefined || ofPiece(role.role).has(fact))), ...Object.fromEntries(set) };
    verdict((entry.count ?? 1) === (times > 1 ? times : kept?.count ?? 1), `${here}: another count`);
    verdict(equal(entry.facts ?? {}, stated), `${here}: facts ${JSON.stringify(entry.facts)}, not ${JSON.stringify(stated)}`);
    for (const word of ["condition", "offer", "hoped"])
      verdict(same(entry[word], kept?.[word]), `${here}: ${word}`);
    verdict(old ? same(entry.note, old.note)
      : (entry.note ?? "") === (kept ? `Named by hand; before: ${kept.name ?? kept.part}.${kept.note ? " " + kept.note : ""}` : ""),
    `${here}: note ${entry.note}`);
  }
  const gone = had.map((entry) => entry.part).filter((id) => !ids.includes(id));
  const now = (id) => !gone.includes(id) ? id : only ? ids[0] : undefined;
  const musts = (before.musts ?? []).map((must) => "replace" in must ? { ...must, replace: now(must.replace) } : must)
    .filter((must) => !("replace" in must) || must.replace !== undefined);
  verdict(equal(after.musts ?? [], musts), `${here}: musts`);
  for (const wish of ["keep", "replace"])
    verdict(same(after.wishes[wish], before.wishes[wish]?.map(now).filter((id) => id !== undefined)), `${here}: ${wish}`);
  const rest = (job) => {
    const { machine, musts: _, to_ask: __, wishes, ...others } = job;
    const { [role.role]: ___, ...stay } = machine, { keep, replace, ...wished } = wishes;
    return sorted({ others, stay, wished });
  };
  verdict(same(rest(before), rest(after)), `${here}: something else changed`);
  writeFileSync(`${work}/job.json`, answer.stdout);
  const check = spawnSync(program, ["fits", `${work}/job.json`, "--catalog", "catalog", "--json"], { encoding: "utf8" });
  verdict([0, 1].includes(check.status), `${here}: fits ends with ${check.status} ${check.stderr}`);
}

for (let seed = 1; seed <= seeds; seed++) {
  const draw = random(seed * 7919);
  for (const name of readdirSync("scenarios").filter((file) => file.endsWith(".json")))
    for (const role of roles) if (draw() < 0.35) one(name, role, draw);
}

// Facts of every kind said of pieces that no catalog has; what is said of one of two pieces is of that one.
const entriesOf = (job, role, words, more = ["--catalog", "catalog"]) => {
  const answer = run([job, role, ...words, ...more]);
  verdict(answer.status === 0, `${role} ${words.join(" ")}: ${answer.status} ${answer.stderr}`);
  return answer.status === 0 ? JSON.parse(answer.stdout).machine[role] : [];
};
const set = (...settings) => settings.flatMap((setting) => ["--set", setting]);
const desk = "scenarios/attic-desk.json";
for (const [role, words, wanted] of [
  ["power", ["Old brick", "--own", ...set("rated_w=430.5", "detachable=yes", "efficiency=bronze", "power_form=ATX")],
    [{ rated_w: 430.5, detachable: true, efficiency: "bronze", power_form: "ATX" }]],
  ["power", ["Old brick", "--own", ...set("detachable=true")], [{ detachable: true }]],
  ["power", ["Old brick", "--own", ...set("detachable=false")], [{ detachable: false }]],
  ["power", ["Old brick", "--own", ...set("detachable=no")], [{ detachable: false }]],
  ["cooler", ["Old tower", "--own", ...set("sockets=S5,S6,S7", "finish=black")],
    [{ sockets: ["S5", "S6", "S7"], finish: "black" }]],
  ["cooler", ["Old tower", "--own", ...set("sockets=S5")], [{ sockets: ["S5"] }]],
  ["drives", ["First", "Second", "--own", ...set("drive_kind=flash", "Second:drive_kind=platters", "First:hours_on=7")],
    [{ drive_kind: "flash", hours_on: 7 }, { drive_kind: "platters" }]],
  ["drives", ["First", "Second", "First", "--own", ...set("own-drives-2:hours_on=6")], [{}, { hours_on: 6 }]],
]) {
  const entries = entriesOf(desk, role, words);
  verdict(entries.length === wanted.length && entries.every((entry, i) => Object.entries(wanted[i])
    .every(([fact, value]) => same(entry.facts?.[fact], value)) &&
    Object.keys(entry.facts ?? {}).every((fact) => fact in wanted[i] || ofPiece(role).has(fact))),
  `${words.join(" ")}: ${JSON.stringify(entries)}`);
}
verdict(entriesOf(desk, "drives", ["First", "Second", "First", "--own"]).map((entry) => entry.count ?? 1).join() === "2,1",
  "a piece named twice is there twice");

// The number of two parts names neither; each id does.
cpSync("catalog", `${work}/catalog`, { recursive: true });
const coolers = parts.filter((part) => part.role === "cooler");
const first = coolers[0], other = coolers.find((part) => part.maker !== first.maker);
for (const name of readdirSync(`${work}/catalog/parts`)) {
  const file = `${work}/catalog/parts/${name}`, text = JSON.parse(readFileSync(file));
  for (const part of text.parts) if ([first.id, other.id].includes(part.id)) part.numbers = ["ZZ-100"];
  writeFileSync(file, JSON.stringify(text));
}
const both = run([desk, "cooler", "zz 100", "--catalog", `${work}/catalog`]);
verdict(both.status === 64 && both.stderr.includes(first.id) && both.stderr.includes(other.id), `zz 100: ${both.stderr}`);
verdict(entriesOf(desk, "cooler", [first.id], ["--catalog", `${work}/catalog`])[0]?.part === first.id, "by its id");

// It is all one in which order the catalog says what pieces tell of themselves.
const told = { ...intake }, own = JSON.parse(readFileSync(desk));
own.machine.drives = [{ part: own.musts[0].replace, facts: { space_gb: 1500, hours_on: 9, wear_percent: 3, used_gb: 100 } }];
writeFileSync(`${work}/own.json`, JSON.stringify(own));
for (const role of intake.pieces.map((piece) => piece.role)) {
  told.pieces = [...intake.pieces].sort((a, b) => (b.role === role) - (a.role === role));
  writeFileSync(`${work}/catalog/intake.json`, JSON.stringify(told));
  const [facts] = entriesOf(`${work}/own.json`, "drives", ["Another", "--own"], ["--catalog", `${work}/catalog`]).map((entry) => entry.facts);
  verdict(equal(facts, { hours_on: 9, wear_percent: 3, used_gb: 100 }), `${role} first: ${JSON.stringify(facts)}`);
}

// A long note with letters of several bytes is cut between letters; lists that are empty then go.
const noted = JSON.parse(readFileSync(desk));
noted.machine.cooler[0].note = "\u00e9".repeat(995);
noted.to_ask = [{ role: "cooler", ask: "Which cooler is it?" }];
noted.musts = [{ id: "rattle", replace: noted.machine.cooler[0].part, why: "It rattles." }];
writeFileSync(`${work}/long.json`, JSON.stringify(noted));
const long = run([`${work}/long.json`, "cooler", "Old tower", "--own", "--catalog", "catalog"]);
const after = long.status === 0 ? JSON.parse(long.stdout) : { machine: { cooler: [{}] } };
verdict(/^Named by hand; before: .*\u00e9$/.test(after.machine.cooler[0].note ?? ""), `a long note: ${long.stderr}`);
verdict(!("to_ask" in after), "what is answered is not asked again");
verdict(same(after.musts, [{ id: "rattle", replace: "own-cooler", why: "It rattles." }]), `a must: ${JSON.stringify(after.musts)}`);

// What must be refused, and writes nothing.
for (const [words, code] of [
  [["scenarios/attic-desk.json"], 64], [["scenarios/attic-desk.json", "power"], 64],
  [["scenarios/attic-desk.json", "pwer", "none"], 64], [["scenarios/attic-desk.json", "power", "fenwright"], 64],
  [["scenarios/attic-desk.json", "power", "fenwright-even-45O", "--set", "age_years=5"], 64],
  [["scenarios/attic-desk.json", "power", "none"], 65], [["scenarios/attic-desk.json", "power", ""], 64],
  [["scenarios/attic-desk.json", "power", "x", "--own", "--set", "load_w"], 64],
  [["scenarios/attic-desk.json", "power", "x", "--own", "--set", "rated_w=4.5.6"], 64],
  [["scenarios/attic-desk.json", "power", "x", "--own", "--set", "rated_w=1e3"], 64],
  [["scenarios/attic-desk.json", "power", "x", "--own", "--set", "rated_w=-5"], 65],
  [["scenarios/attic-desk.json", "power", "x", "--own", "--set", "detachable=perhaps"], 64],
  [["scenarios/attic-desk.json", "power", "x\u001b[2J", "--own", "--set", "rated_w=400"], 64],
  [["scenarios/attic-desk.json", "case", "x", "--own", "--set", "sites=[]"], 64],
  [["scenarios/none.json", "power", "x"], 66], [["scenarios/attic-desk.json", "power", "fenwright-even-450", "--card", "c"], 64],
  [["scenarios/attic-desk.json", "power", "fenwright-even-450", "-o", "catalog/x.json"], 64]]) {
  const answer = run(words);
  verdict(answer.status === code && answer.stdout === "" && answer.stderr !== "" && !answer.stderr.includes("\u001b"),
    `${words.join(" ")}: ${answer.status}, not ${code}: ${answer.stderr}`);
}
verdict(!existsSync("catalog/x.json"), "something was written into the catalog");
console.log(`${passed} passed, ${failed} failed`);
process.exit(failed === 0 ? 0 : 1);
