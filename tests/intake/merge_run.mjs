// What the parts of this test share: the program, the work folder, the catalog, and the count.
import { spawnSync } from "node:child_process";
import { cpSync, mkdirSync, readFileSync, readdirSync, rmSync, statSync, writeFileSync } from "node:fs";
import { createHash } from "node:crypto";
import { join } from "node:path";
import { Unsure, expect } from "./merge_expect.mjs";
import { readCatalog } from "./merge_judge.mjs";
import { dice, drawDumps, drawMachine, plantParts } from "./merge_machine.mjs";

export const DATE = "2026-03-02";

// What the interview adds to a draft.
export const WISHES = { wishes: { swings: { quiet: 60, looks: 40 } }, budget: { total: "250" } };

export class Bench {
    constructor(program, work, shipped) {
        Object.assign(this, { program, work, shipped, passed: 0, failed: 0 });
        this.catalogFolder = join(work, "catalog");
        mkdirSync(work, { recursive: true });
        rmSync(this.catalogFolder, { recursive: true, force: true });
        cpSync(shipped, this.catalogFolder, { recursive: true });
        writeFileSync(join(this.catalogFolder, "parts", "planted.json"),
            JSON.stringify({ schema: 1, parts: plantParts(readCatalog(shipped).parts) }));
        this.catalog = readCatalog(this.catalogFolder);
        for (const part of Object.values(this.catalog.parts).flat()) part.planted = part.id.startsWith("planted-");
    }

    verdict(name, wrongs) {
        if (wrongs.length === 0) {
            this.passed++;
            return;
        }
        this.failed++;
        console.log(`FAILED ${name}: ${wrongs.slice(0, 4).join("\n    ").trim()}`);
    }

    run(words, more = {}) {
        const ran = spawnSync(this.program, words, { encoding: "utf8", timeout: 30000, maxBuffer: 1 << 28, ...more });
        return { code: ran.status ?? ran.signal, out: ran.stdout, errors: ran.stderr };
    }

    // The catalog with another intake.json, in a folder of that name.
    catalogWith(name, intake) {
        const folder = join(this.work, name);
        if (name !== "catalog") {
            rmSync(folder, { recursive: true, force: true });
            cpSync(this.catalogFolder, folder, { recursive: true });
        }
        writeFileSync(join(folder, "intake.json"), JSON.stringify(intake));
        return { ...this.catalog, folder, intake };
    }

    layOut(name, dumps) {
        const folder = join(this.work, name), inside = join(folder, "dumps");
        rmSync(folder, { recursive: true, force: true });
        mkdirSync(inside, { recursive: true });
        for (const { file, bytes } of dumps) writeFileSync(join(inside, file), bytes);
        return { folder, inside };
    }

    words(paths, catalogFolder = this.catalogFolder) {
        return ["intake", "dumps", ...[paths].flat(), "--catalog", catalogFolder, "--date", DATE];
    }

    ask(name, job, catalogFolder = this.catalogFolder) {
        const { folder, inside } = this.layOut(name, job.dumps);
        const draft = join(folder, "draft.json"), card = join(folder, "card.json");
        const words = this.words(inside, catalogFolder);
        const said = this.run([...words, "-o", draft, "--card", card]);
        const asJson = this.run([...words, "--json"]);
        const answers = { code: said.code || asJson.code, errors: said.errors + asJson.errors, report: said.out,
            json: asJson.out, draft: "", card: "{}", folder, inside, catalogFolder };
        if (said.code !== 0) return answers;
        answers.draft = readFileSync(draft, "utf8");
        answers.card = readFileSync(card, "utf8");
        answers.cardMode = statSync(card).mode & 0o777;
        const whole = join(folder, "job.json");
        writeFileSync(whole, JSON.stringify({ ...JSON.parse(answers.draft), ...WISHES }));
        const told = ({ code, out, errors }) => ({ code, errors: code === 0 ? errors : out + errors });
        answers.bare = told(this.run(["check", draft]));
        answers.checked = told(this.run(["check", whole]));
        return answers;
    }

    // A machine, its dumps, and what the page makes of them; drawn anew where the page leaves it open.
    draw(seed, catalog = this.catalog) {
        for (let again = 0; ; again++) {
            const d = dice(seed * 1000 + again);
            const machine = drawMachine(d, catalog), dumps = drawDumps(d, machine);
            if (dumps.every(({ statements }) => statements.length === 0)) continue;
            try {
                const expected = expect(catalog, dumps.flatMap((dump) => dump.statements),
                    dumps.flatMap((dump) => dump.privates));
                return { seed, machine, dumps, date: DATE, expected };
            } catch (error) {
                if (!(error instanceof Unsure)) throw error;
            }
        }
    }
}

// All that lies in these folders, with its bytes: to see that nothing was written.
export function fingerprint(...folders) {
    const hash = createHash("sha256");
    for (const folder of folders)
        for (const entry of readdirSync(folder, { recursive: true, withFileTypes: true }).sort((a, b) =>
            join(a.parentPath ?? a.path, a.name) < join(b.parentPath ?? b.path, b.name) ? -1 : 1)) {
            const path = join(entry.parentPath ?? entry.path, entry.name);
            hash.update(path + "\0");
            if (entry.isFile()) hash.update(readFileSync(path));
        }
    return hash.digest("hex");
}
