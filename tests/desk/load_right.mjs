// What the command line prints and writes of the same job: each answer is worked out once and kept.
import { spawn, execFileSync } from "node:child_process";
import fs from "node:fs";

import { command, program } from "./raw.mjs";
import { right } from "./right_change.mjs";

export const first_look = "scenarios/first-look";
export const list = { file: "scenarios/lists/millrace-week.csv", name: "millrace-week.csv", profile: "millrace-week" };
const statuses = { 0: 200, 1: 200, 2: 200, 64: 400, 65: 422 };

// The job that the load works on: few pieces may change, so that each answer is a matter of a moment.
export function write_job(path, catalog) {
    const job = JSON.parse(fs.readFileSync("scenarios/saver-box.json"));
    delete job.phases;
    job.catalog = catalog;
    job.title = "Worked on by many at once";
    job.budget.total = "140.00";
    job.wishes.keep = Object.keys(job.machine).filter((role) => role !== "graphics" && role !== "memory");
    fs.writeFileSync(path, JSON.stringify(job, null, 2) + "\n");
    return job;
}

export const changed = (job, set) =>
    set.reduce((now, one) => right(now, one.slice(0, one.indexOf("=")), one.slice(one.indexOf("=") + 1)), job);

export class Right {
    constructor(work, catalog) {
        this.work = `${work}/line`;
        fs.mkdirSync(this.work);
        this.catalog = catalog;
        this.known = new Map();
        this.runs = 0;
    }

    // `words` stand behind the job; `wrote`: the file that the command writes is meant, not what it prints.
    answer(job, question, words, wrote) {
        const key = JSON.stringify([job, question, words, wrote ?? null]);
        if (!this.known.has(key)) this.known.set(key, this.run(job, question, words, wrote));
        return this.known.get(key);
    }

    async run(job, question, words, wrote) {
        const folder = `${this.work}/${++this.runs}`;
        fs.mkdirSync(folder);
        fs.writeFileSync(`${folder}/job.json`, JSON.stringify(job));
        const seconds = ["look", "explain", "check"].includes(question) ? [] : ["--seconds", "600"];
        const line = [question, "job.json", ...words, "--catalog", this.catalog, ...seconds];
        const child = spawn(program, line, { cwd: folder, stdio: ["ignore", "pipe", "ignore"] });
        const parts = [];
        child.stdout.on("data", (bytes) => parts.push(bytes));
        const exit = await new Promise((done) => child.on("close", done));
        const bytes = wrote ? fs.readFileSync(`${folder}/${wrote}`) : Buffer.concat(parts);
        fs.rmSync(folder, { recursive: true });
        return { exit, status: statuses[exit] ?? 500, bytes };
    }

    // From dumps to a draft, from a draft to a whole job, and a price list. `folder`: that of the desk's job, from
    // which a catalog counts; what is written there goes again.
    async intake(folder) {
        const draft = `${folder}/of-dumps.json`;
        const whole = `${folder}/of-answers.json`;
        const dumps = ["intake", "dumps", first_look, "--catalog", this.catalog];
        execFileSync(program, [...dumps, "-o", draft]);
        const survey = JSON.parse(execFileSync(program, [...dumps, "--json"]));
        const answers = "scenarios/first-talk/answers.json";
        execFileSync(program, ["intake", "ask", draft, "-o", whole, "--answers", answers, "--catalog", this.catalog]);
        const prices = await command(["intake", "prices", list.file, "--profile", list.profile, "--catalog", this.catalog, "--json"], ".");
        const made = {
            survey: { ...survey, draft: undefined },
            draft: fs.readFileSync(draft, "utf8"),
            whole: fs.readFileSync(whole, "utf8"),
            answers: JSON.parse(fs.readFileSync(answers)).answers.map((one) => one.answer),
            prices: { ...JSON.parse(prices.out), file: list.name },
        };
        fs.rmSync(draft);
        fs.rmSync(whole);
        return made;
    }
}

// Drafts are of the day on which they are made: midnight may come in between.
export function undated(text) {
    const day = (before) => new Date(Date.now() - before * 86400000).toLocaleDateString("sv");
    return text?.replaceAll(day(0), "TODAY").replaceAll(day(1), "TODAY");
}
