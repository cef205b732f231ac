// One machine asked in several ways: again, file by file, in another order, onto standard output, in
// another locale, planned; and where nothing may be written.
import { existsSync, linkSync, mkdirSync, readFileSync, statSync, symlinkSync, writeFileSync } from "node:fs";
import { spawnSync } from "node:child_process";
import { join } from "node:path";
import { WISHES, fingerprint } from "./merge_run.mjs";
import { dice } from "./merge_machine.mjs";

// Where two dumps of one reader tell of one property, the page lets the first file count.
function mayBeShuffled(dumps) {
    const told = new Set();
    for (const dump of dumps)
        for (const { device, key, property } of dump.statements) {
            const name = [dump.reader, device, key, property].join("|");
            if (told.has(name)) return false;
            told.add(name);
        }
    return true;
}

export function ways(bench, job, answers) {
    const { folder, inside } = answers, d = dice(job.seed + 77);
    const files = job.dumps.map(({ file }) => join(inside, file));
    const draftOf = (paths, more) => {
        const path = join(folder, "again.json");
        const { code, out } = bench.run([...bench.words(paths, answers.catalogFolder), "-o", path], more);
        return { code, report: out, draft: code === 0 ? readFileSync(path, "utf8") : "" };
    };
    const { report } = draftOf(inside); // which, without a card, offers one
    const sameAs = (name, is, withReport) => bench.verdict(`machine ${job.seed}, ${name}`,
        is.code === 0 && is.draft === answers.draft && (!withReport || is.report === report) ? []
            : [`other bytes (code ${is.code})`]);
    sameAs("again", draftOf(inside), true);
    const json = bench.run([...bench.words(inside, answers.catalogFolder), "--json"]);
    bench.verdict(`machine ${job.seed}, again as JSON`, json.out === answers.json ? [] : ["other bytes"]);
    sameAs("file by file", draftOf(files), true);
    if (mayBeShuffled(job.dumps)) {
        for (let i = files.length - 1; i > 0; i--) {
            const j = d.whole(0, i);
            [files[i], files[j]] = [files[j], files[i]];
        }
        sameAs("files in another order", draftOf(files), false);
    }
    for (const locale of bench.locales)
        sameAs(`locale ${locale.LC_ALL}`, draftOf(inside, { env: { ...process.env, ...locale } }), true);
    onOutput(bench, job, answers);
}

function onOutput(bench, job, answers) {
    const away = join(answers.folder, "away");
    mkdirSync(away, { recursive: true });
    const before = fingerprint(answers.folder, bench.catalogFolder);
    const said = bench.run([...bench.words(answers.inside, answers.catalogFolder), "-o", "-"], { cwd: away });
    const wrongs = [];
    try {
        const draft = JSON.parse(said.out), kept = JSON.parse(answers.draft);
        draft.catalog = kept.catalog;
        if (JSON.stringify(draft) !== JSON.stringify(kept)) wrongs.push("another draft");
    } catch {
        wrongs.push(`more than the draft on standard output: ${said.out.slice(0, 80)}`);
    }
    if (said.code !== 0 || said.errors !== "") wrongs.push(`ended with ${said.code}: ${said.errors}`);
    bench.verdict(`machine ${job.seed}, -o -`, wrongs);
    for (const more of [[], ["--json"]]) bench.run([...bench.words(answers.inside, answers.catalogFolder), ...more], { cwd: away });
    bench.verdict(`machine ${job.seed}, nothing is written without -o`,
        fingerprint(answers.folder, bench.catalogFolder) === before ? [] : ["something was"]);
}

// "what an estimate reads of every present piece (section 8: noise_dba) must be stated before look and plan
// can answer, and they name each": then they answer, and tell what is still to be asked.
export function planned(bench, job, answers) {
    const draft = JSON.parse(answers.draft), roles = bench.catalog.facts.noise_dba.roles, silent = [];
    for (const [role, entries] of Object.entries(draft.machine).filter(([name]) => roles.includes(name)))
        for (const entry of entries) {
            const part = bench.catalog.parts[role].find((one) => one.id === entry.part);
            if ((entry.facts?.noise_dba ?? part?.facts.noise_dba) !== undefined) continue;
            silent.push(role);
            entry.facts = { ...entry.facts, noise_dba: 24 };
        }
    const before = bench.run(["look", join(answers.folder, "draft.json")]);
    const unnamed = silent.filter((role) => !before.errors.includes(`$.machine.${role}:`));
    bench.verdict(`machine ${job.seed}, look names what lacks noise_dba`, before.code === 65 && unnamed.length === 0 ? []
        : [`ended with ${before.code}, without ${unnamed}: ${before.errors}`]);
    const path = join(answers.folder, "job.json");
    const answered = (words, told, codes) => {
        const { code, out, errors } = bench.run(words, { timeout: 60000 });
        const asked = codes.includes(code) ? JSON.stringify(JSON.parse(out).to_ask) : undefined;
        bench.verdict(`machine ${job.seed}, ${words[0]} of the draft`, asked === JSON.stringify(told) ? []
            : [`ended with ${code}, to_ask ${asked}: ${errors.slice(0, 300)}`]);
    };
    writeFileSync(path, JSON.stringify(draft));
    answered(["look", path, "--json"], job.expected.toAsk, [0]);
    writeFileSync(path, JSON.stringify({ ...draft, ...WISHES }));
    answered(["plan", path, "--seconds", "2", "--json"], job.expected.toAsk, [0, 1, 2]);
}

