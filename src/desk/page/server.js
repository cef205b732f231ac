// The desk's own server: one request, one answer, or a sentence why not.

const kept = "swapworth-desk";
let token = null;

// The token stands behind # once; then it is out of the address bar.
export function takeToken() {
    const found = /^#([0-9a-f]{32})$/.exec(location.hash);
    if (found) {
        token = found[1];
        sessionStorage.setItem(kept, token);
        history.replaceState(null, "", location.pathname + location.search);
    } else {
        token = sessionStorage.getItem(kept);
    }
    return token !== null;
}

// why: {what, why, mend}; complaints: what the program has against the data; body: the answer whole.
export class Refusal extends Error {
    constructor(code, body) {
        const error = body?.error ?? {};
        super(error.what ?? "The desk did not answer as it should.");
        this.code = code;
        this.body = body;
        this.why = error.why ?? "";
        this.mend = error.mend ?? "";
        this.complaints = body?.complaints ?? [];
        if (this.complaints.length > 0 && !body?.error) this.message = "The data does not allow it.";
    }
}

export const stopped = (error) => error?.name === "AbortError";

export async function post(name, body, signal) {
    let answer, text;
    try {
        answer = await fetch(`/api/${name}`, {
            method: "POST", signal, body: JSON.stringify(body),
            headers: { "Content-Type": "application/json", "X-Desk-Token": token ?? "" },
        });
        text = await answer.text();
    } catch (error) {
        if (stopped(error)) throw error;
        throw new Refusal(0, { error: { what: "The desk does not answer.", why: "It was ended, or the machine is overloaded.",
            mend: "Look at the terminal where swapworth desk was begun; begin it again there, and open the address that it prints." } });
    }
    let data = null;
    try {
        data = JSON.parse(text);
    } catch {
        data = null;
    }
    if (!answer.ok || data === null) throw new Refusal(answer.status, data);
    return { data, exit: Number(answer.headers.get("X-Desk-Exit") ?? 0) };
}
