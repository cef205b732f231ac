// A small proposal written by hand, with its JSON: what the checks are tried on. It is not made by the program, and holds
// everything that a page must hold; plant a fault in it and some check must complain (faults.mjs).
import { createHash } from "node:crypto";

const cents = (value) => value.toFixed(2);
const stepsOf = [[12.5, 0.4], [40, 3.2], [77.86, 16.8], [121, 19.25], [190, 27.1], [263.4, 33.3], [350, 36], [418.2, 39.05],
    [500, 40.6], [560, 41.125], [612, 42.5], [640, 42.9]];

function bundleOf([cost, points], parts) {
    const goods = parts.reduce((sum, [, price]) => sum + price, 0), labour = 9, charges = 6.4, prices = 2.5, offers = 20;
    const tax = Math.round((cost - (goods - offers + prices + charges + labour)) * 100) / 100;
    return {
        points: points.toFixed(3), cost: cents(cost),
        swaps: parts.map(([name, price], i) => ({ role: `role-${i}`, out: [], in: [{ part: `part-${i}`, name, count: 1,
            price: cents(price) }], cost: cents(price) })),
        tasks: [{ id: "clean", name: "clean out the dust" }],
        bill: { parts: cents(goods), offers: cents(offers), tasks: cents(prices), charges: cents(charges), labour: cents(labour),
            tax: cents(tax), total: cents(cost), left: cents(612 - cost) },
        charges: [{ id: "delivery-shop", amount: "4.90" }, { id: "recycling", amount: "1.50" }],
        sound: { loudness_sone: "1.85" },
    };
}

const optionOf = (option, at, parts, rate) => ({
    option, bundle: bundleOf(stepsOf[at], parts), proved: true, days_without: 2, asks: [], hazards: [],
    promised: [{ use: "fast-play", rate, low: rate - 4.25, high: rate + 6.5 }],
    next_step: { more_cost: cents(stepsOf[at + 1][0] - stepsOf[at][0]), more_points: (stepsOf[at + 1][1] - stepsOf[at][1]).toFixed(3) },
    next_hundred: { cost: "0.00", points: "0.000", more_points: "2.250" },
});

export const curve = { status: "optimal", steps: stepsOf.map(([cost, points]) => ({ cost: cents(cost), points: points.toFixed(3) })) };
export const answer = {
    schema: 1, status: "optimal", title: "A desk for the test", currency: "EUR",
    budget: "612.00", budget_total: "650.00", reserve: "30.00", sundries: "8.00", valid_until: "2026-03-12",
    curve: { to: "765.00", proved: true, steps: curve.steps }, complaints: [],
    options: [optionOf("first", 2, [["Alder Fan", 60]], 61), optionOf("middle", 6, [["Alder Fan", 60], ["Birch Board", 240.5]], 83),
        optionOf("full", 10, [["Alder Fan", 60], ["Birch Board", 240.5], ["Cedar Card", 299]], 104)],
};
const regionOf = (number, area, of_likely, cost, { swaps, tasks }) => ({ number, area, of_likely, cost, swaps, tasks });
const other = bundleOf(stepsOf[5], [["Alder Fan", 60], ["Elm Cover", 110], ["Fir Foot", 2], ["Gorse Grille", 3]]);
export const map = {
    status: "optimal", here: 1, nearest_change: { share: 0.07, from: "speed", to: "quiet", then: 2 },
    axes: [["speed", 1], ["quiet", 2], ["looks", 4]].map(([criterion, best]) => ({ criterion, best })),
    regions: [regionOf(1, 0.8, 0.9, "612.00", answer.options[2].bundle), regionOf(2, 0.151, 0.1, "263.40", other),
        regionOf(3, 0.03, 0, "100.00", { swaps: [], tasks: other.tasks }), regionOf(4, 0.018, 0, "77.00", { swaps: [], tasks: [] }),
        regionOf(5, 0.001, 0, "70.00", { swaps: other.swaps, tasks: [] })],
};
export const plan = { status: "optimal", bundles: [answer.options[2].bundle] };

