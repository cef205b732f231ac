// The job in hand: the sheet that the server keeps, and what is being tried on top of it.
import { post } from "./server.js";
import { useCurrency } from "./amounts.js";

export const desk = {
    sheet: null, revision: 0, file: null, catalog: null, job: null,
    words: { roles: [], criteria: [], uses: [], tasks: [], sellers: [] },
    trial: new Map(), // PATH -> value: wishes that are tried and not written
    pins: [],
    changed: false,   // something may be there to be saved
    back: false,      // something may be there to be taken back
};

/* ---- who is told of it ---------------------------------------------------------------------- */

const ears = [];
export const hear = (act) => ears.push(act);
export function tell() {
    for (const act of ears) act();
}

/* ---- words ------------------------------------------------------------------------------------ */

const keys = ["id", "role", "criterion", "use", "task", "seller", "hazard", "complaint"];
const idOf = (one) => keys.map((key) => one[key]).find((value) => value !== undefined);
const names = new Map();

export function takeWords(words) {
    desk.words = { ...desk.words, ...words };
    names.clear();
    for (const kind of ["roles", "criteria", "uses", "tasks", "sellers", "complaints", "facts", "observations", "parts", "measures"])
        names.set(kind, new Map((words[kind] ?? []).map((one) => [one.fact ?? one.measure ?? idOf(one), one])));
    useCurrency(desk.job?.currency ?? words.currency, words.digits);
}
export const entry = (kind, id) => names.get(kind)?.get(id) ?? null;
export const nameOf = (kind, id) => entry(kind, id)?.name ?? entry(kind, id)?.title ?? String(id);
export const sellerName = (id) => (id === "client" ? "the client" : nameOf("sellers", id));

/* ---- the sheet -------------------------------------------------------------------------------- */

export function takeSheet(told) {
    desk.sheet = told.sheet ?? desk.sheet;
    desk.revision = told.revision ?? desk.revision;
    if ("job" in told) desk.job = told.job;
    if ("file" in told) desk.file = told.file;
    if ("catalog" in told) desk.catalog = told.catalog;
    if (desk.job) useCurrency(desk.job.currency, desk.words.digits);
    sessionStorage.setItem("swapworth-sheet", desk.sheet);
}

export const sheetKept = () => sessionStorage.getItem("swapworth-sheet");
export async function openSheet(anew) {
    const before = anew ? null : sheetKept();
    if (before) {
        try {
            takeSheet((await post("open", { sheet: before })).data);
            desk.changed = desk.back = true;
            return;
        } catch (error) {
            if (error.code !== 404 && error.code !== 400) throw error;
        }
    }
    takeSheet((await post("open", {})).data);
    desk.changed = desk.back = false;
}

// Another tab may have changed the sheet meanwhile (409): who can tell what to do then is told.
let elsewhere = () => {};
export const hearElsewhere = (act) => { elsewhere = act; };
async function revise(name, body) {
    try {
        return (await post(name, { sheet: desk.sheet, revision: desk.revision, ...body })).data;
    } catch (error) {
        if (error.code === 409) elsewhere(error);
        throw error;
    }
}

// Something that makes the sheet's text anew.
export async function mend(name, body) {
    const data = await revise(name, body);
    const moved = data.revision !== undefined && data.revision !== desk.revision;
    takeSheet({ ...data, job: data.job ?? (moved ? data.draft : undefined) ?? desk.job });
    if (moved) desk.changed = desk.back = true;
    tell();
    return data;
}

/* ---- wishes: as the job has them, and as they are tried ------------------------------------- */

const same = (a, b) => JSON.stringify(a ?? null) === JSON.stringify(b ?? null);
const keyed = (list, key) => list.find((one) => [one.id, one.part, one.complaint, one.use, one.on].includes(key));

export function written(path) {
    let at = desk.job;
    for (const step of path.split(".")) {
        if (at === null || at === undefined) return undefined;
        at = Array.isArray(at) ? keyed(at, step) : at[step];
    }
    return at;
}
export const wished = (path) => (desk.trial.has(path) ? desk.trial.get(path) : written(path));

// value null: taken away.
export function attempt(path, value) {
    if (same(value, written(path))) desk.trial.delete(path);
    else desk.trial.set(path, value);
    tell();
}
export function dropTrial() {
    desk.trial.clear();
    tell();
}
export const settings = () => [...desk.trial].map(([path, value]) => `${path}=${JSON.stringify(value)}`);

export async function writeTrial() {
    const set = settings();
    const told = await revise("change", { set });
    desk.trial.clear();
    takeSheet(told);
    desk.changed = desk.back = true;
    tell();
    return told.complaints ?? [];
}

export const listed = (list, name) => (wished(`wishes.${list}`) ?? []).includes(name);
// Puts a part, role or maker into a list of wishes, or takes it out; what contradicts it goes out.
export function toggle(list, name) {
    const now = wished(`wishes.${list}`) ?? [];
    const then = now.includes(name) ? now.filter((one) => one !== name) : [...now, name];
    const against = { keep: ["replace"], replace: ["keep"], avoid: [] }[list];
    for (const other of against) {
        const there = wished(`wishes.${other}`) ?? [];
        if (there.includes(name)) desk.trial.set(`wishes.${other}`, there.filter((one) => one !== name));
    }
    attempt(`wishes.${list}`, then.length > 0 || written(`wishes.${list}`) !== undefined ? then : null);
}

// Places of the machine that nobody has looked at yet (section 29): until their noise is known nothing can be told.
export const unseen = () => Object.entries(desk.job?.machine ?? {}).filter(([, list]) => list.some((piece) => piece.part.startsWith("unseen-") && piece.facts?.noise_dba === undefined)).map(([role]) => role);

// Is there enough of a job to be solved?
export const whole = () => Boolean(desk.job?.machine && (desk.job.wishes || wished("wishes.swings")) && (desk.job.budget || wished("budget.total")));

// Two jobs with the same text and the same trial have the same answers, whatever they were called in between.
const numbers = new Map();
export function belongsTo() {
    const text = JSON.stringify(desk.job);
    if (!numbers.has(text)) numbers.set(text, numbers.size + 1);
    return `${numbers.get(text)}:${settings().join("\n")}`;
}
