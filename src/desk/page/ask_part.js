// Any part of the catalog may be asked about, not only those that the best bundle holds.
import { button, el, field } from "./dom.js";
import { desk, nameOf } from "./hand.js";
import { partName } from "./machine_words.js";
import { partsOf } from "./piece.js";

// ask(parts, name) shows the answers.
export function askPart(ask) {
    const role = el("select", {}), part = el("select", {}, el("option", { value: "" }, "one moment"));
    const chosen = [], list = el("ul", { class: "chosen" });
    const named = () => chosen.map(partName).join(" and ");
    function show() {
        list.replaceChildren(...chosen.map((one, k) => el("li", {}, partName(one), " ", button("take out", () => {
            chosen.splice(k, 1);
            show();
        }, { class: "wish", "aria-label": `take out ${partName(one)}` }))));
    }
    async function fill() {
        try {
            const parts = await partsOf(role.value);
            part.replaceChildren(...parts.map((one) => el("option", { value: one.id }, one.name)));
        } catch (error) {
            part.replaceChildren(el("option", { value: "" }, error.message));
        }
    }
    role.addEventListener("change", fill);
    const node = el("details", { class: "edit" }, el("summary", {}, "Ask about any other part"),
        field("What it is", role), field("The part", part),
        el("p", { class: "row" }, button("Ask about it", () => {
            if (chosen.length > 0) ask([...chosen], named());
            else if (part.value) ask([part.value], partName(part.value));
        }), button("Ask together with others: add it", () => {
            if (!part.value) return;
            chosen.push(part.value);
            show();
        })), list);
    node.addEventListener("toggle", () => {
        if (!node.open || role.options.length > 0) return;
        role.replaceChildren(...desk.words.roles.map((one) => el("option", { value: one.id ?? one.role }, nameOf("roles", one.id ?? one.role))));
        fill();
    });
    return node;
}
