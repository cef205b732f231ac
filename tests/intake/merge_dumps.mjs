// Writes the dumps of an invented machine, each with the statements that FORMATS.md section 29 makes
// of it and what of it is private. The tools' forms are those of the samples in data/.

export class Sheet { // one dump under way
    constructor(file, reader) {
        this.file = file;
        this.reader = reader;
        this.statements = [];
        this.privates = [];
    }
    state(device, key, properties) {
        for (const [property, value] of Object.entries(properties))
            if (value !== undefined && !notKnown(value))
                this.statements.push({ device, key, property, file: this.file, reader: this.reader,
                    value: typeof value === "string" ? value.trim() : value });
    }
    serial(device, key, value) {
        if (value !== undefined) this.privates.push({ value, file: this.file, serialOf: key === "" ? device : `${device}:${key}` });
    }
    hide(...values) {
        for (const value of values) if (value !== undefined) this.privates.push({ value, file: this.file });
    }
}

const notKnown = (value) => typeof value === "string"
    && /^(unknown|not specified|to be filled by o\.e\.m\.)$/i.test(value.trim());

// ---- dmidecode -----------------------------------------------------------------------------------

export function dmidecode(sheet, machine) {
    const lines = ["# dmidecode 3.4", "Getting SMBIOS data from sysfs.", "SMBIOS 3.2.0 present.", ""];
    let handle = 0;
    const structure = (type, title, fields) => {
        const number = (handle++).toString(16).toUpperCase().padStart(4, "0");
        lines.push(`Handle 0x${number}, DMI type ${type}, 40 bytes`, title);
        for (const [name, value] of fields) if (value !== undefined) lines.push(`\t${name}: ${value}`);
        lines.push("");
    };
    const { firmware, system, board, chassis, arrays } = machine;
    if (firmware) {
        structure(0, "BIOS Information", [["Vendor", firmware.maker], ["Version", firmware.version],
            ["Release Date", firmware.date]]);
        sheet.state("firmware", "", firmware);
    }
    if (system) {
        structure(1, "System Information", [["Manufacturer", system.maker], ["Product Name", system.product],
            ["Version", system.version], ["Serial Number", system.serial], ["UUID", system.uuid]]);
        const { maker, product, version } = system;
        sheet.state("system", "", { maker, product, version });
        sheet.serial("system", "", system.serial);
        sheet.hide(system.uuid);
    }
    if (board) {
        structure(2, "Base Board Information", [["Manufacturer", board.maker], ["Product Name", board.product],
            ["Version", board.version], ["Serial Number", board.serial], ["Asset Tag", board.asset],
            ["Type", "Motherboard"]]);
        const { maker, product, version } = board;
        sheet.state("board", "", { maker, product, version });
        sheet.serial("board", "", board.serial);
        sheet.hide(board.asset);
    }
    if (chassis) {
        structure(3, "Chassis Information", [["Manufacturer", chassis.maker], ["Type", chassis.form],
            ["Serial Number", chassis.serial], ["Asset Tag", chassis.asset]]);
        sheet.state("chassis", "", { maker: chassis.maker, form: chassis.form });
        sheet.serial("chassis", "", chassis.serial);
        sheet.hide(chassis.asset);
    }
    machine.processors.forEach((is, number) => {
        const full = is.populated !== false;
        structure(4, "Processor Information", [["Socket Designation", is.socket], ["Type", "Central Processor"],
            ["Manufacturer", full ? is.maker : undefined], ["Version", full ? is.name : undefined],
            ["Max Speed", full ? `${is.max_mhz} MHz` : undefined],
            ["Current Speed", full ? `${is.current_mhz} MHz` : undefined],
            ["Status", full ? "Populated, Enabled" : "Unpopulated"],
            ["Core Count", full ? is.cores : undefined], ["Thread Count", full ? is.threads : undefined],
            ["Serial Number", full ? is.serial : undefined], ["Asset Tag", full ? is.asset : undefined]]);
        if (full) sheet.serial("processor", String(number), is.serial);
        if (full) sheet.hide(is.asset);
        const { socket, maker, name, max_mhz, current_mhz, cores, threads } = is;
        sheet.state("processor", String(number), full
            ? { socket, maker, name, max_mhz, current_mhz, cores, threads, populated: true }
            : { socket, populated: false });
    });
    arrays.forEach((is, number) => {
        structure(16, "Physical Memory Array", [["Location", "System Board Or Motherboard"],
            ["Use", "System Memory"], ["Maximum Capacity", `${is.most_gb} GB`], ["Number Of Devices", is.slots]]);
        sheet.state("memory-array", String(number), is);
    });
    for (const is of machine.modules) {
        const size = is.size_mb === undefined ? "Unknown" : is.size_mb === 0 ? "No Module Installed"
            : is.size_mb % 1024 === 0 && is.size_mb % 2048 !== 0 ? `${is.size_mb / 1024} GB` : `${is.size_mb} MB`;
        const rate = (mt) => mt === undefined ? "Unknown" : `${mt} MT/s`;
        const full = is.size_mb !== 0;
        structure(17, "Memory Device", [["Size", size], ["Form Factor", is.form], ["Locator", is.locator],
            ["Bank Locator", "Not Specified"], ["Type", full ? is.type : "Unknown"],
            ["Speed", rate(full ? is.rated_mt_s : undefined)],
            ["Manufacturer", full ? is.maker : "Unknown"], ["Serial Number", full ? is.serial : "Unknown"],
            ["Asset Tag", full ? is.asset : undefined], ["Part Number", full ? is.part_number : "Unknown"],
            ["Configured Memory Speed", rate(full ? is.configured_mt_s : undefined)]]);
        const { size_mb, form, type, rated_mt_s, configured_mt_s, maker, part_number } = is;
        sheet.state("memory-module", is.locator, full
            ? { size_mb, form, type, rated_mt_s, configured_mt_s, maker, part_number } : { size_mb, form });
        if (full) sheet.serial("memory-module", is.locator, is.serial);
        if (full) sheet.hide(is.asset);
    }
    return lines.join("\n") + "\n";
}

