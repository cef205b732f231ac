// What an interview must come to, written from catalog/FORMATS.md section 31 alone: from the draft
// and the answers that counted, the scenario and the questions that had to be asked.
import { readFileSync, readdirSync } from "node:fs";
import { join } from "node:path";

export const TOPICS = ["complaint", "uses", "rates", "order", "worth", "taste", "budget", "later",
    "keep", "avoid", "limits", "surprise"];

const read = (folder, name) => JSON.parse(readFileSync(join(folder, name), "utf8"));

export function readCatalog(folder) {
    const parts = readdirSync(join(folder, "parts")).filter((name) => name.endsWith(".json"))
        .flatMap((name) => read(join(folder, "parts"), name).parts);
    return {
        interview: read(folder, "interview.json"),
        complaints: read(folder, "complaints.json").complaints,
        uses: read(folder, "uses.json").uses,
        criteria: read(folder, "criteria.json").criteria,
        surprises: read(folder, "proposal.json").surprises,
        roles: read(folder, "roles.json").roles.map((role) => role.role).sort(),
        makers: [...new Set(parts.map((part) => part.maker).filter((maker) => maker))].sort(),
    };
}

// ---- money, in hundredths: the shipped catalog's currency has two digits --------------------------

export const minor = (text) => {
    const [whole, part = ""] = text.split(".");
    return Number(whole) * 100 + Number(part.padEnd(2, "0"));
};
export const money = (amount) => `${Math.floor(amount / 100)}.${String(amount % 100).padStart(2, "0")}`;

// ---- sorting ---------------------------------------------------------------------------------------

function clauses(text) {
    const list = [];
    let from = 0;
    for (let i = 0; i <= text.length; i++) {
        const c = text[i];
        const point = c === "." && /[0-9]/.test(text[i - 1] ?? "") && /[0-9]/.test(text[i + 1] ?? "");
        if (c !== undefined && (!".;!?".includes(c) || point)) continue;
        list.push(text.slice(from, i).trim());
        from = i + 1;
    }
    return list;
}

