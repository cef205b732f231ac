// Sends signals to workers of a desk at random, and remembers what it sent when.
import fs from "node:fs";

import { now, sleep } from "./raw.mjs";

const MEANT = { SIGKILL: "it was stopped from outside, or the machine's memory ran out",
    SIGSEGV: "a fault of the program, or not enough memory for a job of this size",
    SIGSTOP: "it took longer than it may" };

// State and parent of a process; null: it is gone.
function about(pid) {
    try {
        const stat = fs.readFileSync(`/proc/${pid}/stat`, "latin1");
        const [state, parent] = stat.slice(stat.lastIndexOf(")") + 2).split(" ");
        return { state, parent: Number(parent) };
    } catch {
        return null;
    }
}

export class Killer {
    // `share`: signals for each request; `left_most`: how many stay stopped until their time is over.
    constructor(desk, random, count, { share, left_most }) {
        Object.assign(this, { desk, random, count, share, left_most });
        this.sent = [];
        this.hit = new Set();
        this.claimed = 0;
        this.left = 0;
    }

    // Those that were begun last: all of /proc takes too long.
    workers() {
        const last = Number(fs.readFileSync("/proc/loadavg", "latin1").trim().split(" ")[4]);
        const found = [];
        for (let pid = last; pid > last - 60 && pid > 1; pid--) {
            const one = about(pid);
            if (one && one.parent === this.desk.pid && one.state !== "Z" && one.state !== "T") found.push(pid);
        }
        return found;
    }

    signal(pid, signal) {
        try {
            process.kill(pid, signal);
            this.hit.add(pid);
            return true;
        } catch {
            return false;
        }
    }

    note(pid, signal) {
        if (this.signal(pid, signal)) this.sent.push({ pid, signal, at: now() });
    }

    async one() {
        const workers = this.workers();
        if (workers.length === 0) return;
        const pid = workers[Math.floor(this.random() * workers.length)];
        const kind = this.random();
        if (kind < 0.75) {
            this.note(pid, kind < 0.4 ? "SIGKILL" : "SIGSEGV");
            return;
        }
        if (!this.signal(pid, "SIGSTOP")) return;
        if (this.left < this.left_most && this.count() >= (this.left + 0.5) * (this.total / this.left_most)) {
            this.left++;
            this.sent.push({ pid, signal: "SIGSTOP", at: now() });
            return;
        }
        await sleep(30 + this.random() * 250);
        if (about(pid)?.parent !== this.desk.pid) return;
        if (this.random() < 0.6) this.signal(pid, "SIGCONT"); // it goes on as if nothing had been
        else this.note(pid, "SIGKILL");
    }

    async run(total) {
        this.total = total;
        while (!this.over) {
            await sleep(5 + this.random() * 20);
            if (!this.paused && this.sent.length < this.count() * this.share) await this.one();
        }
    }

    // A request that was told so between these times: was there a signal that explains it?
    explains(why, from, to) {
        const slack = why === MEANT.SIGSTOP ? 0 : 0.05;
        const found = this.sent.find((one) => !one.told && MEANT[one.signal] === why && one.at >= from - slack && one.at <= to);
        if (found) found.told = true;
        return found !== undefined;
    }
}
