// What a place of the machine holds, said anew: a part of the catalog, or a piece described by its facts.
import { button, el, field, say } from "./dom.js";
import { desk, mend, nameOf } from "./hand.js";
import { deed } from "./pane.js";
import { post } from "./server.js";

const pickers = new Map(); // role -> the catalog's parts

export async function partsOf(role) {
    if (!pickers.has(role)) pickers.set(role, (await post("parts", { sheet: desk.sheet, role })).data.parts);
    return pickers.get(role);
}

export function pieceEditor(role, list) {
    const name = nameOf("roles", role);
    const pick = el("select", {}, el("option", { value: "" }, "one moment"));
    const chosen = [];
    const shown = el("ul", { class: "chosen" });
    const other = el("input", { type: "text", size: 24, autocomplete: "off", spellcheck: "false" });
    const own = el("input", { type: "checkbox" });
    const facts = el("textarea", { rows: 2, cols: 28, spellcheck: "false", placeholder: "age_years=5" });

    function show() {
        shown.replaceChildren(...chosen.map((part, k) => el("li", {}, nameOf("parts", part), " ", button("take out", () => {
            chosen.splice(k, 1);
            show();
        }, { class: "wish", "aria-label": `take out ${nameOf("parts", part)}` }))));
    }
    function add(part) {
        if (!part) return;
        chosen.push(part);
        show();
        say(`${nameOf("parts", part)} is chosen.`);
    }
    const put = deed("Put this into the machine", async () => {
        const parts = [...chosen, ...(other.value.trim() ? [other.value.trim()] : [])];
        const settings = facts.value.split("\n").map((line) => line.trim()).filter(Boolean);
        const told = await mend("machine", { role, parts, ...(own.checked ? { own: true } : {}), ...(settings.length > 0 ? { settings } : {}) });
        say(`The ${name} is taken over.`);
        return told.told ? el("p", { class: "told" }, told.told) : [];
    });

    const more = el("details", { class: "edit" }, el("summary", {}, list.length > 0 ? `Change what stands here` : "Say what stands here", el("span", { class: "hearable" }, `: ${name}`)),
        el("div", { role: "group", "aria-label": `What the ${name} is` },
            field("A part of the catalog", pick), el("p", {}, button("Add it", () => add(pick.value), { "aria-label": `Add it to the ${name}` })), shown,
            field("or its name or maker's number", other),
            el("p", { class: "field tick" }, el("label", {}, own, " it is not in the catalog: a piece of its own")),
            field("Facts, one a line", facts, "FACT=VALUE, as age_years=5; flags with yes or no."),
            put.both));
    more.addEventListener("toggle", async () => {
        if (!more.open || pick.options.length > 1) return;
        try {
            const parts = await partsOf(role);
            pick.replaceChildren(el("option", { value: "" }, "choose one"), ...parts.map((part) => el("option", { value: part.id }, part.name)));
        } catch (error) {
            pick.replaceChildren(el("option", { value: "" }, error.message));
        }
    });
    return more;
}