const style = `:root { color: #1b1b1b; background: #ffffff; font: 100%/1.4 "DejaVu Sans", sans-serif; }
body { margin: 0 auto; max-width: 60rem; padding: 0 0.75rem; background: #ffffff; overflow-wrap: break-word; }
table { border-collapse: collapse; } caption { text-align: left; font-weight: 700; }
th, td { padding: 0.2rem 0.6rem; text-align: left; border-bottom: 1px solid #6b6b6b; }
.options { display: grid; grid-template-columns: repeat(auto-fit, minmax(min(15rem, 100%), 1fr)); gap: 1rem; }
.wide { overflow-x: auto; } .small { color: #595959; }
input { font: inherit; } #sum { border: 1px solid #595959; max-width: 8rem; min-height: 1.75rem; }
#slider { width: 100%; min-height: 1.75rem; } :focus-visible { outline: 3px solid #0b4f8a; outline-offset: 2px; }
svg { width: 100%; height: auto; max-width: 40rem; } svg text { font-size: 16px; fill: #1b1b1b; }
.steps { stroke: #0b4f8a; stroke-width: 2; fill: none; } .grid { stroke: #dddddd; }
.sign { border-bottom: 1px solid #1b1b1b; height: 3rem; }
@page { margin: 15mm; }
@media print { html { font-size: 8.5pt; } #try { display: none; } .wide { overflow: visible; } th, td { padding: 0 0.3rem; } svg { max-width: 30rem; } }
`;

const script = `(() => {
  const steps = ${JSON.stringify(stepsOf)};
  const box = document.getElementById("try"), slider = document.getElementById("slider");
  const field = document.getElementById("sum"), shown = document.getElementById("shown");
  const points = (value) => value.toFixed(1);
  function words(sum) {
    const step = steps.filter(([cost]) => cost <= sum + 1e-9).pop();
    if (!step) return sum.toFixed(2) + " EUR buys nothing yet: the first step costs " + steps[0][0].toFixed(2) + " EUR";
    return sum.toFixed(2) + " EUR buys " + points(step[1]) + " points";
  }
  function show(sum) {
    slider.value = String(Math.round(sum));
    slider.setAttribute("aria-valuetext", words(sum));
    shown.textContent = words(sum);
  }
  slider.addEventListener("input", () => { field.value = Number(slider.value).toFixed(2); show(Number(slider.value)); });
  field.addEventListener("change", () => {
    if (!/^[0-9]+([.,][0-9]{1,2})?$/.test(field.value.trim())) { shown.textContent = "Please give a sum such as 250 or 250.50"; return; }
    show(Math.min(765, Number(field.value.trim().replace(",", "."))));
  });
  box.hidden = false;
  show(612);
})();
`;

const x = (cost) => (50 + cost * 0.7).toFixed(1), y = (points) => (220 - points * 4.5).toFixed(1);
const line = stepsOf.map(([cost, points], i) =>
    `${i === 0 ? `M${x(cost)} ${y(points)}` : `H${x(cost)} V${y(points)}`}`).join(" ") + ` H${x(765)}`;

const optionHtml = ({ option, bundle, promised, next_step, next_hundred, days_without }) => {
    const is = (name, text) => `<td data-is="${option}.${name}">${text}</td>`;
    const row = (what, name, text) => `<tr><th scope="row">${what}</th>${is(name, text)}</tr>`;
    const [{ rate, low, high }] = promised, title = { first: "The least", middle: "The middle", full: "All of it" }[option];
    return `<section aria-labelledby="o-${option}"><h3 id="o-${option}">${title}</h3>
<ul>${bundle.swaps.map((swap) => `<li>${swap.in[0].name}, ${swap.in[0].price} EUR</li>`).join("")}
<li>${bundle.tasks[0].name}</li></ul>
<div class="wide" tabindex="0" role="region" aria-label="Bill of ${title}"><table><caption>What it costs</caption>
<thead><tr><th scope="col">what</th><th scope="col">how much</th></tr></thead><tbody>
${row("parts", "goods", `${bundle.bill.parts} EUR`)}${row("taken back", "offers", `\u2212${bundle.bill.offers} EUR`)}
${row("consumables", "prices", `${bundle.bill.tasks} EUR`)}${row("delivery", "delivery", "4.90 EUR")}${row("recycling", "charges", "1.50 EUR")}
${row("work", "labour", `${bundle.bill.labour} EUR`)}${row("tax", "tax", `${bundle.bill.tax} EUR`)}
${row("in all", "total", `${bundle.bill.total} EUR`)}${row("points", "points", `${Number(bundle.points).toFixed(1)} points`)}
${row("loudness", "sone", `${bundle.sound.loudness_sone} sone`)}${row("days without it", "days", `${days_without} days`)}
</tbody></table></div>
<p>Play: <span data-is="${option}.rate-fast-play">${rate} frames/s</span>, between
<span data-is="${option}.low-fast-play">${low.toFixed(1)} frames/s</span> and
<span data-is="${option}.high-fast-play">${high.toFixed(1)} frames/s</span>.</p>
<p class="small">The next step costs <span data-is="${option}.next-sum">${next_step.more_cost} EUR</span> more and brings
<span data-is="${option}.next-points">${Number(next_step.more_points).toFixed(2)} points</span>; 100 EUR more bring
<span data-is="${option}.hundred-points">${Number(next_hundred.more_points).toFixed(2)} points</span>.</p></section>`;
};

