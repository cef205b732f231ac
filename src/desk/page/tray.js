// Files for the server's tray: dropped or chosen, sent in parts that one request can hold.
import { button, el, fresh, say } from "./dom.js";
import { count } from "./amounts.js";
import { desk } from "./hand.js";
import { refusal } from "./pane.js";
import { post } from "./server.js";

const bytesEach = 33000; // 44,000 letters of base64: a request holds 45,000

function base64(bytes) {
    let text = "";
    for (let k = 0; k < bytes.length; k += 0x2000) text += String.fromCharCode(...bytes.subarray(k, k + 0x2000));
    return btoa(text);
}

async function send(file, told) {
    const bytes = new Uint8Array(await file.arrayBuffer());
    const of = Math.max(1, Math.ceil(bytes.length / bytesEach));
    let files = [];
    for (let k = 0; k < of; k++) {
        const data = base64(bytes.subarray(k * bytesEach, (k + 1) * bytesEach));
        files = (await post("tray", { sheet: desk.sheet, name: file.name, part: k + 1, of, data })).data.files;
        if (of > 8) told(`${file.name}: ${Math.round(((k + 1) / of) * 100)} %`);
    }
    return files;
}

// A zone to drop files on, with a button that does the same. `changed(names)` hears what of it lies in the tray.
export function dropPlace(words, changed, { many = true } = {}) {
    const names = [];
    const input = el("input", { type: "file", multiple: many, class: "hearable", tabindex: "-1", id: fresh("file"), "aria-label": words });
    const list = el("ul", { class: "tray" });
    const note = el("div", { class: "came" });
    const zone = el("div", { class: "drop" }, el("p", {}, words), el("p", {}, button(many ? "Choose files" : "Choose a file", () => input.click()), input));

    function show() {
        list.replaceChildren(...names.map((name) => el("li", {}, name, " ", button("take out", async () => {
            try {
                await post("tray", { sheet: desk.sheet, drop: name });
                names.splice(names.indexOf(name), 1);
                show();
            } catch (error) {
                note.replaceChildren(refusal(error));
            }
        }, { class: "wish", "aria-label": `take out ${name}` }))));
        changed(names);
    }
    async function take(files) {
        note.replaceChildren(el("p", { class: "quiet" }, "Being read."));
        try {
            if (!many) names.length = 0;
            for (const file of files) {
                await send(file, (words) => note.replaceChildren(el("p", { class: "quiet" }, words)));
                if (!names.includes(file.name)) names.push(file.name);
            }
            note.replaceChildren();
            say(`${count(names.length, "file")} in the tray.`);
        } catch (error) {
            note.replaceChildren(refusal(error));
        }
        show();
    }
    input.addEventListener("change", () => {
        take([...input.files]);
        input.value = "";
    });
    for (const event of ["dragenter", "dragover"]) zone.addEventListener(event, (drag) => {
        drag.preventDefault();
        zone.classList.add("over");
    });
    for (const event of ["dragleave", "drop"]) zone.addEventListener(event, () => zone.classList.remove("over"));
    zone.addEventListener("drop", (drop) => {
        drop.preventDefault();
        take([...drop.dataTransfer.files]);
    });
    // Beside the zone a file would be opened by the browser, and the page lost.
    return { node: el("div", {}, zone, list, note), names };
}
for (const event of ["dragover", "drop"]) addEventListener(event, (drag) => drag.preventDefault());
