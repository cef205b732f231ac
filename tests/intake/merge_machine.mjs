// Invented machines, drawn from a seed, and the set of dumps that tells of one: consistently, or with
// contradictions planted in single dumps. Pieces are parts of the shipped catalog or not.
import { Sheet, dmidecode, edid, lscpu, lshw, lsblk, lspci, nvme, sensors, smartctl } from "./merge_dumps.mjs";

export function dice(seed) { // mulberry32, public domain
    let state = seed | 0;
    const uniform = () => {
        state = (state + 0x6d2b79f5) | 0;
        let t = Math.imul(state ^ (state >>> 15), 1 | state);
        t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
        return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
    };
    const whole = (from, to) => from + Math.floor(uniform() * (to - from + 1));
    return { uniform, whole, chance: (share) => uniform() < share, pick: (list) => list[whole(0, list.length - 1)] };
}

// Parts beside the shipped ones: names that two share, and names short enough for an EDID.
export function plantParts(parts) {
    const planted = [];
    const plant = (role, names) => names.forEach((name, number) => {
        const facts = parts[role][0].facts;
        planted.push({ id: `planted-${role}-${number}`, role, name, maker: name.split(/[ -]/)[0],
            numbers: [`FN-${role.slice(0, 3).toUpperCase()} ${number}7X`], facts });
    });
    plant("drives", ["Ferncote 512", "FERNCOTE-512", "Ferncote 90"]);
    plant("memory", ["Ferncote Row 8", "Ferncote-Row8"]);
    plant("processor", ["Ferncote T-5", "Ferncote T5"]);
    plant("graphics", ["Ferncote 7"]);
    plant("board", ["Ferncote  Bank 1", "ferncote bank-1"]);
    plant("display", ["Ferncote 24", "Ferncote 27", "FERNCOTE-27"]);
    return planted;
}

const MAKERS = ["Quernmoor", "Ostlethwaite", "Vennigarth", "Plumbridge", "Ashlarby"];
const LINES = ["Kestrel", "Tarn", "Wold", "Fell", "Gable"];

// Names of the catalog as firmware might spell them, and names that are not there.
function spelt(d, name) {
    switch (d.whole(0, 5)) {
    case 0: return name.toUpperCase();
    case 1: return name.toLowerCase().replaceAll(" ", "-");
    case 2: return name.replaceAll(" ", "");
    case 3: return name.replaceAll(" ", "  ").replaceAll("-", " - ");
    default: return name;
    }
}

// A maker and a name; of a part of the catalog, its name alone or without the maker that it begins with.
function named(d, parts) {
    if (!d.chance(0.6))
        return { maker: d.pick(MAKERS), name: `${d.pick(LINES)} ${d.whole(100, 999)}${d.pick(["", "X", "-b"])}` };
    const planted = parts.filter((one) => one.planted);
    const part = d.pick(d.chance(0.15) && planted.length > 0 ? planted : parts);
    const behind = part.name.slice(part.maker.length + 1);
    if (part.planted && d.chance(0.3)) return { maker: d.pick(MAKERS), name: spelt(d, part.numbers[0]), part };
    if (d.chance(0.05)) return { maker: undefined, name: part.id, part };
    if (d.chance(0.4)) return { maker: spelt(d, part.maker), name: spelt(d, behind), part };
    if (d.chance(0.2)) return { maker: undefined, name: behind, part }; // without its maker it is no name
    return { maker: d.chance(0.5) ? d.pick(MAKERS) : part.maker, name: spelt(d, part.name), part };
}

const secret = (d, share = 0.7) => d.chance(share) ? `PRV${d.whole(1e8, 2e9).toString(36).toUpperCase()}Q` : undefined;
const unknown = (d, value, share = 0.07) =>
    d.chance(share) ? d.pick(["Unknown", "Not Specified", "To be filled by O.E.M."]) : value;
const uuid = (d) => [8, 4, 4, 4, 12].map((length) =>
    Array.from({ length }, () => d.pick([..."0123456789abcdef"])).join("")).join("-");

