// What a screen reader goes by: language, title, landmarks, headings, tables, names of drawings and controls.
import { watching } from "./browser.mjs";

function judge(title) {
    const faults = [];
    const shown = (element) => element.checkVisibility();
    const all = (selector) => [...document.querySelectorAll(selector)].filter(shown);
    const cut = (element) => element.outerHTML.slice(0, 70).replace(/\s+/g, " ");
    if (!/^[a-z]{2,3}(-[A-Za-z0-9]+)*$/.test(document.documentElement.lang)) faults.push("no language");
    if (document.compatMode !== "CSS1Compat") faults.push("no doctype");
    if (document.characterSet !== "UTF-8") faults.push(`the characters are ${document.characterSet}`);
    if (document.title.trim().length < 5 || !document.title.includes(title)) faults.push(`the title is "${document.title}"`);
    const viewport = document.querySelector("meta[name=viewport]")?.content ?? "";
    if (!/width=device-width/.test(viewport) || /user-scalable\s*=\s*(no|0)|maximum-scale\s*=\s*[1-4](\.|,|$)/.test(viewport))
        faults.push(`the viewport is "${viewport}"`);
    if (all("main, [role=main]").length !== 1) faults.push(`${all("main, [role=main]").length} mains`);
    const levels = all("h1, h2, h3, h4, h5, h6").map((heading) => Number(heading.tagName[1]));
    if (levels.filter((level) => level === 1).length !== 1 || levels[0] !== 1) faults.push(`the headings begin ${levels.slice(0, 3)}`);
    levels.forEach((level, i) => { if (i > 0 && level > levels[i - 1] + 1) faults.push(`a heading of level ${level} follows one of ${levels[i - 1]}`); });
    for (const heading of all("h1, h2, h3, h4, h5, h6")) if (!heading.textContent.trim()) faults.push("an empty heading");
    for (const table of all("table")) {
        if (!table.caption?.textContent.trim()) faults.push(`no caption: ${cut(table)}`);
        const heads = [...table.querySelectorAll("th")];
        if (heads.length === 0) faults.push(`no th: ${cut(table)}`);
        for (const head of heads) if (!/^(col|row|colgroup|rowgroup)$/.test(head.scope)) faults.push(`th without scope: ${cut(head)}`);
        const widths = new Set([...table.rows].map((row) => [...row.cells].reduce((sum, cell) => sum + cell.colSpan, 0)));
        if (widths.size > 1 && !table.querySelector("[rowspan]")) faults.push(`rows of ${[...widths]} cells: ${cut(table)}`);
    }
    for (const svg of all("svg")) {
        if (svg.getAttribute("aria-hidden") === "true") continue;
        const by = (svg.getAttribute("aria-labelledby") ?? "").split(/\s+/).filter(Boolean);
        const named = svg.getAttribute("aria-label")?.trim() || (by.length > 0 &&
            by.every((id) => document.getElementById(id)?.textContent.trim())) || svg.querySelector(":scope > title")?.textContent.trim();
        if (svg.getAttribute("role") !== "img" || !named) faults.push(`a drawing without role img or name: ${cut(svg)}`);
    }
    for (const input of all("input, select, textarea"))
        if (!input.labels?.length && !input.getAttribute("aria-label") && !input.getAttribute("aria-labelledby"))
            faults.push(`no label: ${cut(input)}`);
    for (const attribute of ["aria-labelledby", "aria-describedby", "aria-controls", "for"])
        for (const element of document.querySelectorAll(`[${attribute}]`))
            for (const id of element.getAttribute(attribute).split(/\s+/).filter(Boolean))
                if (!document.getElementById(id)) faults.push(`${attribute} names ${id}, which is not there`);
    const ids = [...document.querySelectorAll("[id]")].map(({ id }) => id);
    for (const id of new Set(ids.filter((id, i) => ids.indexOf(id) !== i))) faults.push(`two elements have the id ${id}`);
    for (const section of all("section"))
        if (!section.getAttribute("aria-label") && !section.getAttribute("aria-labelledby") && !section.querySelector("h1, h2, h3, h4"))
            faults.push(`a section without a name: ${cut(section)}`);
    return faults;
}

export const structure = ({ file, browser, answer }) =>
    watching(browser, file, {}, (page) => page.evaluate(judge, answer.title));
