// Views whose files come when the first one stands: what is looked at first is there sooner.
import { el } from "./dom.js";
import { refusal } from "./pane.js";

let hearLoaded = () => {};
const waiting = new Set();

export const hearViews = (act) => { hearLoaded = act; };
export const viewsOnTheWay = () => waiting.size > 0;

export function later(id, name, load) {
    const place = el("div");
    let real = null, begun = null, changed = false;
    const fetchIt = () => begun ??= (async () => {
        waiting.add(id);
        try {
            real = (await load()).view;
            if (changed) real.wishesChanged?.();
        } catch (error) {
            begun = null;
            place.replaceChildren(refusal({ message: `The files of this view did not come: ${error.message}` }, () => location.reload()));
        }
        waiting.delete(id);
        hearLoaded();
    })();
    return {
        id, name, fetchIt,
        get node() { return real?.node ?? place; },
        show() { real ? real.show() : fetchIt(); },
        refresh() { real?.refresh(); },
        asks() { real?.asks?.(); },
        wishesChanged() { changed = true; real?.wishesChanged?.(); },
    };
}