function memory(d, catalog) {
    const modules = [];
    const kinds = Array.from({ length: d.whole(1, 2) }, () => {
        const { maker, name, part } = named(d, catalog.parts.memory);
        const told = part !== undefined && d.chance(0.8) ? part.facts : undefined;
        const rated = told?.rated_mt_s ?? d.pick([2400, 2666, 3200, 4800, 5600]);
        return { maker: unknown(d, maker, 0.04), part_number: name, form: "DIMM",
            type: told?.memory_type ?? d.pick(["DDR3", "DDR4", "DDR4", "DDR5", "DDR2"]),
            size_mb: 1024 * (told?.module_gb ?? d.pick([1.5, 2, 4, 8, 16, 32])), rated_mt_s: rated,
            configured_mt_s: d.pick([rated, rated, 2133, 400, undefined]) };
    });
    const slots = d.whole(1, 6);
    for (let slot = 0; slot < slots; slot++) {
        const locator = `DIMM ${"AB"[slot % 2]}${slot >> 1}`;
        if (d.chance(0.25)) modules.push({ locator, size_mb: 0, form: "DIMM" });
        else {
            const one = { locator, ...d.pick(kinds), serial: secret(d), asset: secret(d, 0.2) };
            if (d.chance(0.04)) one.size_mb = undefined;
            modules.push(one);
        }
    }
    return modules;
}

function drives(d, catalog) {
    const list = [], letters = [..."abcdefgh"];
    let numbers = 0;
    const kinds = Array.from({ length: d.whole(1, 3) }, () => {
        const { name, part } = named(d, catalog.parts.drives);
        const told = part !== undefined && d.chance(0.8) ? part.facts : undefined;
        const flash = told === undefined ? d.chance(0.6) : told.drive_kind === "flash";
        return { model: d.chance(0.05) ? undefined : name, rotational: !flash, isNvme: flash && d.chance(0.5),
            size_bytes: 512 * Math.round((told?.space_gb ?? d.pick([120, 250, 500, 1000, 2000, 24000])) * 1e9 / 512) };
    });
    for (let n = d.whole(0, 4); n > 0; n--) {
        const { isNvme, ...kind } = d.pick(kinds);
        const worn = d.chance(0.3), hours = d.chance(0.4) ? 1200 : d.whole(0, 60000);
        list.push({ key: isNvme ? `nvme${numbers++}n1` : `sd${letters.shift()}`, ...kind,
            transport: isNvme ? "nvme" : "sata", healthy: !d.chance(0.1), hours_on: hours,
            wear_percent: worn ? d.whole(88, 110) : d.pick([0, 0, 12]), media_errors: d.chance(0.3) ? 3 : 0,
            reallocated_sectors: d.chance(0.1) ? d.whole(1, 40) : 0, pending_sectors: d.chance(0.1) ? 8 : 0,
            link_errors: d.pick([0, 0, undefined, 7]), temperature_c: d.whole(30, 45), serial: secret(d),
            wwn: secret(d, 0.4), ...(d.chance(0.4) ? { user: secret(d, 1).toLowerCase(),
                ...(d.chance(0.5) ? { uuid: uuid(d), label: secret(d, 1) } : {}) } : {}) });
    }
    if (d.chance(0.4))
        list.push({ key: `sd${letters.shift()}`, model: "Stick Twelve", rotational: true, transport: "usb",
            size_bytes: 31457280000, healthy: d.chance(0.7), hours_on: 5, temperature_c: 30, serial: secret(d) });
    if (d.chance(0.2))
        list.push({ key: `sd${letters.shift()}`, model: "Card Reader", rotational: false, transport: "sata",
            size_bytes: 0, noHealth: true });
    return list;
}

function cards(d, catalog) {
    const list = [{ kind: "network", key: "02:00.0", maker: "Vennigarth", name: "Gigabit 9", maker_id: "f101",
        device_id: "00a1", mac: `02:00:5e:${d.whole(16, 99)}:${d.whole(16, 99)}:${d.whole(16, 99)}` }];
    const graphics = (key) => {
        const { maker, name } = named(d, catalog.parts.graphics);
        return { kind: "graphics", key, maker: maker ?? d.pick(MAKERS), name: name.replaceAll("  ", " "), maker_id: "f102",
            device_id: `0${d.whole(100, 999)}` };
    };
    if (d.chance(0.5)) list.push(graphics("00:02.0"));
    if (d.chance(0.6)) list.push(graphics("01:00.0"));
    if (d.chance(0.1)) list.push(graphics("03:00.0"));
    if (d.chance(0.4)) list.push({ ...list[0], kind: "sound", key: "00:1f.3", name: "Sound 3", mac: undefined });
    if (d.chance(0.4)) list.push({ ...list[0], kind: "storage-port", key: "00:17.0", name: "Ports 6", mac: undefined });
    return list;
}

