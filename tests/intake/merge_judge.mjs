// One machine's answers against what the page makes of its dumps: a list of what is wrong.
import { readFileSync, readdirSync } from "node:fs";
import { join } from "node:path";

const read = (...path) => JSON.parse(readFileSync(join(...path), "utf8"));

export function readCatalog(folder) {
    const roles = read(folder, "roles.json").roles, parts = {};
    for (const role of roles) parts[role.role] = [];
    for (const file of readdirSync(join(folder, "parts")).filter((name) => name.endsWith(".json")))
        for (const part of read(folder, "parts", file).parts) parts[part.role].push(part);
    return { folder, roles, parts, intake: read(folder, "intake.json"),
        facts: Object.fromEntries(read(folder, "facts.json").facts.map((one) => [one.fact, one])),
        currency: read(folder, "sellers.json").currency };
}

const near = (a, b) => typeof a === "number" && typeof b === "number" ? Math.abs(a - b) < 0.00051 : a === b;
const shown = (value) => JSON.stringify(value);
const bag = (list) => list.map(shown).sort().join(" ");
const flat = (text) => text.replace(/\s+/g, " ");

const sortedFacts = (facts) => shown(Object.entries(facts).sort());

// All that holds of a piece: its facts, and what stands where it says nothing (section 3).
function full(catalog, role, facts) {
    const all = Object.values(catalog.facts).filter((fact) => fact.absent !== undefined && fact.roles.includes(role))
        .map((fact) => [fact.fact, fact.absent]);
    const counted = (value) => Array.isArray(value)
        ? value.map((one) => typeof one === "object" ? Object.entries({ count: 1, ...one }).sort() : one) : value;
    return shown(Object.entries({ ...Object.fromEntries(all), ...facts })
        .map(([fact, value]) => [fact, counted(value)]).sort());
}

// ---- devices -------------------------------------------------------------------------------------

function judgeDevices(wrong, json, expected) {
    const named = (device, key) => `${device} ${key}`.trim();
    const told = new Map(json.devices.map((one) => [named(one.device, one.key), one]));
    for (const device of expected.devices) {
        const name = named(device.kind, device.key), says = told.get(name)?.says;
        told.delete(name);
        if (says === undefined) {
            wrong(`device ${name} is not told`);
            continue;
        }
        if (Object.keys(says).sort().join() !== Object.keys(device.says).sort().join())
            wrong(`device ${name} says ${Object.keys(says).sort()}, not ${Object.keys(device.says).sort()}`);
        for (const [property, { counts, contradicts }] of Object.entries(device.says)) {
            const is = says[property];
            if (is === undefined) continue;
            if (!near(is.counts.value, counts.value) || is.counts.file !== counts.file)
                wrong(`${name} ${property}: ${shown(is.counts)} counts, not ${shown(counts.value)} of ${counts.file}`);
            const pairs = (list) => bag(list.map(({ value, file }) => [value, file]));
            if (pairs(is.contradicts) !== pairs(contradicts))
                wrong(`${name} ${property} contradicts: ${pairs(is.contradicts)}, not ${pairs(contradicts)}`);
        }
    }
    for (const name of told.keys()) wrong(`device ${name} is told, which no dump names`);
}

// ---- pieces --------------------------------------------------------------------------------------

// An entry as it is and as it is meant. A further piece of a catalog part states all facts of the part's,
// those that the catalog leaves to section 3 among them.
function entryOf(catalog, role, entry, musts, copies) {
    const facts = entry.facts ?? {};
    return shown([role, entry.part, entry.name, copies ? full(catalog, role, facts) : sortedFacts(facts), entry.condition ?? "good",
        entry.count ?? 1, musts.filter((must) => must.replace === entry.part).map((must) => must.why)]);
}

function expectedEntry(catalog, piece) {
    const copies = piece.written !== undefined;
    return shown([piece.role, piece.id, piece.id === piece.part ? undefined : piece.name,
        copies ? full(catalog, piece.role, piece.written) : sortedFacts(piece.facts), piece.condition ?? "good", piece.count,
        piece.health.filter((one) => one.must).map((one) => one.why)]);
}

