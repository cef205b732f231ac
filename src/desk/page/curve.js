// The exact curve, ready for a slider: which step a sum falls on is a search among whole numbers.
import { milli, minor } from "./amounts.js";

export class Curve {
    constructor(answer) {
        this.steps = answer.steps.map((step) => ({ ...step, told: step.cost, cost: minor(step.cost), points: milli(step.points) }));
        this.costs = this.steps.map((step) => step.cost);
    }

    // The last step that the sum pays for; -1: none.
    indexAt(sum) {
        let low = 0, high = this.costs.length;
        while (low < high) {
            const middle = (low + high) >> 1;
            if (this.costs[middle] <= sum) low = middle + 1;
            else high = middle;
        }
        return low - 1;
    }

    get end() { return this.costs.at(-1) ?? 0; }
}