// ---- where nothing may be written ----------------------------------------------------------------

export function refusals(bench, job) {
    const { folder, inside } = bench.layOut("refusals", job.dumps);
    const dump = join(inside, job.dumps[0].file), catalog = bench.catalogFolder;
    const link = join(folder, "link"), toDump = join(folder, "to-dump.json");
    mkdirSync(join(inside, "below"));
    symlinkSync(inside, link);
    symlinkSync(dump, toDump);
    const places = [dump, join(inside, "draft.json"), join(inside, ".", "..", "dumps", "draft.json"), join(link, "draft.json"),
        toDump, join(catalog, "draft.json"), join(catalog, "facts.json"), join(catalog, "parts", "draft.json"), ""];
    const before = fingerprint(folder, catalog);
    const refused = (words, code = 64) => {
        const said = bench.run(words);
        bench.verdict(`refused: ${words.slice(-2).join(" ")}`, [
            ...(said.code === code ? [] : [`ended with ${said.code}, not ${code}`]),
            ...(fingerprint(folder, catalog) === before ? [] : ["something was written"]),
            ...(said.errors === "" ? ["nothing is said"] : [])]);
    };
    for (const flag of ["-o", "--card"])
        for (const place of places) {
            refused([...bench.words(inside), flag, place]);
            if (place === dump) refused([...bench.words(dump), flag, place]);
        }
    refused([...bench.words(inside), "--card", "-"]);
    refused([...bench.words(inside), "-o", join(folder, "one.json"), "--card", join(folder, "one.json")]);
    refused([...bench.words(inside), "--card", join(folder, "one.json"), "-o", join(folder, ".", "one.json")]);
    refused([...bench.words(inside), "-o", join(folder, "no", "such", "draft.json")], 73);
    refused(["intake", "dumps"]);
    refused([...bench.words(join(folder, "missing.json")), "-o", join(folder, "one.json")], 66);
    for (const date of ["yesterday", "2026-02-30", "2026-3-2", ""])
        refused(["intake", "dumps", inside, "--catalog", catalog, "-o", join(folder, "one.json"), "--date", date]);
    hardLink(bench, dump, inside, folder);
    oldCard(bench, inside, folder);
}

// A card that everybody could read is no longer so, nor is one that was not there, whatever the umask.
function oldCard(bench, inside, folder) {
    const old = join(folder, "old-card.json"), fresh = join(folder, "fresh-card.json");
    writeFileSync(old, "{}", { mode: 0o644 });
    const umask = process.umask(0);
    for (const card of [old, fresh]) {
        const { code } = bench.run([...bench.words(inside), "--card", card]);
        const mode = existsSync(card) ? statSync(card).mode & 0o777 : undefined;
        bench.verdict(`mode of ${card}`, code === 0 && mode === 0o600 && readFileSync(card, "utf8").includes("private") ? []
            : [`ended with ${code}, mode ${mode?.toString(8)}`]);
    }
    process.umask(umask);
}

function hardLink(bench, dump, inside, folder) {
    const other = join(folder, "other-name.json"), bytes = readFileSync(dump);
    linkSync(dump, other);
    const { code } = bench.run([...bench.words(inside), "-o", other]);
    bench.verdict("a dump's other name", [0, 64].includes(code) && readFileSync(dump).equals(bytes) ? []
        : [`ended with ${code}, or the dump was changed`]);
}

// ---- locales -------------------------------------------------------------------------------------

// de_DE.UTF-8 writes a decimal comma: the system's, or one made here; else none.
export function findLocales(work) {
    const listed = spawnSync("locale", ["-a"], { encoding: "utf8" }).stdout ?? "";
    if (/^de_DE\.utf-?8$/im.test(listed)) return [{ LC_ALL: "de_DE.UTF-8" }];
    const LOCPATH = join(work, "locales");
    mkdirSync(LOCPATH, { recursive: true });
    spawnSync("localedef", ["-f", "UTF-8", "-i", "de_DE", join(LOCPATH, "de_DE.UTF-8")]);
    return existsSync(join(LOCPATH, "de_DE.UTF-8", "LC_NUMERIC")) ? [{ LC_ALL: "de_DE.UTF-8", LOCPATH }] : [];
}
