// One request of the load on a connection of its own: sent whole or in pieces, read at once or late,
// or left in the middle; and what holds for every reply.
import { message, now, parse, patience, sleep } from "./raw.mjs";

const KEPT = 16; // sheets that a desk keeps
const NO_STORE = "no-store";
const by_itself = "the work came to an end by itself";

export class Wire {
    constructor(desk, killer, faults, random) {
        Object.assign(this, { desk, killer, faults, random });
        this.count = 0;
        this.told = {}; // how many replies of each kind
        this.deaths = 0;
        this.revisions = new Map(); // the highest that was told, by sheet
        this.uses = new Map(); // when a sheet was used last, and was answered last
        this.unknown = []; // when sheets were opened whose id nobody heard
        this.slowest = 0;
    }

    tally(what) {
        this.told[what] = (this.told[what] ?? 0) + 1;
    }

    // { status, json, bytes, headers, began }; null: it was left, or the desk refused it in a way that is told of
    // (`busy`: too many wait; `died`: its worker was killed; `gone`: the sheet is no longer kept).
    async post(name, body, { manner = "plain", headers = {} } = {}) {
        const text = typeof body === "string" || Buffer.isBuffer(body) ? body : JSON.stringify(body);
        const sheet = body?.sheet;
        const seen = this.revisions.get(sheet) ?? 0;
        const last = this.uses.get(sheet);
        const began = now();
        if (sheet !== undefined) this.uses.set(sheet, { ...last, sent: began });
        const bytes = await this.send(message("POST", `/api/${name}`, this.desk.head(headers), text), manner);
        if (bytes === null) {
            this.tally("left");
            if (name === "open" && sheet === undefined) this.unknown.push(began);
            return { left: true };
        }
        const what = `${name} ${text.toString().slice(0, 120)}`;
        const reply = this.reply(bytes, what, began);
        if (reply.json?.error?.what === by_itself) return this.died(reply, what, began);
        this.tally(reply.status);
        if (reply.status === 503) return this.busy(reply, what);
        if (reply.status === 404 && sheet !== undefined && last) {
            this.gone(sheet, last, what);
            return { gone: true };
        }
        // What is refused for its form (400) is none.
        if (sheet !== undefined && [200, 409, 422].includes(reply.status)) this.uses.set(sheet, { sent: began, answered: began });
        if (reply.json?.sheet) this.see(reply.json, seen, what, began);
        return reply;
    }

    async get(path, manner = "plain") {
        const began = now();
        const bytes = await this.send(message("GET", path, { Host: this.desk.host }), manner);
        this.tally(bytes === null ? "left" : "GET");
        return bytes === null ? { left: true } : this.reply(bytes, path, began);
    }

    reply(bytes, what, began) {
        const { code, headers, content, whole, rest } = parse(bytes);
        const waited = now() - began;
        this.slowest = Math.max(this.slowest, waited);
        if (code === 0) this.faults.add(`no reply after ${waited.toFixed(1)} s (${bytes.length} bytes): ${what}`);
        else if (!whole || rest.length > 0 || headers["cache-control"] !== NO_STORE)
            this.faults.add(`a torn reply: ${what}`);
        let json = null;
        if (headers["content-type"]?.startsWith("application/json")) {
            try {
                json = JSON.parse(content);
            } catch {
                this.faults.add(`no JSON: ${what}`);
            }
        }
        if (code >= 400 && code !== 422 && !(json?.error?.what !== undefined || json?.complaints?.length > 0))
            this.faults.add(`${code} tells nothing: ${what}`);
        return { status: code, json, headers, bytes: content, began };
    }

    died(reply, what, began) {
        this.tally("its worker was killed");
        this.deaths++;
        const { why, mend } = reply.json.error;
        if (reply.status !== 500 || !mend) this.faults.add(`a death is told with ${reply.status}: ${what}`);
        if (!this.killer.explains(why, began, now())) this.faults.add(`nobody killed it, but "${why}": ${what}`);
        return { died: true };
    }

    // Three at work, eight waiting: no more of ours are under way than there are clients, but those that were left
    // count until their worker is gone.
    busy(reply, what) {
        if (!/wait/.test(reply.json?.error?.what)) this.faults.add(`503 for another reason: ${what}`);
        return { busy: true };
    }

    // The desk keeps those used last: as many others must have been used since.
    gone(sheet, last, what) {
        let others = this.unknown.filter((at) => at >= last.answered).length;
        for (const [id, use] of this.uses) others += id !== sheet && use.sent >= last.answered;
        if (others < KEPT) this.faults.add(`a sheet went though only ${others} others were used since: ${what}`);
        this.uses.delete(sheet);
    }

    see({ sheet, revision }, seen, what, began) {
        if (revision < seen) this.faults.add(`the revision went back from ${seen} to ${revision}: ${what}`);
        this.revisions.set(sheet, Math.max(revision, this.revisions.get(sheet) ?? 0));
        if (!this.uses.has(sheet)) this.uses.set(sheet, { sent: began, answered: began });
    }

    // The bytes of the reply; null: it was left on purpose.
    async send(bytes, manner) {
        this.count++;
        const line = this.desk.connect();
        if (manner === "slow to send") {
            const cut = [this.random(), this.random()].map((at) => Math.floor(at * bytes.length)).sort((a, b) => a - b);
            for (const piece of [bytes.subarray(0, cut[0]), bytes.subarray(cut[0], cut[1]), bytes.subarray(cut[1])]) {
                line.send(piece);
                await sleep(20 + this.random() * 200);
            }
        } else {
            line.send(bytes);
        }
        if (manner === "slow to read") {
            line.socket.pause();
            await sleep(100 + this.random() * 500);
            line.socket.resume();
        }
        if (manner === "leaves") {
            const until = now() + this.random() * 0.12;
            // Some leave at the first bytes of the reply, some before them.
            while (now() < until && line.parts.length === 0 && !line.over) await sleep(3);
            if (!line.over) {
                if (this.random() < 0.3) line.socket.resetAndDestroy();
                else line.leave();
                return null;
            }
            return line.bytes();
        }
        await line.end(40 * patience);
        return line.bytes();
    }
}
