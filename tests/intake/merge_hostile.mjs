// Dumps that are cut, damaged, too many or no dumps, through the whole command: it ends in time, by a
// documented code, prints no control characters, and what it writes is a sound scenario.
import { spawnSync } from "node:child_process";
import { existsSync, mkdirSync, readFileSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { WISHES } from "./merge_run.mjs";
import { dice } from "./merge_machine.mjs";

const CODES = [0, 64, 65, 66];

// Why the answer is not sound; `code`: the one that is meant, else any documented one.
function faultsOf(bench, name, paths, { code, folder = join(bench.work, "hostile"), hidden = [] } = {}) {
    const draft = join(folder, "draft.json"), card = join(folder, "card.json");
    rmSync(draft, { force: true });
    const said = bench.run([...bench.words(paths), "-o", draft, "--card", card]);
    const asJson = bench.run([...bench.words(paths), "--json"]);
    const wrongs = [];
    for (const is of [said, asJson])
        if (code === undefined ? !CODES.includes(is.code) : is.code !== code)
            wrongs.push(`ended with ${is.code}: ${is.errors.slice(0, 300)}`);
    for (const text of [said.out, said.errors, asJson.errors])
        if (/[\x00-\x09\x0b-\x1f\x7f\u0080-\u009f\u202a-\u202e\u2066-\u2069]/.test(text ?? ""))
            wrongs.push("control characters are printed");
    if (said.code !== 0) {
        if (existsSync(draft)) wrongs.push("a draft was written nevertheless");
        if (said.errors === "") wrongs.push("nothing is said");
        return wrongs;
    }
    try {
        const is = JSON.parse(readFileSync(draft, "utf8")), told = JSON.parse(asJson.out);
        JSON.parse(readFileSync(card, "utf8"));
        writeFileSync(join(folder, "job.json"), JSON.stringify({ ...is, ...WISHES }));
        const checked = bench.run(["check", join(folder, "job.json")]);
        if (checked.code !== 0) wrongs.push(`check refuses the draft: ${(checked.out + checked.errors).slice(0, 300)}`);
        for (const [role, entries] of Object.entries(is.machine))
            if (entries.length > 16 || entries.some(({ count }) => count > 16)) wrongs.push(`${role} holds more than 16`);
        const all = [said.out, asJson.out, JSON.stringify(is), said.errors].join("").toLowerCase();
        for (const secret of hidden)
            if (all.includes(secret.toLowerCase()))
                wrongs.push(`tells ${secret}`);
        return told.pieces === undefined ? [...wrongs, "no pieces are told"] : wrongs;
    } catch (error) {
        return [...wrongs, `no sound JSON: ${error.message}`];
    }
}

// ---- damaged dumps -------------------------------------------------------------------------------

const BAD = ["\u0000", "\u001b[31m", "\u202e", "\ufeff", "\"", "{", "}", "[", "\\u0000", "\\ud800", "null", "-1", "1e999",
    "99999999999999999999", "0.0001", "\t\n", ": ", "true", "[]", "{\"a\":1}", "DIMM A0", "/dev/sda", "NaN", "Unknown"];
const BYTES = [0x00, 0xff, 0xc0, 0x80, 0x0a, 0x1b, 0xed];

const DAMAGES = {
    cut: (d, bytes) => bytes.subarray(0, d.whole(0, bytes.length)),
    tail: (d, bytes) => bytes.subarray(d.whole(0, bytes.length)),
    flipped: (d, bytes) => {
        const copy = Buffer.from(bytes);
        for (let n = d.whole(1, 12); n > 0; n--) copy[d.whole(0, copy.length - 1)] ^= 1 << d.whole(0, 7);
        return copy;
    },
    stabbed: (d, bytes) => {
        const copy = Buffer.from(bytes);
        for (let n = d.whole(1, 6); n > 0; n--) copy[d.whole(0, copy.length - 1)] = d.pick(BYTES);
        return copy;
    },
    put: (d, bytes) => {
        const at = d.whole(0, bytes.length);
        return Buffer.concat([bytes.subarray(0, at), Buffer.from(d.pick(BAD)), bytes.subarray(at)]);
    },
    twice: (d, bytes) => {
        const from = d.whole(0, bytes.length), to = d.whole(from, bytes.length);
        return Buffer.concat([bytes.subarray(0, to), bytes.subarray(from)]);
    },
    // Another type or an absurd value in place of one, in text as in JSON.
    wrong: (d, bytes) => {
        const text = bytes.toString("latin1"), places = [...text.matchAll(/: ("[^"\n]*"|-?[\d.]+|true|false|null|[^\n"{[]+)/g)];
        if (places.length === 0) return bytes;
        const at = d.pick(places);
        const value = d.pick([...BAD, "\"0\"", "16 TB", "-5 MHz", "0", `"${"x".repeat(2500)}"`]);
        return Buffer.from(text.slice(0, at.index + 2) + value
            + text.slice(at.index + at[0].length), "latin1");
    },
};

export function damaged(bench, first, count) {
    for (let seed = first; seed < first + count; seed++) {
        const d = dice(seed + 99991), job = bench.draw(seed);
        const kind = d.pick(Object.keys(DAMAGES));
        const dumps = job.dumps.map((dump) => d.chance(0.6) && dump.bytes.length > 0
            ? { ...dump, bytes: DAMAGES[kind](d, Buffer.from(dump.bytes)) } : dump);
        const { folder, inside } = bench.layOut("hostile", dumps);
        // Other damage may move what is private to where a name stands.
        const hidden = !["cut", "tail", "put", "wrong"].includes(kind) ? []
            : job.dumps.flatMap(({ privates }) => privates.map(({ value }) => value));
        bench.verdict(`damaged dumps ${seed} (${kind})`, faultsOf(bench, kind, inside, { folder, hidden }));
    }
}

// ---- many and large ------------------------------------------------------------------------------

const hex = (number, digits) => number.toString(16).padStart(digits, "0");
const structure = (number, lines) => `Handle 0x${hex(number, 4)}, DMI type 17, 40 bytes\nMemory Device\n`
    + `${lines.map((line) => `\t${line}\n`).join("")}\n`;
const modules = (count, name) => Array.from({ length: count }, (_, n) => structure(n,
    ["Size: 8 GB", "Form Factor: DIMM", `Locator: DIMM ${n}`, "Type: DDR4", "Manufacturer: Quernmoor",
        `Part Number: ${name(n)}`])).join("");

const letters = (n) => (n < 26 ? "" : letters(Math.floor(n / 26) - 1)) + String.fromCharCode(97 + n % 26);

function crowds(bench) {
    const one = (name, bytes, more) => {
        const { folder, inside } = bench.layOut("hostile", [{ file: "dump", bytes }]);
        bench.verdict(name, faultsOf(bench, name, inside, { folder, ...more }));
        return folder;
    };
    one("200 equal modules", modules(200, () => "TARN 8"), { code: 0 });
    one("200 modules, each another", modules(200, (n) => `TARN ${n}`), { code: 0 });
    one("5,000 modules", modules(5000, (n) => `TARN ${n}`));
    one("300 drives", JSON.stringify({ blockdevices: Array.from({ length: 300 }, (_, n) =>
        ({ name: `sd${letters(n)}`, type: "disk", size: 1e9 + n, rota: true, tran: "sata", model: `M ${n}` })) }), { code: 0 });
    one("40,000 cards", Array.from({ length: 40000 }, (_, n) =>
        `${hex(n >> 8, 2)}:${hex(n & 255, 2)}.0 "VGA compatible controller" "A" "B"\n`).join(""));
    one("deep JSON", `{"blockdevices":${"[".repeat(100000)}`);
    one("one line of 4 MB", `Handle 0x0001, DMI type 17, 40 bytes\nMemory Device\n\tLocator: ${"x".repeat(4 << 20)}\n\tSize: 8 GB\n`);
    one("a name of 3,000 bytes", modules(1, () => "\u00e9".repeat(1500)), { code: 0 });
    const { inside } = bench.layOut("hostile", [{ file: "dump", bytes: modules(40, () => "TARN 8") }]);
    const said = bench.run([...bench.words(inside), "--json"]);
    if (said.code !== 0) return;
    const told = JSON.parse(said.out);
    const entry = told.pieces.find(({ role }) => role === "memory");
    const left = told.left_out.filter(({ device, why }) => device === "memory-module" && why !== null);
    bench.verdict("of 40 equal modules 16 are an entry and 24 left out", entry.count === 16 && left.length === 24
        ? [] : [`${entry.count} and ${left.length}`]);
}

// ---- files ---------------------------------------------------------------------------------------

const dump = modules(1, () => "TARN 8");

export function files(bench) {
    const at = (name, dumps, more = {}, also = () => {}) => {
        const { folder, inside } = bench.layOut("hostile", dumps);
        also(inside);
        bench.verdict(name, faultsOf(bench, name, more.paths?.(inside) ?? inside, { folder, ...more }));
    };
    // Nothing usable is no draft.
    at("an empty folder", [], { code: 65 });
    at("a folder of nothing", ["", "hello\n", Buffer.alloc(5000)].map((bytes, n) => ({ file: `f${n}`, bytes })), { code: 65 });
    at("1,001 files", Array.from({ length: 1001 }, (_, n) => ({ file: `f${n}`, bytes: dump })));
    for (const file of ["a\nb", "\u001b[31mred", "tab\there", "bell\u0007", "\u202eback", "-o", "quote\"s", "#", "\\"])
        at(`a file named ${JSON.stringify(file)}`, [{ file, bytes: dump }], { code: 0 });
    at("a file whose name is no UTF-8", [], { code: 0 }, (inside) =>
        writeFileSync(Buffer.concat([Buffer.from(`${inside}/`), Buffer.from([0xff, 0xfe, 0x41])]), dump));
    at("a FIFO among the files", [{ file: "a", bytes: dump }], {}, (inside) => spawnSync("mkfifo", [join(inside, "b")]));
    at("a device among the files", [{ file: "a", bytes: dump }], {}, (inside) => symlinkSync("/dev/zero", join(inside, "b")));
    at("a link in a circle", [{ file: "a", bytes: dump }], {}, (inside) => symlinkSync("b", join(inside, "b")));
    at("folders within", [{ file: "a", bytes: dump }], {}, (inside) => mkdirSync(join(inside, "below", "lower"), { recursive: true }));
    at("a FIFO", [], { code: 66, paths: (inside) => join(inside, "pipe") }, (inside) => spawnSync("mkfifo", [join(inside, "pipe")]));
    at("a device", [], { code: 66, paths: () => "/dev/zero" });
    at("a missing file with an unfit name", [], { code: 66, paths: (inside) => join(inside, "no\u001b[31m\nsuch") });
    at("a missing name of 3,000 bytes", [], { code: 66, paths: () => "n".repeat(3000) });
    const deep = (inside) => join(inside, ...Array(14).fill("d".repeat(200)));
    at("a path of 3,000 bytes", [], { code: 0, paths: (inside) => join(deep(inside), "a") }, (inside) => {
        mkdirSync(deep(inside), { recursive: true });
        writeFileSync(join(deep(inside), "a"), dump);
    });
    at("one file many times", [{ file: "a", bytes: dump }], { paths: (inside) => Array(300).fill(join(inside, "a")) });
    withoutIntake(bench);
}

// "may be missing: then nothing is made of the statements, they are told only"
function withoutIntake(bench) {
    const { folder } = bench.catalogWith("bare-catalog", bench.catalog.intake);
    rmSync(join(folder, "intake.json"));
    const { inside } = bench.layOut("hostile", [{ file: "a", bytes: dump }]);
    const said = bench.run([...bench.words(inside, folder), "--json"]);
    const told = said.code === 0 ? JSON.parse(said.out) : {};
    bench.verdict("a catalog without intake.json", said.code === 0 && told.devices.length === 1
        && !told.pieces.some((piece) => piece.seen) && told.to_ask.length === 0 ? [] : [`ended with ${said.code}: ${said.errors}`]);
}

export function hostile(bench, first, count) {
    files(bench);
    crowds(bench);
    damaged(bench, first, count);
}