function judgePieces(wrong, catalog, draft, json, expected) {
    const musts = draft.musts ?? [];
    const told = [], bare = [];
    for (const [role, entries] of Object.entries(draft.machine))
        for (const entry of entries) (entry.part.startsWith("unseen-") ? bare : told).push({ role, entry });
    for (const piece of expected.pieces) {
        const at = told.findIndex(({ role, entry }) => role === piece.role && entry.part === piece.id);
        if (at < 0) {
            wrong(`no entry ${expectedEntry(catalog, piece)}`);
            continue;
        }
        const { role, entry } = told[at];
        const is = entryOf(catalog, role, entry, musts, piece.written !== undefined), meant = expectedEntry(catalog, piece);
        if (is !== meant) wrong(`entry ${is}, not ${meant}`);
        judgeNote(wrong, piece, entry, json);
        told.splice(at, 1);
    }
    for (const { role, entry } of told) wrong(`entry that is not meant: ${role} ${shown(entry)}`);
    const mustsMeant = expected.pieces.reduce((sum, piece) => sum + piece.health.filter((one) => one.must).length, 0);
    if (musts.length !== mustsMeant || new Set(musts.map((must) => must.id)).size !== musts.length)
        wrong(`musts are ${shown(musts)}`);
    const meant = expected.unseen.map((role) => ({ part: `unseen-${role.role}`,
        name: `${role.name} (not looked at yet)`, count: role.least }));
    const unseen = bare.map(({ entry }) => ({ part: entry.part, name: entry.name, count: entry.count ?? 1 }));
    if (bag(meant) !== bag(unseen)) wrong(`unseen are ${bag(unseen)}, not ${bag(meant)}`);
    for (const { entry } of bare)
        if (Object.keys(entry.facts ?? {}).length > 0 || entry.condition !== undefined) wrong(`${entry.part} states something`);
}

// What is told as a doubt: contradictions with both values and where they stand, facts that could not
// be made or differ from the catalog's, names that mean several parts. Nothing else.
function judgeNote(wrong, piece, entry, json) {
    const note = entry.note ?? "", name = `${piece.role} ${entry.part}`;
    for (const { fact, file } of piece.sources)
        if (!note.includes(fact) || !note.includes(file)) wrong(`${name}: the note has not where ${fact} stands (${file})`);
    const is = json.pieces.find((one) => one.role === piece.role && one.part === entry.part);
    if (is === undefined || is.count !== piece.count || is.in_catalog !== (piece.part !== undefined) || is.seen !== true
        || bag(is.choices) !== bag(piece.choices) || (is.health ?? undefined) !== piece.health[0]?.why) {
        wrong(`${name}: told as ${shown(is)}`);
        return;
    }
    const used = new Set(); // what equal pieces share may be told once; a contradiction is of one of them
    for (const doubt of piece.doubts) {
        const words = doubt.says !== undefined ? [doubt.says] : doubt.fact !== undefined ? [doubt.fact]
            : doubt.choices !== undefined ? [`${doubt.choices.length} parts`]
            : [doubt.property, String(doubt.counts.value), doubt.counts.file, String(doubt.other.value), doubt.other.file];
        const yes = { true: "yes", false: "no" };
        const fits = (text) => words.every((word) => text.includes(yes[word] ?? word));
        const fresh = is.doubts.findIndex((text, place) => fits(text) && !used.has(place));
        const at = fresh < 0 && doubt.property === undefined ? is.doubts.findIndex(fits) : fresh;
        if (at < 0) wrong(`${name}: no doubt tells of ${words}`);
        else used.add(at);
        if (!fits(note)) wrong(`${name}: the note does not tell of ${words}`);
    }
    for (const text of is.doubts.filter((_, place) => !used.has(place))) wrong(`${name}: a doubt that is none: ${text}`);
}

// ---- the rest ------------------------------------------------------------------------------------

// Section 10 names no default of `round` and `per`: these are what the program writes out.
const taxed = (tax) => tax && Object.entries({ round: "half-up", per: "line", prices: "with", ...tax }).sort();

