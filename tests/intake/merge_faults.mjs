// Planted faults: answers that are spoilt, a program that reads another intake.json than the test, and
// programs that misbehave. Each has to be noticed.
import { chmodSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { damaged, files } from "./merge_hostile.mjs";
import { judge } from "./merge_judge.mjs";
import { Bench } from "./merge_run.mjs";
import { survey } from "./merge_survey.mjs";
import { refusals, ways } from "./merge_ways.mjs";

const SEEDS = 60;

// ---- answers -------------------------------------------------------------------------------------

const entries = (draft) => Object.entries(draft.machine).flatMap(([role, all]) => all.map((entry) => ({ role, all, entry })));
const first = (list, test = () => true) => list.find(test);
const withFact = (draft, fact) => first(entries(draft), ({ entry }) => entry.facts?.[fact] !== undefined)?.entry;
const contradicted = (json) => first(json.devices.flatMap((one) => Object.values(one.says)),
    (one) => one.contradicts.length > 0);

// Each spoils {draft, json, card, report}; nothing to spoil: false, and the next machine is taken.
const SPOILT = {
    "a fact one off": ({ draft }) => { const is = withFact(draft, "space_gb"); return is && ++is.facts.space_gb; },
    "a diagonal rounded otherwise": ({ draft }) => {
        const is = withFact(draft, "diagonal_in");
        return is && (is.facts.diagonal_in += 0.1);
    },
    "a fact left out": ({ draft }) => {
        const is = withFact(draft, "memory_gb");
        return is && delete is.facts.memory_gb;
    },
    "a fact too many": ({ draft }) => {
        const is = withFact(draft, "memory_gb");
        return is && (is.facts.height_mm = 31);
    },
    "a fact of the kind on a catalog part": ({ draft }) => {
        const is = first(entries(draft), ({ role, entry }) => role === "memory" && !/^(un)?seen-/.test(entry.part))?.entry;
        return is && (is.facts = { ...is.facts, memory_gb: 8 });
    },
    "another count": ({ draft }) => {
        const is = first(entries(draft), ({ entry }) => entry.count > 1)?.entry;
        return is && ++is.count;
    },
    "another part of the catalog": ({ draft }) => {
        const is = draft.machine.board?.[0];
        return is && !/^(un)?seen/.test(is.part) && (is.part = "harrowgill-scree-6m");
    },
    "another name": ({ draft }) => {
        const is = first(entries(draft), ({ entry }) => entry.part.startsWith("seen-"))?.entry;
        return is && (is.name += "x");
    },
    "a role not looked at is left out": ({ draft }) => delete draft.machine.power,
    "a piece is left out": ({ draft }) =>
        draft.machine.drives?.[0]?.part.startsWith("unseen") === false && draft.machine.drives.pop(),
    "a condition is forgotten": ({ draft }) => {
        const is = first(entries(draft), ({ entry }) => entry.condition)?.entry;
        return is && delete is.condition;
    },
    "a condition is made up": ({ draft }) => {
        const is = first(entries(draft), ({ role, entry }) => role === "memory" && !entry.condition)?.entry;
        return is && (is.condition = "worn");
    },
    "a must is forgotten": ({ draft }) => draft.musts?.length > 0 && draft.musts.pop(),
    "a must of another part": ({ draft }) => draft.musts?.length > 0 && (draft.musts[0].replace = "unseen-power"),
    "a note without its places": ({ draft }) => {
        const is = withFact(draft, "memory_gb");
        return is && (is.note = "Seen.");
    },
    "a doubt is not told": ({ json }) => {
        const is = first(json.pieces, (one) => one.doubts.length > 0);
        return is && is.doubts.pop();
    },
    "a doubt is made up": ({ json }) =>
        json.pieces[0].seen && json.pieces[0].doubts.push("maker: \"A\" counts, but \"B\""),
    "a contradiction is not told": ({ json }) => {
        const is = contradicted(json);
        return is && is.contradicts.pop();
    },
    "a contradiction is made up": ({ json }) => {
        const is = Object.values(json.devices[0].says)[0];
        return is && is.contradicts.push({ ...is.counts });
    },
    "the other value counts": ({ json }) => {
        const is = contradicted(json);
        return is && ([is.counts, is.contradicts[0]] = [is.contradicts[0], is.counts]);
    },
    "a device is not told": ({ json }) => json.devices.pop(),
    "a device is left out for another reason": ({ json }) => {
        const is = first(json.left_out, (one) => one.why);
        return is && ((is.why = null), true);
    },
    "a warning of what is left out is not told": ({ json }) => {
        const is = first(json.left_out, (one) => one.health);
        return is && ((is.health = null), true);
    },
    "a mixture is not told": ({ json }) => json.mixed.length > 0 && (json.mixed = json.mixed.filter((one) => one.startsWith("display:")), true),
    "a mixture is made up": ({ json }) => json.mixed.push("chassis"),
    "a device is not left out": ({ json }) => json.left_out.length > 0 && json.left_out.pop(),
    "a question is not asked": ({ draft }) => draft.to_ask.pop(),
    "questions in another order": ({ draft }) => draft.to_ask.reverse(),
    "a question too many": ({ json }) => json.to_ask.push(json.to_ask[0]),
    "names of several parts are not told": ({ json }) => {
        const is = first(json.pieces, (one) => one.choices.length > 1);
        return is && is.choices.pop();
    },
    "a private detail in the note": ({ draft }, job) =>
        secretOf(job) && (draft.machine.board[0].note += secretOf(job).toLowerCase()),
    "a private detail in the report": (is, job) => secretOf(job) && (is.report += secretOf(job)),
    "a private detail in the JSON": ({ json }, job) => secretOf(job) && (json.faults = [{ what: secretOf(job) }]),
    "a private detail on standard error": (is, job) => secretOf(job) && (is.errors += secretOf(job)),
    "a private detail not on the card": ({ card }) => card.private.length > 0 && card.private.pop(),
    "something else on the card": ({ card }) =>
        card.private.push({ device: "board", kind: "serial number", value: "x", file: "y" }),
    "a card for everybody": (is) => (is.cardMode = 0o644),
    "another wage": ({ draft }) => (draft.labour = { rate_per_hour: "35.00" }),
    "another tax": ({ draft }) => (draft.tax.percent += 1),
    "another day": ({ draft }) => (draft.date = "2026-03-03"),
    "a weight nobody named": ({ draft }) => (draft.wishes = { swings: { quiet: 100 } }),
    "check refuses": (is) => (is.checked = { code: 65, errors: "no" }),
    "a report without what comes first": (is) =>
        is.report.includes("save them elsewhere") && (is.report = is.report.replaceAll("save", "leave")),
    "a file is not told": ({ json }) => json.files.pop(),
};

const secretOf = (job) => job.dumps.flatMap(({ privates }) => privates)[0]?.value;

function spoilAnswers(bench) {
    const jobs = [];
    for (let seed = 1; seed <= SEEDS; seed++) {
        const job = bench.draw(seed), answers = bench.ask("machine", job);
        const wrongs = judge(bench.catalog, answers, job, job.expected);
        if (wrongs.length === 0) jobs.push({ job, answers });
    }
    bench.verdict("answers to spoil", jobs.length > SEEDS / 2 ? [] : [`only ${jobs.length} are right`]);
    for (const [name, spoil] of Object.entries(SPOILT)) {
        let tried = 0, noticed = 0;
        for (const { job, answers } of jobs) {
            const is = { ...answers, draft: JSON.parse(answers.draft), json: JSON.parse(answers.json),
                card: JSON.parse(answers.card) };
            const before = JSON.stringify(is);
            if (!spoil(is, job) || JSON.stringify(is) === before) continue;
            const spoilt = { ...is, draft: JSON.stringify(is.draft), json: JSON.stringify(is.json),
                card: JSON.stringify(is.card) };
            tried++;
            noticed += judge(bench.catalog, spoilt, job, job.expected).length > 0;
        }
        bench.verdict(`spoilt: ${name}`, tried > 0 && noticed === tried ? [] : [`${noticed} of ${tried} noticed`]);
    }
}

// ---- another intake.json -------------------------------------------------------------------------

const piece = (is, device) => is.pieces.find((one) => one.device === device);
const fact = (is, device, name) => piece(is, device).facts.find((one) => one.fact === name);
const health = (is, property) => is.health.find((one) => one.when[0].property === property);

const BEHIND = {
    "GB of 1,024": (is) => { fact(is, "drive", "space_gb").per = [1024, 1024, 1024]; },
    "modules of 1,000 MB": (is) => { fact(is, "memory-module", "memory_gb").per = [1000]; },
    "a diagonal in cm": (is) => { fact(is, "display", "diagonal_in").per = [10]; },
    "more decimals": (is) => { fact(is, "display", "diagonal_in").decimals = 2; },
    "a product for a diagonal": (is) => { fact(is, "display", "diagonal_in").how = "product"; },
    "another word": (is) => { fact(is, "memory-module", "memory_type").words = { DDR4: "DDR5" }; },
    "the rated for the set rate": (is) => { fact(is, "memory-module", "speed_mt_s").from = ["rated_mt_s"]; },
    "a setting of the kind": (is) => { fact(is, "drive", "hours_on").of_piece = false; },
    "wider near": (is) => { is.near.find((one) => one.property === "size_bytes").percent = 50; },
    "narrower near": (is) => { is.near.find((one) => one.property === "hours_on").percent = 0.01; },
    "no near": (is) => { is.near = is.near.filter((one) => one.property !== "size_bytes"); },
    "another reader first": (is) => { is.readers.reverse(); },
    "no order of its own": (is) => { is.first = []; },
    "sticks are drives": (is) => { is.left_out = is.left_out.filter((one) => !one.why.includes("USB")); },
    "empty slots are told otherwise": (is) => { is.left_out[0].why = "nothing there"; },
    "what the board shows is a card": (is) => {
        is.left_out = is.left_out.filter((one) => one.device !== "graphics");
    },
    "no maker before a name": (is) => { delete piece(is, "memory-module").maker; },
    "failing is worn": (is) => { health(is, "healthy").condition = "worn"; },
    "failing may stay": (is) => { health(is, "healthy").must = false; },
    "pending sectors do not matter": (is) => { health(is, "pending_sectors").when[0].least = 1000; },
    "worn earlier": (is) => { health(is, "wear_percent").when[0].least = 5; },
    "another why": (is) => { health(is, "healthy").why = "It fails."; },
    "a question where a piece is seen": (is) => {
        is.questions.find((one) => one.role === "graphics").unseen = true;
    },
    "no doubt of half rates": (is) => { is.doubts = []; },
    "another wage": (is) => { is.begins.labour.rate_per_hour = "30.00"; },
    "a question less": (is) => { is.questions.shift(); },
};

function changeBehind(bench) {
    for (const [name, change] of Object.entries(BEHIND)) {
        const intake = structuredClone(bench.catalog.intake);
        change(intake);
        const { folder } = bench.catalogWith("behind", intake);
        let noticed = false;
        for (let seed = 1; seed <= SEEDS && !noticed; seed++) {
            const job = bench.draw(seed), answers = bench.ask("machine", job, folder);
            noticed = answers.code === 0 && judge(bench.catalog, answers, job, job.expected).length > 0;
        }
        bench.verdict(`behind the test's back: ${name}`, noticed ? [] : ["not noticed"]);
    }
}

// ---- programs that misbehave ---------------------------------------------------------------------

// What a part of the test finds wrong with another program.
function wrongsWith(bench, script, part) {
    const program = join(bench.work, "misbehaves.sh"), wrongs = [];
    writeFileSync(program, `#!/bin/sh\nreal='${bench.program}'\n${script}\nexec "$real" "$@"\n`);
    chmodSync(program, 0o755);
    const other = new Bench(program, join(bench.work, "misbehaving"), bench.shipped); // a catalog to be spoilt
    other.verdict = (name, found) => found.length > 0 && wrongs.push(name);
    part(other);
    return wrongs;
}

const dumpsOnly = (script) => `if [ "$2" = dumps ]; then\n${script}\nfi`;
const MISBEHAVING = {
    "crashes": [dumpsOnly("kill -SEGV $$"), (bench) => damaged(bench, 1, 3)],
    "ends by an internal code": [dumpsOnly("exit 70"), (bench) => damaged(bench, 1, 3)],
    "prints control characters": [dumpsOnly("printf '\\033[31m'"), (bench) => damaged(bench, 1, 3)],
    "says nothing of a missing file": [dumpsOnly("\"$real\" \"$@\" 2>/dev/null; exit $?"), files],
    "tells what is private":
        [dumpsOnly("\"$real\" \"$@\"; code=$?; grep -h -i -o -a 'prv[0-9a-z]*q' \"$3\"/*; exit $code"),
            (bench) => damaged(bench, 1, 3)],
    "writes what check refuses":
        ["if [ \"$1\" = check ]; then echo bad; exit 65; fi", (bench) => damaged(bench, 1, 3)],
    "writes where it may not":
        [dumpsOnly("for word; do [ \"$before\" = -o ] && echo x >>\"$word\"; before=$word; done"),
            (bench) => refusals(bench, bench.draw(1))],
    "refuses nothing": [dumpsOnly("\"$real\" \"$@\"; exit 0"), (bench) => refusals(bench, bench.draw(1))],
    "writes without -o": [dumpsOnly("case \"$PWD $* \" in *' -o '*) ;; */away*) echo x >left-behind;; esac"), asked],
    "is never the same": [dumpsOnly("\"$real\" \"$@\"; code=$?; date +%N; exit $code"), asked],
    "another machine's samples": [dumpsOnly("set -- \"$@\" \"$PWD/tests/intake/data/tools\""), survey],
    "samples without a fact":
        [dumpsOnly("\"$real\" \"$@\" || exit; for word; do "
            + "[ \"$before\" = -o ] && sed -i 's/\"width_px\": 1920, //' \"$word\"; before=$word; done; exit 0"), survey],
};

function asked(bench) {
    const job = bench.draw(1);
    bench.locales = [];
    ways(bench, job, bench.ask("machine", job));
}

function misbehave(bench) {
    for (const [name, [script, part]] of Object.entries(MISBEHAVING))
        bench.verdict(`a program that ${name}`, wrongsWith(bench, script, part).length > 0 ? [] : ["not noticed"]);
    for (const part of [asked, files, survey, (other) => refusals(other, other.draw(1)), (other) => damaged(other, 1, 3)]) {
        const wrongs = wrongsWith(bench, "", part); // behind a script that changes nothing
        bench.verdict("a program that behaves", wrongs);
    }
}

export function faults(bench) {
    spoilAnswers(bench);
    changeBehind(bench);
    misbehave(bench);
}
