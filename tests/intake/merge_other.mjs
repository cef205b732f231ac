// Another intake.json than the shipped one: what becomes of dumps lies in data, so the program has to
// follow it wherever it says something else.
import { dice } from "./merge_machine.mjs";

function shuffled(d, list) {
    const all = [...list];
    for (let i = all.length - 1; i > 0; i--) {
        const j = d.whole(0, i);
        [all[i], all[j]] = [all[j], all[i]];
    }
    return all;
}

const CHANGES = [
    (d, is) => { is.readers = shuffled(d, is.readers); },
    (d, is) => { is.first = is.first.map((one) => ({ ...one, readers: shuffled(d, one.readers) })); },
    (d, is) => { is.first = []; },
    (d, is) => { is.first.push({ device: "memory-module", property: "size_mb", readers: ["lshw"] }); },
    (d, is) => { is.near = is.near.filter((one) => one.property !== "size_bytes"); },
    (d, is) => { for (const one of is.near) one.percent = d.pick([0.1, 2, 15]); },
    (d, is) => { is.left_out = is.left_out.filter(() => d.chance(0.5)); },
    (d, is) => { is.left_out.push({ device: "drive", when: [{ key: "nvme" }], why: "not of this test" }); },
    (d, is) => { is.left_out.push({ device: "network", when: [], why: "no part of a bundle" }); },
    (d, is) => { is.pieces = is.pieces.filter((one) => one.device !== d.pick(["graphics", "display", "drive"])); },
    (d, is) => { piece(is, "drive").when = [{ property: "hours_on", least: 1000 }]; },
    (d, is) => { piece(is, "drive").names = []; },
    (d, is) => { piece(is, "board").names = ["version", "product"]; },
    (d, is) => { delete piece(is, "memory-module").maker; },
    (d, is) => { fact(piece(is, "drive"), "space_gb").decimals = 3; },
    (d, is) => { fact(piece(is, "drive"), "space_gb").per = [1024, 1024, 1024]; },
    (d, is) => { fact(piece(is, "display"), "diagonal_in").decimals = 3; },
    (d, is) => { fact(piece(is, "display"), "pixels_mp").decimals = 1; },
    (d, is) => { fact(piece(is, "memory-module"), "memory_type").words = { DDR4: "DDR5", DDR2: "DDR3" }; },
    (d, is) => { for (const one of piece(is, "drive").facts) one.of_piece = !one.of_piece; },
    (d, is) => {
        piece(is, "memory-module").facts.push({ fact: "height_mm", value: 31.5, when: [{ property: "maker", stated: true }] });
    },
    (d, is) => { is.health = shuffled(d, is.health); },
    (d, is) => { for (const one of is.health) one.must = !one.must; },
    (d, is) => { is.health.push({ device: "memory-module", when: [{ property: "type", is: "DDR4" }], condition: "unproven",
        why: "Nobody has tried it.", source: "invented for this test" }); },
    (d, is) => { is.health.unshift({ device: "drive", when: [{ not: { property: "healthy", stated: true } }, { key: "sd" }],
        condition: "unproven", must: d.chance(0.5), why: "Nobody asked it.", do_first: "Ask it.", source: "invented for this test" }); },
    (d, is) => {
        piece(is, "processor").facts.push({ fact: "unlocked", from: ["populated"], of_piece: d.chance(0.5) });
    },
    (d, is) => {
        piece(is, "board").facts.push({ fact: "memory_top_mt_s", device: "memory-module", from: ["rated_mt_s"] });
    },
    (d, is) => { Object.assign(fact(piece(is, "memory-module"), "memory_gb"), { per: [4096], decimals: 0 }); }, // halves
    (d, is) => {
        Object.assign(fact(piece(is, "memory-module"), "rated_mt_s"), { per: [d.pick([1.001, 3, 0.7])], decimals: d.whole(0, 3) });
    },
    (d, is) => { is.doubts.push({ device: "drive", when: [{ property: "size_bytes", below: 0.999, of: "size_bytes" }], says: "it is never so",
        source: "invented for this test" }, { device: "processor", when: [{ property: "current_mhz", below: 0.9, of: "max_mhz" }],
        says: "it is not at its fastest", source: "invented for this test" }); },
    (d, is) => { delete is.begins; },
    (d, is) => { is.questions = shuffled(d, is.questions); },
    (d, is) => { for (const one of is.questions) one.unseen = !one.unseen; },
];

const piece = (is, device) => is.pieces.find((one) => one.device === device) ?? { facts: [], when: [] };
const fact = (form, name) => form.facts.find((one) => one.fact === name) ?? {};

export function otherIntake(seed, catalog) {
    const d = dice(seed + 4242), intake = structuredClone(catalog.intake);
    for (let n = d.whole(1, 4); n > 0; n--) d.pick(CHANGES)(d, intake);
    return intake;
}
