// What the client wants: what counts and how much, uses, limits, money, what stays and what goes. All of it is tried first.
import { button, card, el, field, fresh, table } from "./dom.js";
import { currencyCode, minor, points, told } from "./amounts.js";
import { answers } from "./asked.js";
import { bringsWords, bundleLines } from "./bundle.js";
import { conflictNodes } from "./conflict.js";
import { attempt, desk, nameOf, toggle, whole, wished } from "./hand.js";
import { interviewPlace } from "./interview.js";
import { Pane } from "./pane.js";

const swingOf = (id) => desk.words.swings?.find((one) => one.criterion === id)?.gain ?? ({ speed: "twice as fast", quiet: "half as loud", looks: "all of it to your taste" }[id] ?? "from worst to best");
const refreshers = [];
const bound = (input, value) => {
    refreshers.push(() => { if (document.activeElement !== input) input.value = value(); });
    input.value = value();
    return input;
};

/* ---- swings -------------------------------------------------------------------------------------------------- */

// A range and a field for the same number; tried when it is let go.
function swing(id) {
    const path = `wishes.swings.${id}`;
    const now = () => String(wished(path) ?? 0);
    const label = fresh("swing");
    const words = () => (Number(slide.value) === 0 ? "does not count" : `${slide.value} of 100`);
    const slide = el("input", { type: "range", min: 0, max: 100, step: 1, class: "slide", "aria-labelledby": label });
    const typed = el("input", { type: "number", min: 0, max: 1000, step: 1, inputmode: "numeric", class: "small", "aria-label": `${nameOf("criteria", id)}, as a number` });
    const spoken = () => slide.setAttribute("aria-valuetext", words());
    slide.addEventListener("input", () => {
        typed.value = slide.value;
        spoken();
    });
    const settle = (value) => {
        if (Number.isInteger(value) && value >= 0 && value <= 1000) attempt(path, value);
    };
    slide.addEventListener("change", () => settle(Number(slide.value)));
    typed.addEventListener("change", () => settle(Number(typed.value)));
    bound(slide, now);
    bound(typed, now);
    refreshers.push(spoken);
    spoken();
    return el("div", { class: "swing" }, el("span", { id: label }, el("b", {}, nameOf("criteria", id)), `: ${swingOf(id)}`), slide, typed);
}

function swings() {
    const ranks = wished("wishes.ranks");
    if (ranks) return [
        el("p", {}, `Only the order was told: ${ranks.map((id) => nameOf("criteria", id)).join(", then ")}.`),
        el("p", {}, button("Say how much each is worth", () => {
            desk.trial.set("wishes.swings", Object.fromEntries(ranks.map((id, k) => [id, Math.round(100 / (k + 1))])));
            attempt("wishes.ranks", null);
        })),
    ];
    const all = desk.words.criteria.map((one) => one.id ?? one.criterion);
    return [el("p", { class: "quiet" }, "What is each worth to the client beside the others? Only how they stand to each other counts: 40 beside 80 is half."), ...all.map(swing)];
}

/* ---- uses ------------------------------------------------------------------------------------------------------ */

function number(path, label, { placeholder = "", integer = false } = {}) {
    const input = el("input", { type: "text", inputmode: integer ? "numeric" : "decimal", class: "small", "aria-label": label, placeholder, autocomplete: "off" });
    input.addEventListener("change", () => {
        const text = input.value.trim();
        const good = text === "" || (integer ? /^\d{1,6}$/ : /^\d{1,6}(\.\d{1,3})?$/).test(text);
        input.setAttribute("aria-invalid", String(!good));
        if (good) attempt(path, text === "" ? null : Number(text));
    });
    return bound(input, () => String(wished(path) ?? ""));
}

