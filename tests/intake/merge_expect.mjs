// What FORMATS.md section 29 and a catalog's intake.json make of statements: written from that page
// alone. Numbers are whole thousandths, so that roundings are exact.

const lower = (text) => text.replace(/[A-Z]/g, (letter) => letter.toLowerCase());
const sameText = (a, b) => lower(a).replace(/[ \t]/g, "") === lower(b).replace(/[ \t]/g, "");
export const plainName = (text) => lower(text).replace(/[ -]/g, "");
const milli = (number) => BigInt(Math.round(number * 1000));

export class Unsure extends Error {} // the page leaves open which it is

// ---- conflicts -----------------------------------------------------------------------------------

function contradicts(intake, device, property, a, b) {
    if (typeof a === "string") return !sameText(a, b);
    if (typeof a === "boolean") return a !== b;
    const percent = intake.near.find((one) => one.device === device && one.property === property)?.percent ?? 0;
    const apart = milli(a) - milli(b), most = milli(percent) * milli(Math.abs(a)); // percent of the one that counts
    return (apart < 0n ? -apart : apart) * 100000n > most;
}

function rankOf(intake, device, property, reader) {
    const first = intake.first.find((one) => one.device === device && one.property === property)?.readers;
    const order = first === undefined ? intake.readers
        : [...first, ...intake.readers.filter((one) => !first.includes(one))];
    return order.indexOf(reader);
}

// statements: in the order of the files. Devices: {kind, key, says: {property: {counts, contradicts}}}.
export function settle(intake, statements) {
    const devices = new Map();
    for (const one of statements) {
        const name = JSON.stringify([one.device, one.key]);
        if (!devices.has(name)) devices.set(name, { kind: one.device, key: one.key, all: {} });
        (devices.get(name).all[one.property] ??= []).push(one);
    }
    for (const device of devices.values()) {
        device.says = {};
        for (const [property, all] of Object.entries(device.all)) {
            const rank = (one) => rankOf(intake, device.kind, property, one.reader);
            const sorted = [...all].sort((a, b) => rank(a) - rank(b)); // stable: the first file's of equals
            const others = sorted.filter((one) => contradicts(intake, device.kind, property, sorted[0].value, one.value));
            device.says[property] = { counts: sorted[0], contradicts: others };
        }
    }
    return [...devices.values()].sort((a, b) =>
        Buffer.compare(Buffer.from(a.kind), Buffer.from(b.kind)) || Buffer.compare(Buffer.from(a.key), Buffer.from(b.key)));
}

// ---- tests and facts -----------------------------------------------------------------------------

// `read`: the statements of a property that are looked at.
function holds(test, device, read) {
    if (test.not !== undefined) return !holds(test.not, device, read);
    if (test.key !== undefined) return device.key.startsWith(test.key);
    const values = (property) => read(device, property).map((one) => one.value);
    if (test.below !== undefined)
        return values(test.property).some((value) => values(test.of).some((of) => milli(value) * 1000n < milli(test.below) * milli(of)));
    return values(test.property).some((value) => test.stated === true
        || (test.least !== undefined ? value >= test.least : value === test.is));
}
const whatCounts = (device, property) => device.says[property] === undefined ? [] : [device.says[property].counts];
const whatIsSaid = (device, property) => device.all[property] ?? [];
const allHold = (tests, device, read = whatCounts) => (tests ?? []).every((test) => holds(test, device, read));

// "the first entry whose tests hold (of any statement, not only of those that count)"
const healthOf = (intake, device) =>
    intake.health.find((one) => one.device === device.kind && allHold(one.when, device, whatIsSaid));

// Devices that may be of two machines. One file is one display, whatever numbers it has.
function mixedOf(devices, privates) {
    const mixed = new Set(devices.filter(({ kind, says }) => kind === "board" && says.product?.contradicts.length > 0).map(({ kind }) => kind));
    const numbers = privates.filter(({ serialOf }) => serialOf !== undefined);
    for (const a of numbers)
        for (const b of numbers)
            if (a.serialOf === b.serialOf && !a.value.includes(b.value) && !b.value.includes(a.value)) mixed.add(a.serialOf);
    return [...mixed];
}

