// What comes in from outside: dumps of a machine, and price lists.
import { card, el, field, items, say, table } from "./dom.js";
import { count, told } from "./amounts.js";
import { desk, mend, nameOf } from "./hand.js";
import { deed } from "./pane.js";
import { post } from "./server.js";
import { dropPlace } from "./tray.js";

/* ---- dumps -------------------------------------------------------------------------------------------- */

function pieceLine(piece) {
    const role = nameOf("roles", piece.role);
    if (!piece.seen) return el("li", {}, `${role}: not looked at yet`);
    const more = piece.in_catalog ? [] : ["not a part of the catalog", piece.nearest && `nearest name: ${nameOf("parts", piece.nearest)}`].filter(Boolean);
    return el("li", { class: piece.health ? "must" : null }, `${role}: ${piece.count > 1 ? `${piece.count} x ` : ""}${piece.name}`, more.length > 0 && ` (${more.join("; ")})`,
        piece.health && el("p", { class: "care" }, `${piece.health} The client's files first: save them elsewhere and read the copy back before the drive is tested or written to.`),
        piece.doubts.length > 0 && items(piece.doubts));
}

function survey(told, draft) {
    const before = desk.job?.machine ?? {}, after = draft?.machine ?? {};
    const words = (list) => (list ?? []).map((one) => `${(one.count ?? 1) > 1 ? `${one.count} x ` : ""}${one.name ?? nameOf("parts", one.part)}`).join(", ") || "nothing";
    const roles = [...new Set([...Object.keys(before), ...Object.keys(after)])].filter((role) => JSON.stringify(before[role]) !== JSON.stringify(after[role]));
    const take = deed("Take this draft as the job", async () => {
        await mend("dumps", { files: dumps.names, take: true });
        say("The draft is the job now.");
        return el("p", {}, "The draft is the job now. \"Take back\" above undoes it. Next: what is still to be looked at, below; then the interview.");
    });
    return [
        el("h3", {}, "What the dumps tell"),
        el("ul", {}, told.pieces.map(pieceLine)),
        told.mixed.length > 0 && el("p", { class: "care" }, `More than one ${told.mixed.join(", ")}: are these dumps of two machines?`),
        told.faults.length > 0 && el("div", { class: "refusal" }, el("p", {}, "Not read:"), items(told.faults.map((one) => `${one.file}, ${one.place}: ${one.what} ${one.why} ${one.mend}`))),
        el("details", {}, el("summary", {}, `${count(told.files.length, "file")}; ${count(told.private_details, "private detail")} left out`),
            items(told.files.map((one) => `${one.file}: ${one.kind ?? "left aside, no kind that is known"}${one.kind ? `, ${count(one.statements, "statement")}` : ""}`)),
            told.left_out.length > 0 && el("p", {}, "Seen, and left out: ", told.left_out.map((one) => `${one.device} ${one.key}${one.why ? ` (${one.why})` : ""}`).join("; "), ".")),
        told.to_ask.length > 0 && el("details", {}, el("summary", {}, `${count(told.to_ask.length, "question")} that no dump can answer`), items(told.to_ask.map((one) => `${nameOf("roles", one.role)}: ${one.ask}`))),
        roles.length > 0 && table("What the draft would change", ["place", "now", "in the draft"], roles.map((role) => [nameOf("roles", role), words(before[role]), words(after[role])])),
        desk.job?.wishes && el("p", { class: "care" }, "The draft takes the place of the whole job in hand, its wishes and money too."),
        ...take.both,
    ].filter(Boolean);
}

const read = deed("Read these dumps", async () => {
    if (dumps.names.length === 0) return el("p", {}, "There is no file in the tray yet.");
    const { data } = await post("dumps", { sheet: desk.sheet, revision: desk.revision, files: dumps.names });
    return survey(data.survey, data.draft);
});
const dumps = dropPlace("Drop here what the machine says of itself: dmidecode, lscpu -J, lsblk -J, lspci -mm, smartctl -j -a, nvme, EDID ..", () => {});
export const dumpsCard = card("From dumps", { class: "intake" },
    el("p", { class: "quiet" }, "Serial numbers, addresses and host names are read over and not kept."), dumps.node, ...read.both);

/* ---- price lists -------------------------------------------------------------------------------------------- */

const fates = { header: "headings", blank: "blank", lead: "before the headings", listed: "listed", waiting: "wait for a person", refused: "not read", unmatched: "like no part of the catalog",
    "no-price": "without a price", gone: "no longer sold", skipped: "passed over, as the profile says", "not-ours": "not for us", new: "new", twice: "named twice" };
const profile = el("select", {});
const prices = dropPlace("Drop a seller's price list here", () => {}, { many: false });

function report(one) {
    const changed = one.changes ?? [];
    return [
        el("p", {}, `${count(one.row_count, "row")} of ${nameOf("sellers", one.seller)}, in ${one.currency}. Nothing was written: this is what the list would change.`),
        one.asks_whether_whole && el("p", { class: "care" }, `Of the ${one.listed_before} parts that this seller lists until now the list takes ${one.taken_away} away. Is it whole?`),
        table("The rows of the file", ["rows that are", { number: "how many" }], Object.entries(one.fates).filter(([, n]) => n > 0).map(([fate, n]) => [fates[fate] ?? fate, { number: String(n) }]), { class: "plain" }),
        changed.length > 0 && table("What would change", ["part", "is", "before", "after"], changed.slice(0, 200).map((c) => [nameOf("parts", c.part), (c.is ?? []).join(", "),
            c.before ? `${told(c.before.price)}, stock ${c.before.stock}` : "not listed", c.after ? `${told(c.after.price)}, stock ${c.after.stock}` : "not listed"])),
        (one.refused ?? []).length > 0 && el("div", { class: "refusal" }, el("p", {}, "Not read:"), items(one.refused.map((r) => `row ${r.row}: ${r.what ?? ""} ${r.mend ?? ""}`))),
        el("p", { class: "quiet" }, "Listings are written on the command line, by a person who has read this: swapworth intake prices."),
    ].filter(Boolean);
}
const readPrices = deed("Read this list", async () => {
    if (prices.names.length === 0) return el("p", {}, "There is no list in the tray yet.");
    const { data } = await post("prices", { sheet: desk.sheet, file: prices.names[0], profile: profile.value });
    return report(data.prices);
});
let asked = false;
const open = el("details", {}, el("summary", {}, "Look through a price list"), prices.node, field("How it is written (its profile)", profile), ...readPrices.both);
open.addEventListener("toggle", async () => {
    if (!open.open || asked) return;
    asked = true;
    try {
        const { data } = await post("profiles", { sheet: desk.sheet });
        profile.replaceChildren(...data.profiles.map((one) => el("option", { value: one.id }, one.title ?? one.name ?? one.id)));
    } catch (error) {
        asked = false;
        profile.replaceChildren(el("option", { value: "" }, error.message));
    }
});
export const pricesCard = card("Price lists", {}, open);
