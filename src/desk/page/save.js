// Saving shows the difference first. Two tabs, or an editor: what happened is told, with what can be done.
import { button, el, field, table } from "./dom.js";
import { count } from "./amounts.js";
import { desk, openSheet, takeSheet, tell } from "./hand.js";
import { refusal } from "./pane.js";
import { post } from "./server.js";

const box = document.getElementById("box");
function show(name, ...inside) {
    box.replaceChildren(el("h2", { id: "box-name", tabindex: "-1" }, name), ...inside.flat().filter(Boolean));
    if (!box.open) box.showModal();
    box.querySelector("h2").focus();
}
const close = () => box.close();
const leave = (words = "Go back") => button(words, close);

export async function saveJob() {
    let told;
    try {
        told = (await post("difference", { sheet: desk.sheet })).data;
    } catch (error) {
        return show("Not saved", refusal(error), el("p", {}, leave()));
    }
    const beside = el("input", { type: "text", size: 24, value: told.file ? "" : "job.json", autocomplete: "off", spellcheck: "false" });
    const name = () => beside.value.trim();
    const put = async (more) => {
        try {
            const { data } = await post("save", { sheet: desk.sheet, revision: desk.revision, ...more });
            takeSheet({ file: data.file ?? desk.file, revision: data.revision ?? desk.revision });
            desk.changed = false;
            tell();
            show("Saved", el("p", {}, `It stands in ${data.file ?? desk.file}.`), el("p", {}, leave("Go on")));
        } catch (error) {
            if (error.code === 409) return conflict(error);
            show("Not saved", refusal(error), el("p", {}, leave()));
        }
    };
    const conflict = (error) => show(error?.body?.is_gone ? "Not saved: the file is gone" : "Not saved: the file was changed meanwhile",
        error ? el("p", {}, error.message) : null,
        !error?.body?.is_gone && el("p", {}, "Another tab or an editor has written it since this page read it. Nothing was overwritten."),
        el("div", { class: "row" }, button("See what would be changed in it now", saveJob), button("Read the file anew; what is here is dropped", readAnew), leave()));
    const rows = told.changes.map((one) => [one.path, one.before ?? "not there", one.after ?? "taken away"]);
    const choices = [
        told.file ? button(told.changed_on_disk ? told.is_gone ? `Write ${told.file} anew` : `Write it over ${told.file} all the same` : `Write it to ${told.file}`, () => put(told.changed_on_disk ? { over: true } : {})) : null,
        told.changed_on_disk ? button("Read the file anew; what is here is dropped", readAnew) : null,
    ];
    show(told.is_gone ? "The file is gone" : told.changed_on_disk ? "The file was changed meanwhile" : told.is_new || !told.file ? "A new file" : `What saving would change in ${told.file}`,
        told.changed_on_disk && el("p", { class: "care" }, told.is_gone ? `${told.file} is no longer there. What you see is what would be written there anew.` : `${told.file} is no longer as this page read it: another tab or an editor wrote it. What you see is how it would change now.`),
        desk.trial.size > 0 && el("p", { class: "care" }, "What is being tried is not in the job yet, and is not saved with it."),
        rows.length > 0 ? table(count(rows.length, "change"), ["where", "in the file", "then"], rows) : el("p", {}, "Nothing would change."),
        rows.length > 0 && el("div", { class: "row" }, choices),
        el("div", { class: "row" }, field(told.file ? "or beside it, as a new file" : "The file's name", beside, "A plain name that ends in .json."), button("Write this file", () => put({ file: name() }))),
        el("p", {}, leave()));
}

async function readAnew() {
    try {
        await openSheet(true);
        desk.trial.clear();
        tell();
        close();
    } catch (error) {
        show("Not read", refusal(error), el("p", {}, leave()));
    }
}

// The sheet has gone on elsewhere: another tab with the same sheet.
export function toldElsewhere(error) {
    const body = error.body ?? {};
    show("This job was changed in another tab", el("p", {}, "What you just did was not done. Both tabs work on the same sheet, and the other one was first."),
        el("div", { class: "row" }, body.job !== undefined ? button("Go on with what is there now", () => {
            takeSheet({ revision: body.revision, job: body.job });
            tell();
            close();
        }) : null, button("Begin again from the file", readAnew), leave()));
}