const power = (base, exponent) => base ** BigInt(exponent);

// The nearest whole multiple of 10^-decimals to the quotient or root, halves away from zero.
function rounded(values, per, decimals, how) {
    const places = BigInt(decimals);
    const over = per.map(milli).reduce((all, one) => all * one, 1n);
    let result;
    if (how === "diagonal") {
        // value = root(S) / 1000 / (over / 1000^n), S the sum of squares of thousandths
        const squares = values.map(milli).reduce((sum, one) => sum + one * one, 0n);
        const top = 4n * squares * power(10n, 2n * places) * power(1000n, 2 * per.length);
        const bottom = over * over * 1000000n;
        result = BigInt(Math.round(Math.sqrt(Number(top) / Number(bottom)) / 2));
        while ((2n * result + 1n) ** 2n * bottom <= top) result++;
        while (result > 0n && (2n * result - 1n) ** 2n * bottom > top) result--;
    } else {
        const top = values.map(milli).reduce((all, one) => all * one, 1n) * power(10n, places) * power(1000n, per.length);
        const bottom = over * power(1000n, values.length);
        result = (2n * top + bottom) / (2n * bottom); // all of them are positive
    }
    return Number(result) / 10 ** decimals;
}

// [value, statements] | undefined, with "wrong" where it is told why there is none.
function makeFact(form, fact, device, devices) {
    if (!allHold(form.when, device)) return undefined;
    if (form.value !== undefined) return { value: form.value, from: [] };
    let source = device;
    if (form.device !== undefined) {
        const all = devices.filter((one) => one.kind === form.device);
        if (all.length !== 1) return undefined;
        source = all[0];
    }
    const from = form.from.map((property) => source.says[property]?.counts);
    if (from.includes(undefined)) return undefined;
    if (fact.type === "token") {
        const value = (form.words ?? {})[from[0].value];
        return value === undefined ? { wrong: true, from } : { value, from };
    }
    if (fact.type === "flag") return { value: from[0].value, from };
    const value = rounded(from.map((one) => one.value), form.per ?? [], form.decimals ?? 3, form.how);
    return value < fact.least || value > fact.most ? { wrong: true, from } : { value, from };
}

// ---- pieces --------------------------------------------------------------------------------------

// "which is left out where the name begins with that word, ASCII case aside": whether a hyphen ends a
// word the page does not say.
function beginsWith(name, word) {
    const behind = name.slice(word.length);
    if (!lower(name).startsWith(lower(word))) return false;
    if (/^[^A-Za-z0-9 ]/.test(behind)) throw new Unsure(`does ${name} begin with the word ${word}?`);
    return !/^[A-Za-z0-9]/.test(behind);
}

function find(catalog, form, device) {
    const maker = form.maker === undefined ? undefined : device.says[form.maker]?.counts.value;
    const texts = form.names.map((property) => device.says[property]?.counts.value).filter((one) => one !== undefined);
    let parts = [];
    for (const text of texts) {
        if (parts.length > 0) break;
        const forms = (maker === undefined ? [text] : [text, maker + text]).map(plainName);
        parts = catalog.parts[form.role].filter((part) => part.id === text || forms.includes(plainName(part.name))
            || (part.numbers ?? []).some((one) => plainName(one) === plainName(text)));
    }
    const behind = texts[0] ?? "", role = catalog.roles.find((one) => one.role === form.role).name;
    if (parts.length === 1) return { parts, named: true };
    const own = texts.length === 0 ? `${role} ${device.key} (seen, not named)`
        : maker === undefined || beginsWith(behind, maker) ? behind : `${maker} ${behind}`;
    return { parts, own, named: texts.length > 0 };
}