// ---- what the kernel's tools print ---------------------------------------------------------------

export function lscpu(sheet, machine) {
    const is = machine.processors[0];
    const fields = [["Architecture:", "x86_64"], ["CPU(s):", String(is.threads)], ["Vendor ID:", is.maker],
        ["Model name:", is.name], ["Thread(s) per core:", String(is.threads / is.cores)],
        ["Core(s) per socket:", String(is.cores)], ["Socket(s):", "1"],
        ["CPU max MHz:", is.max_mhz.toFixed(4)]];
    const { name, maker, cores, threads, max_mhz } = is;
    sheet.state("processor", "0", { name, maker, cores, threads, max_mhz });
    return JSON.stringify({ lscpu: fields.map(([field, data]) => ({ field, data })) }, null, 3);
}

const POWERS = { T: 1024 ** 4, G: 1024 ** 3, M: 1024 ** 2, K: 1024 };

function short(bytes) { // lsblk without -b: one decimal of a power of 1024
    for (const [letter, power] of Object.entries(POWERS))
        if (bytes >= power) {
            const tenths = Math.round(bytes / power * 10);
            return { text: `${tenths % 10 ? (tenths / 10).toFixed(1) : tenths / 10}${letter}`,
                bytes: Math.round(tenths * power / 10) };
        }
    return { text: `${bytes}B`, bytes };
}

