// Faults that are planted into what the program said: the comparison must find each.
const bump = (text, by, digits) => (Number(text) + by).toFixed(digits);

function eachThing(is, change) {
    for (const role of is.roles ?? []) {
        if (role.as_it_is) change(role.as_it_is);
        for (const part of role.parts ?? []) change(part);
    }
    for (const task of is.tasks ?? []) change(task);
}

export const faults = {
    "index": (is) => eachThing(is, (thing) => { if (Number(thing.index) < 1) thing.index = "1.0000"; }),
    "share": (is) => eachThing(is, (thing) => { thing.share = thing.index; }),
    "prices": (is) => eachThing(is, (thing) => { if (thing.prices.length > 0) thing.prices = [thing.index, thing.index]; }),
    "estimates": (is) => eachThing(is, (thing) => { thing.estimates = thing.index; }),
    "part-left-out": (is) => { for (const role of is.roles ?? []) (role.parts ?? []).pop(); },
    "task-left-out": (is) => { (is.tasks ?? []).pop(); },
    "bundle-left-out": (is) => { if ((is.bundles ?? []).length > 1) is.bundles.pop(); },
    "bundles-turned": (is) => { (is.bundles ?? []).reverse(); },
    "points": (is) => { for (const bundle of is.bundles ?? []) for (const id of Object.keys(bundle.points)) bundle.points[id] = bump(bundle.points[id], 0.001, 3); },
    "regret": (is) => { for (const bundle of is.bundles ?? []) if (Number(bundle.regret) > 0) bundle.regret = bump(bundle.regret, 0.002, 3); },
    "best": (is) => { if ((is.bundles ?? []).length > 1) is.best = 0; },
    "least-regret": (is) => { is.least_regret = is.best; },
    "extremes": (is) => { if ((is.extremes ?? []).length > 1) is.extremes.reverse(); },
    "option-left-out": (is) => { (is.options ?? []).pop(); },
    "option-regret": (is) => { for (const option of is.options ?? []) if (Number(option.regret) > 0) option.regret = bump(option.regret, 0.002, 3); },
    "stays": (is) => { for (const option of is.options ?? []) if (Number(option.stays) < 1) option.stays = "1.0000"; },
    "range-from": (is) => { for (const option of is.options ?? []) for (const ends of Object.values(option.weights)) if (Number(ends[0]) > 0) ends[0] = bump(ends[0], 0.0002, 4); },
    "range-to": (is) => { for (const option of is.options ?? []) for (const ends of Object.values(option.weights)) if (Number(ends[1]) < 1) ends[1] = "1.0000"; },
    "range-left-out": (is) => { for (const option of is.options ?? []) delete option.weights[Object.keys(option.weights)[0]]; },
    "ranges-anyway": (is) => { for (const option of is.options ?? []) if (Object.keys(option.weights).length === 0) option.weights = { quiet: ["0.1000", "0.2000"] }; },
    "value": (is, asks) => { for (const question of asks.questions ?? []) if (Number(question.value) > 0) question.value = bump(question.value, 0.001, 3); },
    "ask-first": (is, asks) => { if (typeof asks.ask === "number") asks.ask = 0; },
    "ask-anyway": (is, asks) => { if (asks.ask === null && (asks.questions ?? []).length > 0) asks.ask = 0; },
    "worth": (is, asks) => { for (const question of asks.questions ?? []) if (question.worth) question.worth = bump(question.worth, 0.001, 3); },
    "answers-turned": (is, asks) => { for (const question of asks.questions ?? []) question.answers.reverse(); },
    "bought-alike": (is, asks) => { for (const question of asks.questions ?? []) for (const answer of question.answers) if (answer.bundle > 0) answer.bundle = 0; },
    "question-left-out": (is, asks) => { (asks.questions ?? []).pop(); },
    "nobody-answers": (is, asks) => { for (const question of asks.questions ?? []) for (const answer of question.answers) if (answer.bundle === null) answer.bundle = 0; },
};

// answers_faults.mjs --list: their names.
if (process.argv[2] === "--list") console.log(Object.keys(faults).join("\n"));