function uses() {
    const list = wished("wishes.uses") ?? [];
    const there = list.map((one) => one.use);
    const others = desk.words.uses.map((one) => one.id ?? one.use).filter((id) => !there.includes(id));
    const more = el("select", { "aria-label": "Another use" }, others.map((id) => el("option", { value: id }, nameOf("uses", id))));
    const unitOf = (id) => desk.words.uses.find((one) => (one.id ?? one.use) === id)?.unit ?? "";
    return [
        there.length > 0 ? table("What the machine is used for", ["use", "share", "today", "wanted", el("span", { class: "hearable" }, "leave out")], there.map((id) => {
            const name = nameOf("uses", id);
            return [`${name} (${unitOf(id)})`, number(`wishes.uses.${id}.share`, `${name}: share`), number(`wishes.uses.${id}.rate_now`, `${name}: today, ${unitOf(id)}`),
                number(`wishes.uses.${id}.rate_wanted`, `${name}: wanted, ${unitOf(id)}`),
                there.length > 1 ? button("leave out", () => attempt(`wishes.uses.${id}`, null), { class: "wish", "aria-label": `leave out ${name}` }) : ""];
        })) : el("p", {}, "No use is named yet."),
        others.length > 0 && el("p", { class: "row" }, more, button("Add this use", () => attempt("wishes.uses", [...list, { use: more.value, share: 20 }]))),
    ].filter(Boolean);
}

/* ---- limits and money ------------------------------------------------------------------------------------------- */

function sum(path, label, more) {
    const input = el("input", { type: "text", inputmode: "decimal", class: "small", autocomplete: "off" });
    input.addEventListener("change", () => {
        const text = input.value.trim();
        const good = (text === "" && path !== "budget.total") || (minor(text) !== null && minor(text) >= 0);
        input.setAttribute("aria-invalid", String(!good));
        if (good) attempt(path, text === "" ? null : text);
    });
    bound(input, () => wished(path) ?? "");
    return field(`${label}, ${currencyCode()}`, input, more);
}

const limits = () => [
    field("Loudness at the seat, at most (sone)", number("wishes.limits.loudness_sone", "Loudness at the seat, at most (sone)"), "The machine may always be as loud as it is today."),
    field("Days until the last part is here, at most", number("wishes.limits.days", "Days until the last part is here, at most", { integer: true })),
    field("Bench work, at most (minutes)", number("wishes.limits.bench_minutes", "Bench work, at most (minutes)", { integer: true })),
    field(`Money that brings fewer points per 100 ${currencyCode()} is kept`, number("wishes.worth_at_least", "Points per 100 at the least")),
];
const moneyFields = () => [sum("budget.total", "Money in all"), sum("budget.reserve", "of it kept back", "For what nobody can foresee."), sum("budget.sundries", "of it for sundries")];

/* ---- what stays, what goes ---------------------------------------------------------------------------------------- */

const lists = { keep: "Stays as it is", replace: "Goes out", avoid: "Is not bought" };
const called = (name) => (desk.words.roles.some((one) => (one.id ?? one.role) === name) ? nameOf("roles", name) : nameOf("parts", name));

function listOf(list) {
    const names = wished(`wishes.${list}`) ?? [];
    return el("div", { role: "group", "aria-label": lists[list] }, el("h3", {}, lists[list]),
        names.length === 0 ? el("p", { class: "quiet" }, "nothing named") : el("ul", { class: "chosen" }, names.map((name) => el("li", {}, called(name), " ",
            button("take back", () => toggle(list, name), { class: "wish", "aria-label": `take back: ${lists[list].toLowerCase()}: ${called(name)}` })))));
}

function wishLists() {
    const roles = Object.keys(desk.job?.machine ?? {});
    const role = el("select", { "aria-label": "A place of the machine" }, roles.map((one) => el("option", { value: one }, nameOf("roles", one))));
    const maker = el("input", { type: "text", size: 16, autocomplete: "off", spellcheck: "false" });
    return [
        ...Object.keys(lists).map(listOf),
        el("p", { class: "row" }, role, button("Keep all of it", () => toggle("keep", role.value)), button("All of it goes", () => toggle("replace", role.value))),
        el("div", { class: "row" }, field("A maker or part that is not bought", maker), button("Avoid it", () => {
            const name = maker.value.trim();
            if (name) toggle("avoid", name);
        })),
    ];
}

/* ---- taste ------------------------------------------------------------------------------------------------------------ */