// An empty reader has no size: 0 bytes are no statement.
export function lsblk(sheet, machine, { whole = true } = {}) {
    const blockdevices = machine.drives.map((is) => {
        const told = whole ? { text: is.size_bytes, bytes: is.size_bytes } : short(is.size_bytes);
        const rotational = is.transport === "usb" && is.rotational ? undefined : is.rotational;
        const size = whole ? "size_bytes" : "rounded_bytes";
        sheet.state("drive", is.key, { model: is.model, [size]: told.bytes || undefined,
            transport: is.transport, rotational });
        sheet.serial("drive", is.key, is.serial);
        sheet.hide(is.user, is.wwn, is.uuid, is.label);
        return { wwn: is.wwn, name: is.key, type: "disk", size: told.text, rota: is.rotational, tran: is.transport ?? null,
            model: is.model === undefined ? null : is.model.padEnd(24), serial: is.serial ?? null,
            children: is.user === undefined ? undefined : [{ name: `${is.key}${is.key.startsWith("nvme") ? "p1" : "1"}`,
                type: "part", size: told.text, uuid: is.uuid, label: is.label,
                mountpoint: `${is.uuid === undefined ? "/home" : "/run/media"}/${is.user}/Things` }] };
    });
    return JSON.stringify({ blockdevices }, null, 3);
}

const CLASSES = { graphics: ["VGA compatible controller", "0300"], sound: ["Audio device", "0403"],
    network: ["Ethernet controller", "0200"], "storage-port": ["SATA controller", "0106"] };

export function lspci(sheet, machine, { numbers = true } = {}) {
    return machine.cards.map((is) => {
        const [words, number] = CLASSES[is.kind];
        const with_ = (text, id) => numbers ? `"${text} [${id}]"` : `"${text}"`;
        const { maker, name, maker_id, device_id } = is;
        sheet.state(is.kind, is.key, numbers ? { maker, name, maker_id, device_id } : { maker, name });
        return `${is.key} ${with_(words, number)} ${with_(maker, maker_id)} ${with_(name, device_id)} -p00 `
            + `${with_("Example Maker", "fff0")} ${with_("Device", "0000")}\n`;
    }).join("");
}

// ---- lshw ----------------------------------------------------------------------------------------

export function lshw(sheet, machine) {
    const { system, board, firmware } = machine, core = { id: "core", class: "bus", claimed: true, children: [] };
    const root = { id: machine.host ?? "_none_", class: "system", claimed: true, children: [core] };
    sheet.hide(machine.host);
    if (system) {
        Object.assign(root, { product: system.product, vendor: system.maker, version: system.version,
            serial: system.serial, configuration: { uuid: system.uuid } });
        const { maker, product, version } = system;
        sheet.state("system", "", { maker, product, version });
        sheet.serial("system", "", system.serial);
        sheet.hide(system.uuid);
    }
    if (board) {
        Object.assign(core, { description: "Motherboard", product: board.product, vendor: board.maker,
            version: board.version, serial: board.serial });
        const { maker, product, version } = board;
        sheet.state("board", "", { maker, product, version });
        sheet.serial("board", "", board.serial);
    }
    if (firmware) {
        core.children.push({ id: "firmware", class: "memory", description: "BIOS", vendor: firmware.maker,
            version: firmware.version, date: firmware.date });
        sheet.state("firmware", "", firmware);
    }
    machine.processors.forEach((is, number) => {
        const full = is.populated !== false;
        core.children.push({ id: `cpu:${number}`, class: "processor", description: full ? "CPU" : "CPU [empty]",
            ...(full ? { product: is.name, vendor: is.maker, size: is.current_mhz * 1e6, capacity: is.max_mhz * 1e6,
                configuration: { cores: String(is.cores), threads: String(is.threads) } } : {}),
            slot: is.socket, units: "Hz" });
        const { socket, maker, name, max_mhz, current_mhz, cores, threads } = is;
        sheet.state("processor", String(number), full
            ? { socket, maker, name, max_mhz, current_mhz, cores, threads } : { socket, populated: false });
    });
    if (machine.arrays.length === 1 && machine.modules.length > 0) {
        core.children.push({ id: "memory", class: "memory", description: "System Memory", units: "bytes",
            capacity: machine.arrays[0].most_gb * 1024 ** 3,
            children: machine.modules.map((is, number) => bank(sheet, is, number)) });
        sheet.state("memory-array", "0", { most_gb: machine.arrays[0].most_gb, slots: machine.modules.length });
    }
    const pci = { id: "pci", class: "bridge", businfo: "pci@0000:00:00.0", children: [] };
    core.children.push(pci);
    const classes = { graphics: "display", sound: "multimedia", network: "network", "storage-port": "storage" };
    for (const is of machine.cards) {
        pci.children.push({ id: classes[is.kind], class: classes[is.kind], description: CLASSES[is.kind][0],
            vendor: is.maker, product: is.name, businfo: `pci@0000:${is.key}`, serial: is.mac });
        if (is.kind === "storage-port") continue; // what lies below it counts, not the port
        sheet.state(is.kind, is.key, { maker: is.maker, name: is.name });
        sheet.hide(is.mac);
    }
    for (const is of machine.drives.filter((drive) => !drive.key.startsWith("nvme") && drive.transport !== "usb")) {
        core.children.push({ id: "disk", class: "disk", product: is.model, logicalname: `/dev/${is.key}`,
            serial: is.serial, units: "bytes", size: is.size_bytes,
            capabilities: is.rotational ? { "7200rpm": "7200 rotations per minute" } : undefined });
        sheet.state("drive", is.key, { model: is.model, size_bytes: is.size_bytes || undefined,
            rotational: is.rotational ? true : undefined });
        sheet.serial("drive", is.key, is.serial);
    }
    return JSON.stringify(root, null, 2);
}

