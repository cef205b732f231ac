// A job all of whose texts are not its own: the scenario and a copy of the catalog with every text field marked and
// filled anew; ids, facts and numbers stay.
import { cpSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import path from "node:path";

// The names under which texts for people stand, in the catalog and in the scenario.
const textual = new Set(["note", "title", "why", "words", "name", "maker", "meaning", "source", "client", "bench", "evidence",
    "means", "caution", "danger", "habit", "limit", "goal", "unit", "shop", "do", "take", "fit", "lay", "fails", "wiping"]);
const textualLists = new Set(["promises", "free", "word", "notes", "assumed", "beware"]);
// Within these sentences {..} names a number: a text with braces is refused there.
const filled = new Set(["client", "bench", "evidence", "means", "take", "fit", "lay", "fails"]);
const filledAt = /^\.(steps|checks)\[\]\.(words|caution)$/;

export const mark = (number) => `Zq${number}a`;
const endMark = (number) => `q${number}Z`;
export const marked = /[Zz]q(\d+)a([\s\S]*?)q\1Z/g;

// Calls give(place, braces) for each text of a value and puts what it gives there.
function refill(value, place, give) {
    if (Array.isArray(value)) {
        const list = textualLists.has(place.split(".").at(-1));
        value.forEach((item, i) => {
            if (list && typeof item === "string") value[i] = give(`${place}[]`, true);
            else refill(item, `${place}[]`, give);
        });
    } else if (value && typeof value === "object") {
        for (const [name, item] of Object.entries(value))
            if (name === "is") continue; // an expression: its names are the program's
            else if (typeof item === "string" && textual.has(name) && !(name === "do" && place.includes("musts")) && !(name === "danger" && place.includes("dangers")))
                value[name] = give(`${place}.${name}`, !filled.has(name) && !filledAt.test(`${place}.${name}`));
            else if (!(name === "facts" && place.endsWith("parts[]"))) refill(item, `${place}.${name}`, give);
            else refill(item?.sites ?? [], `${place}.facts.sites`, give);
    }
}

const readJson = (file) => JSON.parse(readFileSync(file, "utf8"));

// good-enough with what it lacks: a must with its reason, a part that the client gives, and one in the machine
// that only the scenario knows.
function fuller(scenarios, catalog) {
    const scenario = readJson(path.join(scenarios, "good-enough.json"));
    const partsOf = (role) => readJson(path.join(catalog, `parts/${role}.json`)).parts;
    const known = partsOf("pointer").find(({ id }) => id === scenario.machine.pointer[0].part);
    scenario.machine.pointer[0] = { ...scenario.machine.pointer[0], part: "own-pointer", name: known.name, facts: known.facts };
    const headset = partsOf("headset").find(({ id }) => id === "merrowby-hall");
    scenario.given = [{ part: "own-headset", role: "headset", name: headset.name, facts: headset.facts, note: "given" }];
    scenario.musts = [{ id: "own-must", do: "memory-profile", why: "because" }];
    scenario.assumed = ["nobody said so", "nor that"];
    scenario.beware = ["it smokes", "plug out"];
    delete scenario.wishes.avoid;
    // Said again at the hand-over where it is ended.
    for (const complaint of scenario.complaints ?? []) complaint.words ??= "because";
    return scenario;
}

// A unit takes 64 bytes with its marks: as many letters as fit.
const UNIT_BYTES = 64 - 13;
export function fitting(place, text) {
    if (!place.endsWith(".unit")) return text;
    let bytes = 0;
    return [...text].filter((letter) => (bytes += Buffer.byteLength(letter)) <= UNIT_BYTES).join("");
}

// What was measured, of these checks: fair, poor and none in turn. Its notes are texts like all others.
export function writeMeasured(folder, left_out, checks, numbers, text) {
    const places = [];
    const give = (place) => {
        const number = numbers + places.push(`measured.json${place}`) - 1;
        return mark(number) + text(number, true) + endMark(number);
    };
    const value = ({ of, low, high, foretold }, i) => of === "done" ? { done: i % 4 !== 1 }
        : { value: Math.round(1000 * (i % 3 === 1 ? (low ?? high ?? 1) * 0.5 + 200 * (of === "most") : foretold ?? low ?? high ?? 1)) / 1000 };
    const list = checks.filter((_, i) => i % 5 !== 4).map((check, i) => ({ check: check.check, ...(check.use && { use: check.use }), ...value(check, i) }));
    writeFileSync(path.join(folder, "measured.json"), JSON.stringify({ schema: 1, job: "job", date: "2026-03-12", left_out, after: list,
        before: list.filter(({ value }) => value !== undefined).slice(0, 2), notes: [give(".notes[]"), give(".notes[]")] }));
    return places;
}

// Writes FOLDER/job.json and FOLDER/catalog; text(number, braces) says what the field of that number holds. Gives the places
// of the fields by number.
export function writeJob(root, folder, text) {
    const scenario = fuller(path.join(root, "scenarios"), path.join(root, "catalog"));
    const places = [];
    const give = (file) => (place, braces) => {
        const number = places.push(file + place) - 1;
        return mark(number) + fitting(place, text(number, braces)) + endMark(number);
    };
    mkdirSync(folder, { recursive: true });
    cpSync(path.join(root, "catalog"), path.join(folder, "catalog"), { recursive: true });
    const write = (name, value) => {
        refill(value, "", give(name));
        writeFileSync(path.join(folder, name), JSON.stringify(value));
    };
    scenario.catalog = "catalog";
    write("job.json", scenario);
    const files = readdirSync(path.join(folder, "catalog")).filter((name) => name.endsWith(".json")).map((name) => `catalog/${name}`)
        .concat(readdirSync(path.join(folder, "catalog/parts")).map((name) => `catalog/parts/${name}`));
    for (const name of files) {
        // What dumps say of a device has names of its own, and none of it comes to a page.
        if (name === "catalog/intake.json") continue;
        const value = readJson(path.join(folder, name));
        // So that what is said of wiping is said of something.
        if (name === "catalog/bench.json") value.files = value.mounts.map(({ role }) => role);
        write(name, value);
    }
    return places;
}
