// Answers of the program to questions about the job in hand. One that belongs to other wishes is kept, and known as old.
import { post, stopped } from "./server.js";
import { belongsTo, desk, settings } from "./hand.js";

const most = 60;
const known = new Map(); // what was answered before, by question, words and job

function keep(key, value) {
    known.delete(key);
    known.set(key, value);
    while (known.size > most) known.delete(known.keys().next().value);
}

export class Answer {
    constructor(question, heard) {
        this.question = question;
        this.heard = heard;   // called whenever there is something new to show
        this.words = {};
        this.data = null;     // the last answer, old or not
        this.exit = 0;
        this.dataKey = null;
        this.error = null;
        this.work = null;     // the request under way
        this.halted = null;   // the key that a person stopped
    }

    get key() { return `${this.question} ${JSON.stringify(this.words)} ${belongsTo()}`; }
    get now() { return this.data !== null && this.dataKey === this.key; }
    get old() { return this.data !== null && !this.now; }
    get working() { return this.work !== null; }
    get stopped() { return this.halted === this.key; }

    // Asks, unless the answer is there or on its way. `again`: also where it was stopped or refused.
    want(words = this.words, again = false) {
        this.words = words;
        const key = this.key;
        if (this.work?.key === key) return;
        this.quit();
        if (this.now && !again) return this.heard();
        const before = known.get(key);
        if (before) {
            Object.assign(this, { data: before.data, exit: before.exit, dataKey: key, error: null });
            return this.heard();
        }
        if (!again && (this.halted === key || this.error?.key === key)) return this.heard();
        this.ask(key, words);
    }

    async ask(key, words) {
        const work = { key, controller: new AbortController() };
        Object.assign(this, { work, error: null, halted: null });
        this.heard();
        try {
            const set = this.question === "whatif" ? [] : settings();
            const body = { sheet: desk.sheet, question: this.question, words, ...(set.length > 0 ? { set } : {}) };
            const { data, exit } = await post("ask", body, work.controller.signal);
            keep(key, { data, exit });
            if (this.work !== work) return;
            Object.assign(this, { data, exit, dataKey: key });
        } catch (error) {
            if (this.work !== work || stopped(error)) return;
            error.key = key;
            this.error = error;
        }
        this.work = null;
        this.heard();
    }

    quit() {
        this.work?.controller.abort();
        this.work = null;
    }

    // By a person: it is not begun again by itself.
    stop() {
        this.halted = this.key;
        this.quit();
        this.heard();
    }
}