function bank(sheet, is, number) {
    const at = { id: `bank:${number}`, class: "memory", slot: is.locator, physid: String(number) };
    const words = [is.form, is.type, "Synchronous", is.rated_mt_s && `${is.rated_mt_s} MHz (0.3 ns)`];
    const description = words.filter((word) => word !== undefined).join(" ");
    if (is.size_mb === 0) {
        sheet.state("memory-module", is.locator, { size_mb: 0 });
        return { ...at, description: "[empty]" };
    }
    const { form, type, rated_mt_s, maker, part_number, size_mb } = is;
    sheet.state("memory-module", is.locator, { form, type, rated_mt_s, maker, part_number, size_mb });
    sheet.serial("memory-module", is.locator, is.serial);
    return { ...at, description, vendor: maker, product: part_number, serial: is.serial,
        ...(size_mb === undefined ? {} : { units: "bytes", size: size_mb * 1024 ** 2 }) };
}

// ---- drives of their own -------------------------------------------------------------------------

export function nvme(sheet, machine) {
    const Devices = machine.drives.filter((is) => is.key.startsWith("nvme")).map((is) => {
        sheet.state("drive", is.key, { model: is.model, size_bytes: is.size_bytes });
        sheet.serial("drive", is.key, is.serial);
        return { NameSpace: 1, DevicePath: `/dev/${is.key}`, ModelNumber: is.model, SerialNumber: is.serial,
            PhysicalSize: is.size_bytes, SectorSize: 512 };
    });
    return JSON.stringify({ Devices }, null, 2);
}

export function smartctl(sheet, is) {
    const nvmeDrive = is.key.startsWith("nvme");
    const { model, size_bytes, healthy, hours_on, temperature_c, serial } = is;
    const root = {
        json_format_version: [1, 0], smartctl: { version: [7, 3], argv: ["smartctl", "-j", "-a"], exit_status: 0 },
        device: { name: `/dev/${nvmeDrive ? is.key.replace(/n1$/, "") : is.key}`,
            type: nvmeDrive ? "nvme" : "sat", protocol: nvmeDrive ? "NVMe" : "ATA" },
        model_name: model, serial_number: serial, smart_status: { passed: healthy },
        power_on_time: { hours: hours_on }, temperature: { current: temperature_c },
    };
    sheet.state("drive", is.key, { model, healthy, hours_on, temperature_c });
    sheet.serial("drive", is.key, serial);
    if (nvmeDrive) {
        const { wear_percent, media_errors } = is;
        root.nvme_smart_health_information_log = { critical_warning: 0, temperature: temperature_c,
            percentage_used: wear_percent, power_on_hours: hours_on, media_errors };
        sheet.state("drive", is.key, { transport: "nvme", wear_percent, media_errors });
        return JSON.stringify(root, null, 2);
    }
    root.user_capacity = { blocks: size_bytes / 512, bytes: size_bytes };
    root.rotation_rate = is.rotational ? 7200 : 0;
    const rows = [[5, "Reallocated_Sector_Ct", is.reallocated_sectors],
        [197, "Current_Pending_Sector", is.pending_sectors], [199, "UDMA_CRC_Error_Count", is.link_errors]];
    root.ata_smart_attributes = { revision: 1, table: rows.filter(([, , value]) => value !== undefined)
        .map(([id, name, value]) => ({ id, name, value: 100, raw: { value, string: String(value) } })) };
    const { rotational, reallocated_sectors, pending_sectors, link_errors } = is;
    sheet.state("drive", is.key, { size_bytes, rotational, reallocated_sectors, pending_sectors, link_errors });
    return JSON.stringify(root, null, 2);
}