function judgeRest(wrong, catalog, draft, json, expected, truth) {
    const left = (list) => bag(list.map(({ device, key, why, health }) => [device, key ?? "", why, health?.why ?? health ?? null]));
    const mixed = json.mixed.filter((device) => !device.startsWith("display:"));
    if (bag(mixed) !== bag(expected.mixed)) wrong(`mixed are ${mixed}, not ${expected.mixed}`);
    if (left(json.left_out) !== left(expected.left)) wrong(`left out ${left(json.left_out)}, not ${left(expected.left)}`);
    for (const [where, list] of [["draft", draft.to_ask ?? []], ["JSON", json.to_ask]])
        if (shown(list.map(({ role, ask }) => ({ role, ask }))) !== shown(expected.toAsk))
            wrong(`to_ask of the ${where} is ${list.map((one) => one.role)}, not ${expected.toAsk.map((one) => one.role)}`);
    const files = json.files.map(({ file, kind, statements }) => [file, kind !== null, statements]);
    const meant = truth.dumps.map(({ file, statements }) => [file, true, statements.length]);
    if (shown(files) !== shown(meant)) wrong(`files are ${shown(files)}, not ${shown(meant)}`);
    if (json.faults.length > 0) wrong(`faults: ${shown(json.faults)}`);
    const head = [draft.schema, draft.title, draft.currency, draft.date, draft.labour, taxed(draft.tax),
        draft.wishes, draft.budget];
    const { labour, tax } = catalog.intake.begins ?? {};
    const asked = [1, `The machine looked over on ${truth.date}`, catalog.currency, truth.date, labour, taxed(tax), undefined, undefined];
    if (shown(head) !== shown(asked)) wrong(`the draft begins with ${shown(head)}, not ${shown(asked)}`);
}

function judgeReport(wrong, report, expected) {
    const text = flat(report);
    const tells = (what) => {
        if (!text.includes(flat(what))) wrong(`the report does not tell "${what}"`);
    };
    for (const one of expected.left) if (one.why !== null) tells(one.why);
    const told = [...expected.pieces.flatMap(({ health }) => health), ...expected.left.flatMap(({ health }) => health ?? [])];
    for (const health of told) {
        tells(health.why);
        if (health.do_first !== undefined) tells(health.do_first);
    }
    for (const { ask } of expected.toAsk) tells(ask);
    for (const device of expected.devices)
        for (const { contradicts } of Object.values(device.says))
            for (const other of contradicts) if (typeof other.value === "string") tells(other.value);
}

function judgePrivate(wrong, answers, truth) {
    const privates = truth.dumps.flatMap((dump) => dump.privates);
    const told = { draft: answers.draft, report: answers.report, JSON: answers.json, "standard error": answers.errors };
    for (const [where, text] of Object.entries(told))
        for (const { value } of privates)
            if (text.toLowerCase().includes(value.toLowerCase())) wrong(`the ${where} tells ${value}`);
    const card = JSON.parse(answers.card);
    const pairs = (list) => [...new Set(list.map(({ value, file }) => shown([value, file])))].sort().join(" ");
    if (card.schema !== 1 || pairs(card.private) !== pairs(privates))
        wrong(`the card has ${pairs(card.private)}, not ${pairs(privates)}`);
    for (const one of card.private)
        if (Object.keys(one).sort().join() !== "device,file,kind,value") wrong(`the card has ${shown(one)}`);
    if (answers.cardMode !== 0o600) wrong(`the card's mode is ${answers.cardMode?.toString(8)}`);
}

// answers: {code, draft, report, json, errors, card, cardMode, checked}; truth: {dumps, date}.
export function judge(catalog, answers, truth, expected) {
    const found = [], wrong = (what) => found.push(what);
    if (answers.code !== 0 || answers.errors !== "") wrong(`ended with ${answers.code}: ${answers.errors}`);
    let draft, json;
    try {
        draft = JSON.parse(answers.draft);
        json = JSON.parse(answers.json);
    } catch (error) {
        return [...found, `no JSON: ${error.message}`];
    }
    judgeDevices(wrong, json, expected);
    judgePieces(wrong, catalog, draft, json, expected);
    judgeRest(wrong, catalog, draft, json, expected, truth);
    judgeReport(wrong, answers.report, expected);
    judgePrivate(wrong, answers, truth);
    if (answers.checked.code !== 0) wrong(`check refuses the draft with wishes and a budget: ${answers.checked.errors}`);
    const missing = answers.bare.errors.match(/no "(wishes|budget)"/g) ?? [];
    if (answers.bare.code !== 65 || missing.length !== 2) wrong(`check of the bare draft says ${answers.bare.errors}`);
    return found;
}
