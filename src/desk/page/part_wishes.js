// Keep, replace, avoid: by a click on a part, as something that is tried.
import { button, el } from "./dom.js";
import { listed, toggle } from "./hand.js";

function press(list, name, words, whose) {
    const on = listed(list, name);
    return button(words, () => toggle(list, name), { class: "wish", "aria-pressed": String(on), "aria-label": `${words} ${whose}`, "data-wish": `${list} ${name}` });
}

export const presentWishes = (id, name) => el("span", { class: "wishes", role: "group", "aria-label": `Wishes about ${name}` },
    press("keep", id, "keep", name), press("replace", id, "replace", name));

export const newWishes = (id, name, why) => el("span", { class: "wishes", role: "group", "aria-label": `Wishes about ${name}` },
    press("avoid", id, "avoid", name), button("why?", () => why(id, name), { class: "wish", "aria-label": `why ${name}?` }));
