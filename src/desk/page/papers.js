// Papers by ticket: the very file that the command writes, opened in its own page.
import { el } from "./dom.js";
import { desk, settings } from "./hand.js";
import { deed } from "./pane.js";
import { post } from "./server.js";

export async function ticket(paper, option = null, more = {}) {
    const set = settings();
    const { data } = await post("paper", { sheet: desk.sheet, paper, ...(option ? { option } : {}), ...more, ...(set.length > 0 ? { set } : {}) });
    return data;
}

// A button that has a paper made, and then a link to it.
export function paperDeed(words, paper, option = () => null) {
    return deed(words, async () => {
        const made = await ticket(paper, option());
        const link = el("a", { href: `/paper/${made.ticket}`, target: "_blank", rel: "noopener", class: "go" }, `Open it: ${words.replace(/^Make /, "")}`);
        setTimeout(() => link.focus(), 0);
        return el("p", {}, link, el("small", {}, made.exit === 2 ? " The time ran out: the best that was found." : " It opens beside this page; print it from there. It can be opened for ten minutes."));
    });
}
