// Elements from texts. Whatever comes from a job or a catalog goes in as text, never as markup.

export function el(tag, how = {}, ...inside) {
    const node = document.createElement(tag);
    for (const [name, value] of Object.entries(how)) {
        if (value === undefined || value === null || value === false) continue;
        if (name === "on") for (const [event, act] of Object.entries(value)) node.addEventListener(event, act);
        else node.setAttribute(name, value === true ? "" : String(value));
    }
    node.append(...inside.flat(Infinity).filter((one) => one !== null && one !== undefined && one !== false));
    return node;
}

const drawing = "http://www.w3.org/2000/svg";
export function shape(tag, how = {}, ...inside) {
    const node = document.createElementNS(drawing, tag);
    for (const [name, value] of Object.entries(how)) node.setAttribute(name, String(value));
    node.append(...inside);
    return node;
}

export const button = (words, act, how = {}) => el("button", { type: "button", on: { click: act }, ...how }, words);
export const items = (list) => el("ul", {}, list.map((one) => el("li", {}, one)));

let count = 0;
export const fresh = (stem) => `${stem}-${++count}`;

// A part of a view with its heading.
export function card(name, how, ...inside) {
    const id = fresh("h");
    return el("section", { ...how, class: `card ${how.class ?? ""}`, "aria-labelledby": id }, el("h2", { id }, name), ...inside);
}

// heads: [text]; rows: [[cell]] whose first cell names the row. A cell is a text, a node, or {number: text}.
// On a narrow page the rows of what is not plain numbers fold; the roles say that it is a table still.
export function table(caption, heads, rows, how = {}) {
    const headOf = (one) => one?.number ?? (typeof one === "string" ? one : "");
    const cell = (one, k) => {
        const number = one !== null && typeof one === "object" && "number" in one;
        const inside = number ? one.number : one;
        return k === 0 ? el("th", { scope: "row", role: "rowheader" }, inside)
            : el("td", { role: "cell", class: number ? "number" : null, "data-head": headOf(heads[k]) || null }, inside);
    };
    return el("div", { class: "wide", tabindex: "0", role: "region", "aria-label": caption },
        el("table", { role: "table", ...how }, el("caption", {}, caption),
            el("thead", { role: "rowgroup" }, el("tr", { role: "row" }, heads.map((head) => el("th", { scope: "col", role: "columnheader", class: head?.number ? "number" : null }, head?.number ?? head)))),
            el("tbody", { role: "rowgroup" }, rows.map((row) => el("tr", { role: "row" }, row.map(cell))))));
}

// A field with its label, and a sentence below it where something is to be said of it.
export function field(label, input, more = null) {
    if (!input.id) input.id = fresh("f");
    const said = more ? el("small", { id: fresh("s") }, more) : null;
    if (said) input.setAttribute("aria-describedby", said.id);
    return el("p", { class: "field" }, el("label", { for: input.id }, label), input, said);
}

// Little is said aloud: one sentence, and not the same twice.
export function say(words) {
    const place = document.getElementById("say");
    if (place.textContent !== words) place.textContent = words;
}
