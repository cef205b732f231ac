// The curve as a staircase above the slider: drawn once, then only the mark moves. Its numbers stand in the table and in the words.
import { shape } from "./dom.js";

const wide = 1000, high = 200, foot = 4;

export class Stair {
    constructor() {
        this.line = shape("path", { class: "stair-line" });
        this.ground = shape("path", { class: "stair-ground" });
        this.mark = shape("line", { class: "stair-mark", y1: 0, y2: high });
        this.foot = shape("circle", { class: "stair-foot", r: 7, cx: 0, cy: 0 });
        this.client = shape("line", { class: "stair-client", y1: 0, y2: high });
        this.node = shape("svg", { class: "stair", viewBox: `0 -8 ${wide} ${high + 12}`, preserveAspectRatio: "none", "aria-hidden": "true", focusable: "false" },
            this.ground, this.line, this.client, this.mark);
        this.top = 1;
        this.most = 1;
    }

    // steps: [{cost, points}] rising; top: the sum at the right edge.
    draw(steps, top, client) {
        this.top = Math.max(1, top);
        this.most = Math.max(1, steps.length > 0 ? steps.at(-1).points : 1);
        let path = "";
        for (const [k, step] of steps.entries()) path += `${k === 0 ? `M${this.x(step.cost)} ${this.y(0)}V` : `H${this.x(step.cost)}V`}${this.y(step.points)}`;
        if (path) path += `H${wide}`;
        this.line.setAttribute("d", path);
        this.ground.setAttribute("d", path && `${path}V${high}H${this.x(steps[0].cost)}Z`);
        this.put(this.client, client);
    }

    x(cost) { return Math.round(Math.min(1, cost / this.top) * wide * 10) / 10; }
    y(points) { return Math.round((high - foot - (points / this.most) * (high - 2 * foot)) * 10) / 10; }
    put(line, sum) {
        line.setAttribute("x1", this.x(sum));
        line.setAttribute("x2", this.x(sum));
    }
    at(sum) { this.put(this.mark, sum); }
}
