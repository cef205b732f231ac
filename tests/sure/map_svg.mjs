// The picture of the map against its JSON: well-formed, nothing from outside, and the same numbers.
import { spawnSync } from "node:child_process";
import { readFileSync } from "node:fs";

const unescape = (text) => text.replace(/&lt;/g, "<").replace(/&gt;/g, ">").replace(/&quot;/g, '"').replace(/&amp;/g, "&").replace(/\u00a0/g, " ");

// As the picture tells a share: README's "to the digits they deserve".
export function percent(share) {
    const of = 100 * share, rounded = (x, digits) => (Math.round(x * 10 ** digits + 1e-9) / 10 ** digits).toFixed(digits);
    if (of > 0 && of < 0.1) return ["<0.1 %"];
    if (of < 100 && of > 99.9) return [">99.9 %"];
    const digits = of < 9.95 || (of < 100 && of > 99.5) ? 1 : 0;
    return [`${rounded(of, digits)} %`, `${rounded(of - 1e-7, digits)} %`];
}

const pointsOf = (text) => text.trim().split(/\s+/).map((pair) => pair.split(",").map(Number));

function polygons(svg, marks) {
    return [...svg.matchAll(/<polygon points="([^"]*)" ([^>]*)\/>/g)].filter((m) => marks.every((mark) => m[2].includes(mark)))
        .map((m) => pointsOf(m[1]));
}

const apart = (a, b) => Math.hypot(a[0] - b[0], a[1] - b[1]);

function judgePlaces(wrongs, svg, map, place) {
    const drawn = polygons(svg, ["stroke=\"#1f2933\" stroke-width=\"1.3\""]).filter((p) => p.length > 0);
    const regions = drawn.slice(0, map.regions.length);
    map.regions.forEach((region, i) => {
        const want = region.corners.map(place), got = regions[i] ?? [];
        const fits = map.axes.length === 3
            ? got.length === want.length && want.every((w, k) => apart(w, got[k]) < 0.11)
            : got.length === 4 && Math.abs(got[0][0] - want[0][0]) < 0.11 && Math.abs(got[1][0] - want[1][0]) < 0.11;
        if (!fits) wrongs.push(`region ${i + 1} is drawn elsewhere`);
    });
    const dots = [...svg.matchAll(/<circle cx="([^"]*)" cy="([^"]*)" r="4" fill="#1f2933"\/>/g)].map((m) => [Number(m[1]), Number(m[2])]);
    const at = place(map.axes.map((axis) => axis.at));
    if (!dots.some((dot) => (map.axes.length === 3 ? apart(dot, at) : Math.abs(dot[0] - at[0])) < 0.11)) wrongs.push("the answer is drawn elsewhere");
    const rims = polygons(svg, ["#5f2167"]);
    if (map.likely.length > 1 && map.axes.length === 3) {
        const want = map.likely.map(place), got = rims[0] ?? [];
        if (got.length !== want.length || !want.every((w, k) => apart(w, got[k]) < 0.11)) wrongs.push("what is likely is drawn elsewhere");
    }
    if (map.nearest_change && map.nearest_change.share > 0) {
        const share = map.axes.map((axis) => axis.at), ids = map.axes.map((axis) => axis.criterion);
        share[ids.indexOf(map.nearest_change.from)] -= map.nearest_change.share;
        share[ids.indexOf(map.nearest_change.to)] += map.nearest_change.share;
        const end = place(share), heads = polygons(svg, ["#8a3f00"]).map((p) => p[0]);
        if (!heads.some((head) => (map.axes.length === 3 ? apart(head, end) : Math.abs(head[0] - end[0])) < 0.11)) wrongs.push("the arrow ends elsewhere");
        // However near the change: the shaft can be seen beside the mark of the answer, whose radius is 8.3.
        const shafts = [...svg.matchAll(/<line x1="([^"]*)" y1="([^"]*)" x2="([^"]*)" y2="([^"]*)" stroke="#8a3f00"/g)]
            .slice(0, 1).map((m) => Math.hypot(m[1] - m[3], m[2] - m[4]));
        if (shafts.length === 0 || shafts[0] < 16) wrongs.push("the arrow is hidden by the answer");
    }
}

export function judgeSvg(path, map) {
    const wrongs = [], svg = readFileSync(path, "utf8");
    const lint = spawnSync("xmllint", ["--noout", "--nonet", path], { encoding: "utf8" });
    if (lint.status !== 0) return [`not well-formed: ${lint.stderr.slice(0, 100)}`];
    if (/<script|href|url\(|<image|<style|\bon[a-z]+="/.test(svg)) wrongs.push("a script, a style or something from outside");
    const texts = [...svg.matchAll(/<text[^>]*>([^<]*)<\/text>/g)].map((m) => unescape(m[1]));
    if (map.regions.length === 0) return wrongs;
    const numbers = new Set(texts.filter((text) => /^\d+$/.test(text)).map(Number));
    map.regions.forEach((region) => {
        const must = region.number <= 9 || region.of_likely > 0 || region.number === map.here ||
            region.number === map.nearest_change?.then || map.axes.some((axis) => axis.best === region.number);
        if (must !== numbers.has(region.number)) wrongs.push(`number ${region.number} ${must ? "is missing" : "is too much"}`);
        if (!must) return;
        if (!percent(region.area).some((text) => texts.includes(text))) wrongs.push(`the share of ${region.number}`);
        if (region.of_likely > 0 && !percent(region.of_likely).some((text) => texts.includes(text))) wrongs.push(`the likely share of ${region.number}`);
        if (!texts.includes(region.cost)) wrongs.push(`the cost of ${region.number}`);
    });
    if (map.axes.length === 1) return wrongs;
    const corners = texts.filter((text) => /^bundle \d+ is best$/.test(text)).map((text) => Number(text.split(" ")[1]));
    if (JSON.stringify(corners) !== JSON.stringify(map.axes.map((axis) => axis.best))) wrongs.push("best in the corners");
    if (!texts.includes(`The client's answer: bundle ${map.here} is best`)) wrongs.push("best at the answer");
    // Where shares lie: by the rim of the triangle, or by the ticks of the line.
    let place;
    if (map.axes.length === 3) {
        const rim = polygons(svg, ["fill=\"none\" stroke=\"#1f2933\""])[0];
        if (!rim) return [...wrongs, "no triangle"];
        place = (share) => [0, 1].map((i) => rim.reduce((sum, corner, a) => sum + share[a] * corner[i], 0));
    } else {
        const tick = (name) => Number(svg.match(new RegExp(`<text x="([\\d.]+)"[^>]*text-anchor="middle">${name} %</text>`))?.[1]);
        place = (share) => [tick("0") + share[1] * (tick("100") - tick("0")), 0];
    }
    judgePlaces(wrongs, svg, map, place);
    return wrongs;
}