export function sensors(sheet, machine) {
    const root = {};
    for (const { chip, label, temperature_c } of machine.sensors) {
        root[chip] = { Adapter: "PCI adapter", ...root[chip], [label]: { temp1_input: temperature_c, temp1_max: 90 } };
        sheet.state("sensor", `${chip}/${label}`, { temperature_c });
    }
    return JSON.stringify(root, null, 3);
}

// ---- displays ------------------------------------------------------------------------------------

// VESA E-EDID 1.4: a base block whose timings are detailed ones alone.
export function edid(sheet, is) {
    const block = Buffer.alloc(128);
    Buffer.from("00ffffffffffff00", "hex").copy(block);
    const letters = [...is.maker_id].map((letter) => letter.charCodeAt(0) - 64);
    block.writeUInt16BE(letters[0] << 10 | letters[1] << 5 | letters[2], 8);
    block.writeUInt16LE(is.product_code, 10);
    block.writeUInt32LE(is.serial, 12);
    block.set([1, is.year - 1990, 1, 4, 0xa5, Math.round(is.width_mm / 10), Math.round(is.height_mm / 10), 120, 6], 16);
    block.fill(1, 38, 54);
    let top = 0, first;
    is.timings.forEach(({ clock, across, down }, number) => {
        const at = 54 + 18 * number, w = is.width_px, h = is.height_px;
        block.writeUInt16LE(clock, at);
        block.set([w & 255, across & 255, (w >> 8) << 4 | across >> 8, h & 255, down & 255, (h >> 8) << 4 | down >> 8,
            48, 32, 0x35, 0, is.width_mm & 255, is.height_mm & 255, (is.width_mm >> 8) << 4 | is.height_mm >> 8,
            0, 0, 0x1a], at + 2);
        const milli = Math.floor((clock * 10000 * 1000 * 2 / ((w + across) * (h + down)) + 1) / 2);
        first ??= milli / 1000;
        top = Math.max(top, milli / 1000);
    });
    const texts = [[0xfc, is.name], [0xff, is.serialText]].filter(([, text]) => text !== undefined);
    for (let at = 54 + 18 * is.timings.length; at < 126; at += 18) {
        const [tag, text] = texts.shift() ?? [0x10, undefined];
        block.set([0, 0, 0, tag, 0], at);
        if (text !== undefined) Buffer.from((text + "\n").padEnd(13).slice(0, 13), "latin1").copy(block, at + 5);
    }
    block[127] = (256 - block.subarray(0, 127).reduce((sum, byte) => sum + byte, 0) % 256) % 256;
    const { maker_id, product_code, name, width_px, height_px, width_mm, height_mm, year } = is;
    sheet.state("display", sheet.file, { maker_id, product_code, name, width_px, height_px, width_mm, height_mm,
        year, refresh_hz: first, top_refresh_hz: top, bits_per_colour: 8, interface: "DisplayPort" });
    sheet.hide(String(is.serial), is.serialText);
    return block;
}