const wordsOf = (clause) => clause.replace(/[A-Z]/g, (c) => c.toLowerCase()).replace(/\u2019/g, "'")
    .split(/[^a-z0-9'\u0080-\u{10ffff}]+/u).filter((word) => word);

function matches(words, at, phrase) {
    const open = phrase.endsWith("*");
    const wanted = (open ? phrase.slice(0, -1) : phrase).split(" ");
    for (let i = 0; i < wanted.length; i++) {
        const word = words[at + i];
        if (word === undefined) return 0;
        const last = i === wanted.length - 1;
        if (open && last ? !word.startsWith(wanted[i]) : word !== wanted[i]) return 0;
    }
    return wanted.length;
}

export function sorted(catalog, text) {
    const phrases = [...(catalog.interview.not ?? []).map((words) => ({ words, not: true })),
        ...(catalog.interview.fine ?? []).map((words) => ({ words, fine: true })),
        ...catalog.interview.words.flatMap((group) =>
            group.words.map((words) => ({ words, complaint: group.complaint })))];
    const found = new Map();
    for (const clause of clauses(text)) {
        const words = wordsOf(clause);
        let free = 0, told = [];
        for (let at = 0; at < words.length;) {
            let best = null, length = 0;
            for (const phrase of phrases) {
                const used = matches(words, at, phrase.words);
                if (used > length || (used > 0 && used === length && phrase.words.length > best.words.length)) {
                    best = phrase;
                    length = used;
                }
            }
            if (best?.not) free = at + length + 2;
            else if (best && at >= free) {
                if (best.fine) told = [];
                else told.push(best.complaint);
            }
            at += Math.max(length, 1);
        }
        for (const complaint of told) {
            const list = found.get(complaint) ?? [];
            if (!list.join("; ").includes(clause)) list.push(clause);
            found.set(complaint, list);
        }
    }
    return [...found].map(([complaint, list]) => ({ complaint, words: list.join("; ") }));
}

// What tells of a danger: its clauses, danger by danger as they were first heard.
export function dangers(catalog, text) {
    const found = new Map();
    if (text.toLowerCase() === "none") return [];
    for (const clause of clauses(text)) {
        const words = wordsOf(clause);
        for (const danger of catalog.interview.dangers ?? []) {
            if (!words.some((_, at) => danger.words.some((phrase) => matches(words, at, phrase) > 0))) continue;
            const list = found.get(danger) ?? [];
            if (!list.join("; ").includes(clause)) list.push(clause);
            found.set(danger, list);
        }
    }
    return [...found].flatMap(([danger, list]) => [`The client says: "${list.join("; ")}".`, danger.says]);
}

// ---- weights -----------------------------------------------------------------------------------------

function centroid(ids) {
    const weights = {};
    ids.forEach((id, k) => {
        weights[id] = 0;
        for (let i = k + 1; i <= ids.length; i++) weights[id] += 1 / i / ids.length;
    });
    return weights;
}

function weightsOf(wishes) {
    if (wishes?.ranks) return centroid(wishes.ranks);
    const swings = Object.entries(wishes?.swings ?? {}).filter(([id, swing]) => id !== "note" && swing > 0);
    const sum = swings.reduce((all, [, swing]) => all + swing, 0);
    return Object.fromEntries(swings.map(([id, swing]) => [id, swing / sum]));
}

// ---- the whole ------------------------------------------------------------------------------------------

const clone = (value) => value === undefined ? undefined : JSON.parse(JSON.stringify(value));

export function mustGo(draft) {
    const wishes = draft.wishes ?? {};
    return (role, piece) => (wishes.replace ?? []).includes(role) || (wishes.replace ?? []).includes(piece) ||
        (draft.musts ?? []).some((must) => must.replace === piece);
}

export function stayers(catalog, draft) {
    const goes = mustGo(draft), list = [];
    for (const role of catalog.roles) {
        const pieces = (draft.machine[role] ?? []).map((piece) => piece.part).sort();
        if (pieces.length === 0) continue;
        list.push({ role, piece: null, goes: pieces.some((piece) => goes(role, piece)) });
        if (pieces.length > 1)
            for (const piece of pieces) list.push({ role, piece, goes: goes(role, piece) });
    }
    return list;
}

// `said`: topic -> undefined (not asked), { skipped: true } or { meaning }.
export function right(catalog, draft, said) {
    const form = catalog.interview, asked = [], out = clone(draft);
    const answered = (topic) => said[topic] !== undefined && !said[topic].skipped;
    const meaning = (topic) => said[topic].meaning;
    const ask = (topic) => { if (form.questions.some((q) => q.question === topic)) asked.push(topic); };
    const wishes = (out.wishes ??= {});
    const before = draft.wishes ?? {};

    // complaints
    ask("complaint");
    if (answered("complaint")) {
        if (meaning("complaint").text !== "none") asked.push("sorted");
        out.complaints = meaning("complaint").list;
        if (out.complaints.length === 0) delete out.complaints;
        const beware = [...new Set([...draft.beware ?? [], ...dangers(catalog, meaning("complaint").text)])];
        if (beware.length > 0) out.beware = beware;
    }
    const complains = (id) => (out.complaints ?? []).some((one) => one.complaint === id);

    // uses and rates
    ask("uses");
    const named = before.uses ?? [];
    let uses = answered("uses") ? meaning("uses") : named.length > 0
        ? named.map(({ use, share }) => ({ use, share })) : clone(form.assumes.uses);
    if (answered("uses") && Math.abs(uses.reduce((sum, use) => sum + Math.round(use.share * 1000), 0) - 100000) > 0)
        asked.push("shares");
    ask("rates");
    const rates = answered("rates") ? meaning("rates") : {};
    if (answered("uses") || answered("rates") || named.length === 0)
        wishes.uses = uses.map(({ use, share }) => {
            const one = { ...clone(named.find((old) => old.use === use) ?? {}), use, share };
            if (rates === "none") { delete one.rate_now; delete one.rate_wanted; }
            else if (rates[use]) {
                one.rate_now = rates[use].now;
                if (rates[use].wanted) one.rate_wanted = rates[use].wanted; else delete one.rate_wanted;
            }
            return one;
        });
    if (rates !== "none")
        uses.forEach(({ use }) => { if (rates[use]?.wanted && rates[use].wanted <= rates[use].now) asked.push("rate-down"); });

    // what matters
    ask("order");
    const ids = form.swings.map((swing) => swing.criterion);
    const old = weightsOf(before), weighed = Object.keys(old).length;
    const stands = weighed > 1 || (weighed === 1 && named.length > 0);
    const others = Object.keys(old).filter((id) => !ids.includes(id));
    let weights = Object.fromEntries(ids.map((id) => [id, old[id] ?? 0]));
    if (answered("order")) {
        const order = meaning("order").map((i) => ids[i]);
        if (order.length > 1) ask("worth");
        let worth = null;
        if (answered("worth") || others.length > 0) {
            worth = {};
            const given = answered("worth") ? meaning("worth") : { preset: form.presets[0] };
            order.forEach((id, k) => {
                worth[id] = given.preset ? given.preset.worth[Math.min(k, given.preset.worth.length - 1)]
                    : k === 0 ? 100 : given.numbers[ids.indexOf(id)];
            });
        }
        weights = worth ? Object.fromEntries(ids.map((id) => [id, worth[id] ?? 0]))
            : { ...Object.fromEntries(ids.map((id) => [id, 0])), ...centroid(order) };
        delete wishes.ranks;
        if (worth) {
            const swings = before.swings ? clone(before.swings) : Object.fromEntries(Object.entries(old)
                .map(([id, weight]) => [id, Math.round(weight * 100000) / 1000]));
            for (const id of ids) delete swings[id];
            for (const id of order) if (worth[id] > 0) swings[id] = worth[id];
            wishes.swings = swings;
        } else {
            delete wishes.swings;
            wishes.ranks = order;
        }
        if (answered("worth") && worth)
            for (let k = 1; k < order.length; k++)
                if (worth[order[k]] > worth[order[k - 1]]) asked.push("rank-against-worth");
    } else if (!stands) {
        delete wishes.swings;
        wishes.ranks = [...form.assumes.order];
        weights = { ...Object.fromEntries(ids.map((id) => [id, 0])), ...centroid(form.assumes.order) };
    }
    if (answered("complaint") || answered("order"))
        for (const check of form.checks)
            if (check.check === "weight" && complains(check.complaint) && !(weights[check.criterion] > 0))
                asked.push("weight");
    if (answered("order")) {
        const order = meaning("order").map((i) => ids[i]);
        for (const id of order.slice(1)) if (weights[id] > 0) asked.push("trade");
    }

    // taste
    const looks = catalog.criteria.filter((c) => c.kind === "looks").some((c) => weights[c.id] > 0);
    if (looks) ask("taste");
    if (answered("taste")) {
        const taste = clone(before.taste ?? {});
        for (const pair of form.pairs) delete taste[pair.fact];
        const sides = Object.entries(meaning("taste"));
        for (const [pair, side] of sides) taste[form.pairs[pair].fact] = [...form.pairs[pair][side].tokens].sort();
        if (Object.keys(taste).length > 0) wishes.taste = taste; else delete wishes.taste;
        if (sides.length === 0) asked.push("taste-unsaid");
    }

    // money
    ask("budget");
    const budget = out.budget ?? {};
    let total = minor(draft.budget?.total ?? "0");
    const reserveBefore = minor(draft.budget?.reserve ?? "0"), sundries = minor(draft.budget?.sundries ?? "0");
    let total_said = false;
    if (answered("budget")) {
        total = meaning("budget").total;
        total_said = true;
        if (meaning("budget").reserve !== undefined) budget.reserve = money(meaning("budget").reserve);
        if (total > 0 && (meaning("budget").reserve ?? reserveBefore) + sundries >= total) asked.push("reserve");
    }
    if (draft.date) ask("later");
    const later = answered("later") ? meaning("later") : null;
    for (const one of later?.sums ?? [])
        if (one.on <= draft.date) { asked.push("later-before"); total += one.sum; total_said = true; }
    if (total_said || draft.budget?.total === undefined) budget.total = money(total);
    out.budget = budget;
    if (later && later.sums.length === 0) delete out.phases;
    else if (later) {
        const quotes = Object.fromEntries((draft.phases?.sums ?? []).map((sum) => [sum.on, sum.quotes]));
        const put = (on, sum) => ({ on, sum: money(sum), ...(quotes[on] ? { quotes: clone(quotes[on]) } : {}) });
        out.phases = { ...clone(draft.phases ?? {}), until: later.until,
            sums: [put(draft.date, total), ...later.sums.filter((one) => one.on > draft.date)
                .map((one) => put(one.on, one.sum))] };
    }

    // what stays
    const list = stayers(catalog, draft);
    ask("keep");
    if (answered("keep")) {
        const kept = meaning("keep") === "all" ? list.filter((one) => !one.goes) : meaning("keep").map((i) => list[i]);
        const roles = new Set(kept.filter((one) => one.piece === null).map((one) => one.role));
        const keep = list.filter((one) => one.piece === null ? roles.has(one.role)
            : !roles.has(one.role) && kept.includes(one)).map((one) => one.piece ?? one.role);
        for (const role of catalog.roles)
            if ((before.keep ?? []).includes(role) && !list.some((one) => one.role === role)) keep.push(role);
        if (keep.length > 0) wishes.keep = keep; else delete wishes.keep;
        const stays = (one) => roles.has(one.role) || kept.includes(one);
        const several = (one) => one.piece === null && draft.machine[one.role].length > 1;
        if (list.every((one) => several(one) || stays(one)) &&
            (answered("budget") ? meaning("budget").total : minor(draft.budget?.total ?? "0")) > 0)
            asked.push("all-kept");
    }
    ask("avoid");
    if (answered("avoid")) {
        const avoid = [...meaning("avoid").map((i) => catalog.makers[i]).sort(),
            ...(before.avoid ?? []).filter((name) => !catalog.makers.includes(name))];
        if (avoid.length > 0) wishes.avoid = avoid; else delete wishes.avoid;
    }
    ask("limits");
    if (answered("limits")) {
        const names = { loudness: "loudness_sone", days: "days", minutes: "bench_minutes" };
        const limits = clone(before.limits ?? {});
        for (const [name, number] of Object.entries(meaning("limits")))
            if (number === "none") delete limits[names[name]]; else limits[names[name]] = number;
        if (Object.keys(limits).length > 0) wishes.limits = limits; else delete wishes.limits;
    }
    ask("surprise");
    if (answered("surprise")) out.surprise = catalog.surprises[meaning("surprise")].surprise;
    asked.push("agree");

    // what was assumed
    const isThere = {
        complaint: (draft.complaints ?? []).length > 0, uses: named.length > 0,
        rates: named.some((use) => use.rate_now), order: stands, worth: false,
        taste: Object.keys(before.taste ?? {}).some((name) => name !== "note"),
        budget: minor(draft.budget?.total ?? "0") > 0, later: draft.phases !== undefined,
        keep: (before.keep ?? []).length > 0, avoid: (before.avoid ?? []).length > 0,
        limits: ["loudness_sone", "days", "bench_minutes"].some((name) => before.limits?.[name] !== undefined),
        surprise: draft.surprise !== undefined,
    };
    const sentence = (topic) => form.questions.find((q) => q.question === topic).assumed;
    let assumed = (draft.assumed ?? []).filter((text) => {
        const topic = TOPICS.find((t) => sentence(t) === text);
        if (topic === undefined) return true;
        if (topic === "worth" && answered("order")) return said.worth?.skipped === true;
        return !answered(topic);
    });
    for (const topic of TOPICS)
        if (said[topic]?.skipped && !isThere[topic] && !assumed.includes(sentence(topic))) assumed.push(sentence(topic));
    if (assumed.length > 0) out.assumed = assumed; else delete out.assumed;
    return { scenario: out, asked };
}
