// A desk without a server, spoken to line by line; and the verdicts of a test.
import { spawn } from "node:child_process";

export class Desk {
  constructor(tool, words = [], env = {}, errors = "inherit") {
    this.child = spawn(tool, words, { stdio: ["pipe", "pipe", errors], env: { ...process.env, ...env } });
    this.got = Buffer.alloc(0);
    this.waiting = [];
    this.ended = new Promise((done) => this.child.on("exit", (code, signal) => {
      this.over = true;
      for (const wait of this.waiting.splice(0)) wait(null);
      done({ code, signal });
    }));
    this.child.stdin.on("error", () => {});
    this.child.stdout.on("data", (bytes) => { this.got = Buffer.concat([this.got, bytes]); this.deliver(); });
  }
  deliver() {
    for (;;) {
      const line = this.got.indexOf(10);
      if (line < 0) return;
      const [status, length] = this.got.subarray(0, line).toString().split(" ").map(Number);
      if (this.got.length < line + 1 + length) return;
      const bytes = Buffer.from(this.got.subarray(line + 1, line + 1 + length));
      this.got = this.got.subarray(line + 1 + length);
      this.waiting.shift()?.({ status, bytes });
    }
  }
  // null: the desk ended before it answered.
  raw(name, body) {
    if (this.over) return Promise.resolve(null);
    return new Promise((done) => {
      this.waiting.push(done);
      this.child.stdin.write(`${name} ${typeof body === "string" ? body : JSON.stringify(body)}\n`);
    });
  }
  async ask(name, body) {
    const answer = await this.raw(name, body);
    if (answer === null) return null;
    let json = null;
    try { json = JSON.parse(answer.bytes.toString()); } catch { /* not a JSON answer */ }
    return { status: answer.status, json, text: answer.bytes.toString() };
  }
  async end() { this.child.stdin.end(); return this.ended; }
  kill() { this.child.kill("SIGKILL"); return this.ended; }
}

export const counts = { passed: 0, failed: 0 };
export const verdict = (good, what) => {
  if (good) counts.passed++;
  else { counts.failed++; if (counts.failed < 40) console.log("FAILED " + what); }
};
export const random = (seed) => () => {
  seed = (seed + 0x6D2B79F5) | 0;
  let mixed = Math.imul(seed ^ (seed >>> 15), 1 | seed);
  mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
  return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
};
export const same = (a, b) => JSON.stringify(a) === JSON.stringify(b);