const body = `<header><p>Bench of the test</p></header>
<main><h1>${answer.title}</h1>
<p>To spend: <span data-is="job.to-spend">${answer.budget} EUR</span>, with <span data-is="job.reserve">${answer.reserve} EUR</span>
in reserve and <span data-is="job.sundries">${answer.sundries} EUR</span> for sundries. Valid until
<span data-is="job.valid-until">${answer.valid_until}</span>.</p>
<section aria-labelledby="wrong"><h2 id="wrong">What is wrong with it</h2><p>It is loud at the seat.</p></section>
<section aria-labelledby="options"><h2 id="options">Three options</h2><div class="options">
${answer.options.map(optionHtml).join("\n")}</div></section>
<section aria-labelledby="money"><h2 id="money">What money buys</h2>
<svg viewBox="0 0 600 250" role="img" aria-label="Points against money, a staircase from 12.50 to 765.00 EUR">
<g data-decor><line class="grid" x1="50" y1="20" x2="590" y2="20"/><line class="grid" x1="50" y1="120" x2="590" y2="120"/></g>
<path class="steps" d="${line}"/><text x="50" y="240">0 EUR</text><text x="520" y="240">765 EUR</text></svg>
<div id="try" hidden><label for="slider">A sum</label> <input id="slider" type="range" min="0" max="765" step="1" value="612">
<label for="sum">or typed, in EUR</label> <input id="sum" type="text" inputmode="decimal" value="612.00" aria-describedby="shown">
<output id="shown" for="slider sum"></output></div>
<div class="wide" tabindex="0" role="region" aria-label="The curve in numbers"><table><caption>Each step of the curve</caption>
<thead><tr><th scope="col">EUR</th><th scope="col">points</th></tr></thead><tbody>
${stepsOf.map(([cost, points]) => `<tr><td>${cents(cost)}</td><td>${points.toFixed(1)}</td></tr>`).join("\n")}
</tbody></table></div></section>
<section aria-labelledby="weighing"><h2 id="weighing">Other ways to weigh</h2><p>There machine A is best. If 7 % of the weight moves,
machine B is better from there.</p>
<svg viewBox="0 0 600 40" role="img" aria-label="The map"><text x="20" y="20">A</text><text x="120" y="20">B</text>
<text x="220" y="20">C</text><text x="320" y="20">D</text><path class="steps" d="M0 35H600"/></svg>
<div class="wide" tabindex="0" role="region" aria-label="The map in numbers"><table><caption>The map in numbers</caption>
<thead><tr><th scope="col">machine</th><th scope="col">of all</th><th scope="col">of those that fit</th><th scope="col">EUR</th></tr></thead>
<tbody><tr><td>A option 3</td><td>80 %</td><td>90 %</td><td>612.00</td></tr><tr><td>B</td><td>15 %</td><td>10 %</td><td>263.40</td></tr>
<tr><td>C</td><td>3.0 %</td><td>none</td><td>100.00</td></tr><tr><td>D</td><td>1.8 %</td><td>none</td><td>77.00</td></tr></tbody></table></div></section>
<section aria-labelledby="sign"><h2 id="sign">To sign</h2><p>I choose one of the options above. What is taken back is named with each of them, and nothing
is ordered before this paper is signed. The bench defers to what the makers write about their parts.</p>
<p class="sign">Day and name</p></section></main>
<footer><p class="small">Made at the bench, for one client, from what was seen and measured on the day of the visit.</p></footer>`;

const hash = (text) => `'sha256-${createHash("sha256").update(text, "utf8").digest("base64")}'`;

// The page with a policy that lets in just the style and the script that it has.
export function seal(html) {
    const inline = (tag) => [...html.matchAll(new RegExp(`<${tag}\\b[^>]*>([\\s\\S]*?)</${tag}>`, "gi"))].map(([, text]) => hash(text));
    const content = `default-src 'none'; style-src ${inline("style").join(" ")}; script-src ${inline("script").join(" ")}; base-uri 'none'; form-action 'none'`;
    return html.replace(/(http-equiv="Content-Security-Policy" content=")[^"]*/, (_, head) => head + content);
}

export const html = seal(`<!DOCTYPE html>
<html lang="en"><head><meta charset="utf-8"><meta http-equiv="Content-Security-Policy" content="">
<meta name="viewport" content="width=device-width, initial-scale=1"><title>Proposal: ${answer.title}</title>
<style>${style}</style></head>
<body>${body}
<script>${script}</script></body></html>
`);
