// The verdict and the money beside it, as the program's own text tells them; only differences of told numbers are made here.
import { currencyCode, milli, minor, money, points, short, told } from "./amounts.js";
import { nameOf } from "./hand.js";

const partsOf = (bundle) => new Map(bundle.swaps.map((swap) => [swap.role, JSON.stringify([swap.out, swap.in].map((list) => list.map((part) => [part.part, part.count])))]));
const tasksOf = (bundle, role) => bundle.tasks.filter((task) => task.role === role).map((task) => task.id).join();

// In which roles two bundles differ.
export function elsewhere(a, b) {
    const left = partsOf(a), right = partsOf(b);
    const roles = new Set([...left.keys(), ...right.keys(), ...a.tasks.map((task) => task.role), ...b.tasks.map((task) => task.role)]);
    return [...roles].filter((role) => left.get(role) !== right.get(role) || tasksOf(a, role) !== tasksOf(b, role)).map((role) => nameOf("roles", role)).sort();
}

const less = (a, b) => short(milli(a) - milli(b));

export function verdictWords(plan) {
    const said = [];
    const { verdict } = plan;
    if (!verdict) return said;
    const best = plan.bundles?.[0];
    if (verdict.at_its_end) said.push("This machine is at its end: the best bundle renews nearly everything that makes it what it is. Think of another machine.");
    const per = verdict.worth_at_least === null ? "" : `${points(verdict.worth_at_least)} points per 100 ${currencyCode()}`;
    if (verdict.advice === "keep") {
        const rate = verdict.best_rate;
        const lead = minor(plan.baseline.cost) > 0 ? `Do what must be done, for ${told(plan.baseline.cost)}, and keep the rest of your money` : "Keep your money";
        said.push(rate ? `${lead}: at its best it brings ${points(rate.points_per_100)} points per 100 ${currencyCode()}, and under ${per} it is to be kept.` : `${lead}: no more of it brings a single point.`);
        if (verdict.first && milli(verdict.first.points) > 0)
            said.push(`Do what ${minor(plan.baseline.cost) > 0 ? "costs no more than that" : "costs nothing"}: it brings ${points(verdict.first.points)} points. Below stands what all the money would buy.`);
    } else if (verdict.advice === "spend-less" && verdict.worthwhile && best) {
        const what = elsewhere(verdict.worthwhile, best);
        said.push(`Worth its money: ${told(verdict.worthwhile.cost)} for ${points(verdict.worthwhile.points)} points. The ${money(minor(best.cost) - minor(verdict.worthwhile.cost))} more that all the money buys bring ${less(best.points, verdict.worthwhile.points)} points${what.length ? ` (${what.join(", ")})` : ""}; under ${per} it is to be kept.`);
    } else if (verdict.advice === "spend") {
        said.push(`Worth its money: spending less loses at least ${points(verdict.worth_at_least)} points for each 100 ${currencyCode()} kept.`);
    }
    return said;
}

export function moneyWords(plan) {
    const best = plan.bundles?.[0];
    if (!best) return [];
    const said = [];
    if (plan.last) {
        const what = elsewhere(plan.last, best);
        said.push(`The last ${money(minor(best.cost) - minor(plan.last.cost))} (from ${told(plan.last.cost)} to ${told(best.cost)}) bring ${less(best.points, plan.last.points)} points${what.length ? ` (${what.join(", ")})` : ""}.`);
    }
    if (plan.next) {
        const what = elsewhere(best, plan.next);
        said.push(`From ${told(plan.next.cost)} on, ${money(minor(plan.next.cost) - minor(plan.budget))} more than there is to spend, there are ${less(plan.next.points, best.points)} points more${what.length ? ` (${what.join(", ")})` : ""}.`);
    }
    return said;
}