function taste() {
    const pairs = desk.words.pairs ?? [];
    const set = wished("wishes.taste") ?? {};
    if (pairs.length === 0) return [el("p", {}, Object.entries(set).map(([fact, tokens]) => `${fact.replaceAll("_", " ")}: ${tokens.join(" or ")}`).join("; ") || "Nothing was said. The interview asks for it.")];
    return pairs.map((pair) => {
        const group = fresh("taste"), path = `wishes.taste.${pair.fact}`;
        const now = JSON.stringify(set[pair.fact] ?? null);
        const choice = (name, tokens) => el("label", {}, el("input", { type: "radio", name: group, checked: now === JSON.stringify(tokens) || null, on: { change: () => attempt(path, tokens) } }), ` ${name} `);
        const other = set[pair.fact] && ![pair.a.tokens, pair.b.tokens].some((one) => JSON.stringify(one) === now);
        return el("fieldset", { class: "choice" }, el("legend", {}, pair.fact.replaceAll("_", " ")), choice(pair.a.name, pair.a.tokens), choice(pair.b.name, pair.b.tokens),
            other ? choice(set[pair.fact].join(" or "), set[pair.fact]) : "", choice("no matter", null));
    });
}

/* ---- the answer beside it ------------------------------------------------------------------------------------------------ */

const beside = new Pane(answers.brief, (plan) => {
    const best = plan.bundles?.[0];
    if (!best) return conflictNodes(plan);
    const brings = bringsWords(best);
    return [
        el("p", { class: "headline" }, `${points(best.points)} points for ${told(best.cost)}`),
        el("ul", { class: "feel" }, (brings.length > 0 ? brings : ["Nothing that would be noticed."]).map((one) => el("li", {}, one))),
        el("ul", { class: "lines" }, bundleLines(best).map((one) => el("li", {}, one))),
        el("p", {}, el("a", { href: "#money" }, "All of it, and other sums")),
    ];
}, { what: "The best bundle" });

/* ---- the view --------------------------------------------------------------------------------------------------------------- */

const parts = { swings: el("div"), uses: el("div"), limits: el("div"), money: el("div"), lists: el("div", { class: "lists" }), taste: el("div") };
const talk = el("div");
let interview = null;
const wishCards = [card("What counts", {}, parts.swings), card("Uses", {}, parts.uses), card("Limits", {}, parts.limits), card("Money", {}, parts.money), card("Stays, goes, is not bought", {}, parts.lists), card("Taste", {}, parts.taste)];
const answerCard = card("The best bundle now", { class: "answer" }, beside.node);
let shape = null;

export const view = {
    id: "wishes", name: "Wishes",
    node: el("div", { class: "grid-two" }, el("div", { class: "column" }, ...wishCards), el("div", { class: "column" }, answerCard, card("The interview", {}, talk))),
    show() { this.refresh(); },
    refresh() {
        beside.refresh();
        if (interview === null && desk.job) {
            interview = interviewPlace(() => this.refresh());
            talk.replaceChildren(interview.node);
        } else if (!desk.job) talk.replaceChildren(el("p", {}, "First the machine: the interview asks about its pieces."));
        interview?.refresh();
        const there = whole();
        for (const one of [...wishCards, answerCard]) one.hidden = !there;
        if (!there) return;
        // Fields are made anew only where something came or went; numbers are put in, so that the focus stays.
        const now = JSON.stringify([wished("wishes.ranks"), (wished("wishes.uses") ?? []).map((one) => one.use), ["keep", "replace", "avoid"].map((list) => wished(`wishes.${list}`)),
            wished("wishes.taste"), desk.words.criteria.length, desk.words.uses.length, desk.sheet]) + this.names;
        if (now !== shape) {
            shape = now;
            const focus = document.activeElement?.getAttribute("aria-label");
            refreshers.length = 0;
            for (const [name, fill] of Object.entries({ swings, uses, limits, money: moneyFields, lists: wishLists, taste })) parts[name].replaceChildren(...fill().flat());
            if (focus && document.activeElement === document.body) [...this.node.querySelectorAll("[aria-label]")].find((one) => one.getAttribute("aria-label") === focus)?.focus();
        }
        for (const act of refreshers) act();
    },
    wishesChanged() {},
    names: 0,
    namesCame() { this.names++; },
};