function displays(d, catalog) {
    return Array.from({ length: d.pick([0, 1, 1, 2]) }, (_, number) => {
        const { name, part } = named(d, catalog.parts.display.filter((one) => one.name.length <= 13));
        const [width_px, height_px, width_mm, height_mm] = d.pick([[1920, 1080, 527, 296], [2560, 1440, 597, 336],
            [1050, 1350, 420, 540], [3840, 2160, 608, 345], [1366, 768, 410, 230]]);
        const total = (width_px + 160) * (height_px + 40);
        const rates = part === undefined ? [60] : [60, Math.min(part.facts.top_refresh_hz, 75)];
        return { file: `${"zy"[number]}-display.bin`, maker_id: d.pick(["QRN", "PLB"]), product_code: d.whole(1, 60000),
            serial: d.whole(1000000000, 2000000000), serialText: secret(d, 0.5), name: name.slice(0, 13).trim(),
            width_px, height_px, width_mm, height_mm, year: d.whole(2015, 2026),
            timings: rates.map((hz) => ({ clock: Math.min(65535, Math.round(total * hz / 10000)), across: 160, down: 40 })) };
    });
}

export function drawMachine(d, catalog) {
    const machine = { modules: [], arrays: [], processors: [], cards: [], drives: [], displays: [], sensors: [] };
    const processor = named(d, catalog.parts.processor), board = named(d, catalog.parts.board);
    const cores = d.pick([4, 6, 8, 12]), mhz = d.whole(3000, 5200);
    machine.host = secret(d, 0.5);
    machine.firmware = { maker: d.pick(MAKERS), version: `F.${d.whole(1, 40)}`, date: "04/11/2021" };
    machine.system = { maker: unknown(d, d.pick(MAKERS)), product: unknown(d, "Tower 9"), version: unknown(d, "rev 2"),
        serial: secret(d), uuid: d.chance(0.6) ? uuid(d) : undefined };
    machine.board = { maker: unknown(d, board.maker), product: unknown(d, board.name), version: "A.1",
        serial: secret(d), asset: secret(d, 0.3) };
    machine.chassis = { maker: d.pick(MAKERS), form: d.pick(["Desktop", "Tower"]), serial: secret(d, 0.4), asset: secret(d, 0.3) };
    machine.processors.push({ name: processor.name, maker: processor.maker, socket: "SOCKET 0", cores,
        threads: cores * d.pick([1, 2]), max_mhz: mhz, current_mhz: Math.round(mhz * 0.8),
        serial: secret(d, 0.3), asset: secret(d, 0.2) });
    if (d.chance(0.2)) machine.processors.push({ socket: "SOCKET 1", populated: false });
    machine.modules = memory(d, catalog);
    for (let n = d.chance(0.1) ? 2 : 1; n > 0; n--)
        machine.arrays.push({ slots: d.chance(0.1) ? 12 : machine.modules.length, most_gb: d.pick([2, 32, 64, 128]) });
    machine.cards = cards(d, catalog);
    machine.drives = drives(d, catalog);
    machine.displays = displays(d, catalog);
    if (d.chance(0.5)) machine.sensors.push({ chip: "exsio-isa-0290", label: "Board", temperature_c: d.whole(250, 400) / 10 });
    return machine;
}

// ---- contradictions ------------------------------------------------------------------------------

const text = (d, value) => d.pick([value.toUpperCase(), value.replaceAll(" ", "  "), value.replaceAll(" ", ""),
    `${value} Two`, d.pick(LINES)]);
const number = (d, value, shares) => Math.round(value * (1 + d.pick(shares)));