function makePiece(catalog, form, device, devices) {
    const { parts, own, named } = find(catalog, form, device);
    const part = parts.length === 1 ? parts[0] : undefined;
    const piece = { role: form.role, named, part: part?.id, name: part?.name ?? own, devices: [device], facts: {},
        choices: parts.length > 1 ? parts.map((one) => one.id) : [], kind: {}, sources: [], count: 1,
        doubts: Object.entries(device.says).flatMap(([property, { counts, contradicts: others }]) =>
            others.map((other) => ({ property, counts, other }))) };
    const stated = new Set();
    for (const one of form.facts) {
        const fact = catalog.facts[one.fact];
        if (stated.has(one.fact)) continue;
        const made = makeFact(one, fact, device, devices);
        if (made === undefined) continue;
        stated.add(one.fact);
        if (made.wrong) {
            piece.doubts.push({ fact: one.fact });
        } else if (part !== undefined && !one.of_piece) {
            const has = part.facts[one.fact] ?? fact.absent; // section 3: what then stands
            if (has !== undefined && has !== made.value) piece.doubts.push({ fact: one.fact });
        } else {
            piece.facts[one.fact] = made.value;
            piece.sources.push(...made.from.map((from) => ({ fact: one.fact, file: from.file })));
        }
    }
    if (piece.choices.length > 0) piece.doubts.push({ choices: piece.choices });
    for (const one of catalog.intake.doubts ?? [])
        if (one.device === device.kind && allHold(one.when, device)) piece.doubts.push({ says: one.says });
    const health = healthOf(catalog.intake, device);
    piece.condition = health?.condition;
    piece.health = health === undefined ? [] : [health];
    return piece;
}

// Ids, in the order of the devices: the first of a catalog part has the part's, all else its own.
function nameThem(catalog, pieces) {
    const taken = new Set(), numbers = {};
    for (const piece of pieces) {
        if (piece.part !== undefined && !taken.has(piece.part)) {
            taken.add(piece.id = piece.part);
            continue;
        }
        const number = numbers[piece.role] = (numbers[piece.role] ?? 0) + 1;
        piece.id = `seen-${piece.role}${number > 1 ? `-${number}` : ""}`;
        if (piece.part !== undefined) {
            const part = catalog.parts[piece.role].find((one) => one.id === piece.part);
            piece.written = { ...part.facts, ...piece.facts };
        }
    }
}

const sorted = (facts) => JSON.stringify(Object.entries(facts).sort());

export function expect(catalog, statements, privates) {
    const { intake } = catalog, devices = settle(intake, statements), pieces = [], left = [];
    for (const device of devices) {
        const out = intake.left_out.find((one) => one.device === device.kind && allHold(one.when, device));
        const form = intake.pieces.find((one) => one.device === device.kind && allHold(one.when, device));
        if (out !== undefined || form === undefined) {
            left.push({ device: device.kind, key: device.key, why: out?.why ?? null, health: healthOf(intake, device) });
            continue;
        }
        const piece = makePiece(catalog, form, device, devices);
        const same = pieces.find((one) => one.role === piece.role && one.part === piece.part && one.name === piece.name
            && one.health[0] === piece.health[0] && sorted(one.facts) === sorted(piece.facts));
        if (same === undefined) {
            pieces.push(piece);
            continue;
        }
        same.count++;
        same.devices.push(device);
        same.doubts.push(...piece.doubts);
    }
    nameThem(catalog, pieces);
    const seen = new Set(pieces.map((piece) => piece.role));
    return {
        devices, pieces, left, mixed: mixedOf(devices, privates),
        unseen: catalog.roles.filter((role) => (role.least ?? 0) > 0 && !seen.has(role.role)),
        toAsk: intake.questions.filter((one) => one.unseen
            ? !seen.has(one.role) || pieces.some((piece) => piece.role === one.role && !piece.named) : seen.has(one.role))
            .map(({ role, ask }) => ({ role, ask })),
    };
}
