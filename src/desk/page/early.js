// What the page asks for first, while its other files are still on their way.
import { desk, openSheet, sheetKept } from "./hand.js";
import { post, takeToken } from "./server.js";

export const known = takeToken();
const ofSheet = async () => (await post("words", { sheet: desk.sheet })).data;

// Of a sheet that was not open here before, the words are most likely those of the job that the desk began with: they are
// asked for beside the sheet, and held against the sheet's own when there is time (otherWords).
const guessed = known && !sheetKept();
async function ask() {
    const soon = guessed ? post("words", {}) : null;
    soon?.catch(() => {});
    await openSheet(false);
    return soon ? (await soon).data : ofSheet();
}
export const words = known ? ask() : Promise.resolve(null);
words.catch(() => {}); // whoever waits for them is told

let open = guessed;
// The sheet's own words where they are others than those that were taken; else null.
export async function otherWords() {
    if (!open) return null;
    open = false;
    const own = await ofSheet();
    return JSON.stringify(own) === JSON.stringify(await words) ? null : own;
}