// The machine as one dump tells it: now and then something is other, or spelt otherwise.
function seenBy(d, machine, share) {
    const view = structuredClone(machine);
    const change = (of, property, to) => {
        if (of !== undefined && of[property] !== undefined && d.chance(share)) of[property] = to(of[property]);
    };
    const others = [view.board, view.system, ...view.modules, ...view.drives];
    for (const of of others) if (d.chance(0.3)) change(of, "serial", (value) => d.pick([value.slice(0, -1), `W-${value}`, secret(d, 1)]));
    for (const of of [view.board, view.system])
        for (const property of ["maker", "product", "version"]) change(of, property, (value) => text(d, value));
    for (const is of view.processors.filter((one) => one.name !== undefined)) {
        change(is, "name", (value) => text(d, value));
        change(is, "maker", (value) => text(d, value));
        change(is, "max_mhz", (value) => number(d, value, [0.004, -0.005, 0.01, 0.03, -0.2]));
        change(is, "current_mhz", (value) => number(d, value, [0.3, -0.3]));
        change(is, "threads", () => is.cores * d.pick([1, 2]));
    }
    for (const is of view.modules.filter((one) => one.size_mb > 0)) {
        change(is, "part_number", (value) => text(d, value));
        change(is, "maker", (value) => text(d, value));
        change(is, "size_mb", (value) => d.pick([2 * value, value]));
        change(is, "rated_mt_s", (value) => value + d.pick([1, 400]));
        change(is, "form", () => "SODIMM");
    }
    for (const is of view.drives.filter((one) => one.size_bytes > 0)) {
        change(is, "model", (value) => text(d, value));
        change(is, "size_bytes", (value) => 512 * number(d, value / 512, [0.0005, 0.001, -0.001, 0.002, -0.3]));
        change(is, "temperature_c", (value) => number(d, value, [0.1, -0.1]));
        change(is, "hours_on", (value) => number(d, value, [0.004, 0.05]));
        change(is, "rotational", (value) => !value);
        change(is, "wear_percent", (value) => value + d.pick([0, 1, 95]));
        change(is, "healthy", (value) => !value);
    }
    for (const is of view.cards) change(is, "name", (value) => `${value} Two`);
    return view;
}

// [{file, reader, bytes, statements, privates}], in byte order of the names.
export function drawDumps(d, machine) {
    const dumps = [], share = d.chance(0.4) ? 0 : 0.12;
    const add = (file, reader, write, ...more) => {
        const sheet = new Sheet(file, reader);
        const bytes = write(sheet, ...more);
        dumps.push({ file, reader, bytes, statements: sheet.statements, privates: sheet.privates });
    };
    const view = () => seenBy(d, machine, share);
    if (d.chance(0.85)) add("table.txt", "dmidecode", dmidecode, view());
    if (d.chance(0.15)) add("again.txt", "dmidecode", dmidecode, view());
    if (d.chance(0.7)) add("cpu.json", "lscpu", lscpu, view());
    if (d.chance(0.6)) add("tree.json", "lshw", lshw, view());
    if (d.chance(0.8) && machine.drives.length > 0) add("blocks.json", "lsblk", lsblk, view(), { whole: d.chance(0.6) });
    if (d.chance(0.7)) add("cards.txt", "lspci", lspci, view(), { numbers: d.chance(0.7) });
    if (d.chance(0.5) && machine.drives.some((is) => is.key.startsWith("nvme"))) add("flash.json", "nvme", nvme, view());
    if (machine.sensors.length > 0) add("heat.json", "sensors", sensors, machine);
    for (const is of view().drives)
        if (is.noHealth === undefined && d.chance(0.6)) {
            add(`health-${is.key}.json`, "smartctl", smartctl, is);
            if (d.chance(0.25)) // read again later
                add(`later-${is.key}.json`, "smartctl", smartctl, { ...is, hours_on: number(d, is.hours_on, [0.003, 0.05]),
                    healthy: d.chance(0.6) && is.healthy, pending_sectors: d.pick([is.pending_sectors, 24]),
                    wear_percent: d.pick([is.wear_percent, 95]) });
        }
    for (const is of machine.displays) add(is.file, "edid", edid, is);
    return dumps.sort((a, b) => Buffer.compare(Buffer.from(a.file), Buffer.from(b.file)));
}
