// The shipped samples in data/survey, read by eye: each fact beside the line of the dump it comes from.
//
// The folder holds dumps of two machines: of a virtual one with the names of "SynthCo Tower-9" (board.dmi,
// dmi.txt, lshw.json, lspci.txt, lscpu.json, the drives, display.edid), and synth.dmi and synth.edid,
// written by hand. Of the two SMBIOS dumps board.dmi is the first file, so SynthCo's board, processor
// and memory array count; modules and displays have keys of their own, so both machines' are there.
import { readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

const FACTS = `
board seen-board SynthCo SB-100
  memory_slots 1             board.dmi 0126h: 01 00, number of devices of type 16; synth.dmi says 4
display seen-display EXMP Monitor
  width_px 1920              display.edid 38h, 3Ah: 80 .. 7x
  height_px 1080             display.edid 3Bh, 3Dh: 38 .. 4x
  pixels_mp 2.074            1920 x 1080 = 2,073,600
  diagonal_in 22             display.edid 42h: e7 12 11: 487 x 274 mm, root 558.79 / 25.4 = 21.9996
  top_refresh_hz 75          display.edid 36h: d2 54: 217.14 MHz / (2592 x 1117) = 74.998
display seen-display-2 TEST 2560
  width_px 2560              synth.edid 38h, 3Ah: 00 .. ax
  height_px 1440             synth.edid 3Bh, 3Dh: a0 .. 5x
  pixels_mp 3.686            2560 x 1440 = 3,686,400
  diagonal_in 27             synth.edid 42h: 55 50 21: 597 x 336 mm, root 685.06 / 25.4 = 26.97
  top_refresh_hz 60          synth.edid 36h: 56 5e: 241.5 MHz / (2720 x 1481) = 59.951
drives seen-drives EX NVMe 1GB
  space_gb 1                 lsblk.json: "size": 1073741824
  drive_kind flash           lsblk.json: "rota": false
  hours_on 0                 smart-nvme.json: "power_on_time": {"hours": 0}
  wear_percent 0             smart-nvme.json: "percentage_used": 0
drives seen-drives-2 SYNTH HDD
  space_gb 2                 lsblk.json: "size": 2147483648
  drive_kind platters        smart-sda.json: "rotation_rate": 5400
  hours_on 1                 smart-sda.json: "power_on_time": {"hours": 1}
  reallocated_sectors 0      smart-sda.json: "id": 5 .. "raw": {"value": 0
drives seen-drives-3 drives vda (seen, not named)
memory seen-memory SynMem SM-2400-8G
  memory_gb 2                board.dmi, handle 1100h: 00 08, 2048 MB
  module_gb 2                the same
  rated_mt_s 2400            board.dmi, handle 1100h: 60 09; dmi.txt: Speed: 2400 MT/s
  speed_mt_s 2400            board.dmi, handle 1100h: 60 09; dmi.txt: Configured Memory Speed: 2400 MT/s
memory seen-memory-2 EXAMPLE PN
  memory_gb 16               synth.dmi, handle 0006h (DIMM A1): 00 40, 16384 MB
  module_gb 16               the same
  memory_type DDR4           1a
  rated_mt_s 3200            80 0c
  speed_mt_s 2666            6a 0a
memory seen-memory-3 EXAMPLE PN
  memory_gb 32               synth.dmi, handle 0008h (DIMM B1): ff 7f, and extended 00 80 00 00, 32768 MB
  module_gb 32               the same
  memory_type DDR4           1a
  rated_mt_s 3200            80 0c
  speed_mt_s 2666            6a 0a
processor seen-processor ExampleVendor EX-8 Processor
case unseen-case case (not looked at yet)
cooler unseen-cooler processor cooler (not looked at yet)
power unseen-power power unit (not looked at yet)`;

// device | property | what counts, its file | what contradicts it: all contradictions of the samples.
const AGAINST = `
board | maker | SynthCo board.dmi | EXAMPLE synth.dmi
board | product | SB-100 board.dmi | BOARD-ATX synth.dmi
board | version | rev-A.0007 board.dmi | A synth.dmi, rev-A dmi.txt, rev-A lshw.json
chassis | maker | SynthCo board.dmi | EXAMPLE synth.dmi
firmware | date | 03/14/2017 board.dmi | 01/02/2024 synth.dmi
firmware | maker | SynthBIOS board.dmi | EXAMPLE BIOS synth.dmi
firmware | version | 1.2 board.dmi | 1.00 synth.dmi
memory-array 0 | most_gb | 2 board.dmi | 128 synth.dmi
memory-array 0 | slots | 1 board.dmi | 4 synth.dmi
processor 0 | cores | 2 lscpu.json | 8 synth.dmi
processor 0 | current_mhz | 2000 board.dmi | 4200 synth.dmi
processor 0 | maker | ExampleVendor lscpu.json | EXAMPLE dmi.txt, EXAMPLE synth.dmi, EXMP board.dmi, Example Silicon lshw.json
processor 0 | max_mhz | 2000 board.dmi | 5000 synth.dmi
processor 0 | name | EX-8 Processor lscpu.json | CPU 8-core synth.dmi, rev-A dmi.txt, rev-A.0007 board.dmi
processor 0 | socket | CPU 0 board.dmi | SOCKET0 synth.dmi
processor 0 | threads | 2 lscpu.json | 16 synth.dmi
system | maker | SynthCo board.dmi | EXAMPLE synth.dmi
system | product | Tower-9 board.dmi | DESKTOP synth.dmi
system | version | rev-A.0007 board.dmi | 1 synth.dmi, rev-A dmi.txt, rev-A lshw.json`;

const LEFT = ["graphics 00:02.0: on the board's first bus: part of the processor or the board, no card",
    "memory-module DIMM A2: an empty slot",
    "memory-module DIMM B2: its size is not told, so nobody knows whether a module is there: look",
    "chassis", "firmware", "memory-array 0", "network 00:01.0", "sensor nvme-pci-0018/Composite",
    "storage-port 00:03.0", "storage-port 00:04.0", "storage-port 00:1f.2", "system"];
// The type "RAM" is no word of intake.json; 2 GB are less than memory_top_gb allows; 64 MB are no GB.
const DOUBTS = { "seen-board": ["memory_top_gb"], "seen-drives-3": ["space_gb"], "seen-memory": ["memory_type"] };
// What is on the drives is asked, and which they are: vda says no name.
const ASKED = ["drives", "drives", "power", "case", "cooler", "fans", "display", "keyboard", "pointer", "headset", "leads"];
const PRIVATE = ["SYN-NVME-1", "nvme.1b36-53594e2d4e564d452d31-4558204e564d6520314742202020-00000001",
    "nqn.2019-08.example:SYN-NVME-1", "SYN-SATA-1", "SN", "03020100-0504-0706-0809-0a0b0c0d0e0f", "42"];

function tableOf(draft) {
    const lines = [];
    for (const [role, entries] of Object.entries(draft.machine))
        for (const entry of entries) {
            lines.push(`${role} ${entry.part} ${entry.name}${entry.count === undefined ? "" : ` x ${entry.count}`}`);
            for (const [fact, value] of Object.entries(entry.facts ?? {})) lines.push(`  ${entry.part} ${fact} ${value}`);
        }
    return lines;
}

function tableMeant() {
    let part;
    return FACTS.trim().split("\n").map((line) => {
        if (!line.startsWith(" ")) part = line.split(" ")[1];
        const [fact, value] = line.trim().split(/\s+/);
        return line.startsWith(" ") ? `  ${part} ${fact} ${value}` : line;
    });
}

const differences = (is, meant) => [...meant.filter((one) => !is.includes(one)).map((one) => `missing: ${one}`),
    ...is.filter((one) => !meant.includes(one)).map((one) => `not meant: ${one}`)];

function contradictions(json) {
    const shown = ({ value, file }) => `${value} ${file}`;
    return json.devices.flatMap((one) => Object.entries(one.says)
        .filter(([, { contradicts }]) => contradicts.length > 0)
        .map(([property, { counts, contradicts }]) => [`${one.device} ${one.key ?? ""}`.trim(), property, shown(counts),
            contradicts.map(shown).sort().join(", ")].join(" | ")));
}

export function survey(bench) {
    const folder = join(dirname(fileURLToPath(import.meta.url)), "data", "survey");
    const draftPath = join(bench.work, "draft.json"), cardPath = join(bench.work, "card.json");
    const said = bench.run([...bench.words(folder, bench.shipped), "-o", draftPath, "--card", cardPath]);
    const asJson = bench.run([...bench.words(folder, bench.shipped), "--json"]);
    bench.verdict("the samples are read", said.code === 0 && asJson.code === 0 ? [] : [said.errors, asJson.errors]);
    if (said.code !== 0 || asJson.code !== 0) return;
    const draft = JSON.parse(readFileSync(draftPath, "utf8")), json = JSON.parse(asJson.out);
    const card = JSON.parse(readFileSync(cardPath, "utf8"));
    bench.verdict("facts of the samples", differences(tableOf(draft), tableMeant()));
    bench.verdict("contradictions of the samples", differences(contradictions(json), AGAINST.trim().split("\n")));
    bench.verdict("left out of the samples", differences(json.left_out.map(({ device, key, why }) =>
        `${device} ${key ?? ""}`.trim() + (why === null ? "" : `: ${why}`)), LEFT));
    bench.verdict("asked of the samples", JSON.stringify(draft.to_ask.map(({ role }) => role)) === JSON.stringify(ASKED)
        ? [] : [JSON.stringify(draft.to_ask)]);
    const doubts = json.pieces.flatMap(({ part, doubts: all }) => all.filter((one) => !one.includes("counts, but"))
        .map((one) => `${part} ${one.split(":")[0]}`));
    const doubted = Object.entries(DOUBTS).flatMap(([part, all]) => all.map((one) => `${part} ${one}`));
    bench.verdict("doubts of the samples", differences(doubts, doubted));
    const aside = json.files.filter(({ kind }) => kind === null).map(({ file }) => file);
    bench.verdict("left aside of the samples", differences(aside, ["nvmesmart.json"]));
    const told = said.out + asJson.out + JSON.stringify(draft);
    bench.verdict("private of the samples", [...differences([...new Set(card.private.map(({ value }) => value))], PRIVATE),
        ...PRIVATE.filter((one) => one.length > 4 && told.includes(one)).map((one) => `told: ${one}`)]);
}
