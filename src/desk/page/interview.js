// The interview, question by question, with the client beside: the very questions and answers of the command line.
import { button, el, fresh, say } from "./dom.js";
import { desk, mend } from "./hand.js";
import { refusal } from "./pane.js";
import { post } from "./server.js";

export function interviewPlace(done) {
    const place = el("div", { class: "interview" });
    let answers = [];
    let working = false;

    const begin = button(desk.job?.wishes ? "Begin the interview again" : "Begin the interview", () => { answers = []; next(); });
    function idle() {
        begin.textContent = desk.job?.wishes ? "Begin the interview again" : "Begin the interview";
        place.replaceChildren(el("p", {}, "At most twelve questions. What nobody answers is assumed, and told as assumed. Nothing is changed without a yes."), el("p", {}, begin));
    }

    async function next() {
        if (working) return;
        working = true;
        try {
            const { data } = await post("interview", { sheet: desk.sheet, answers });
            show(data);
        } catch (error) {
            place.append(refusal(error, next));
        }
        working = false;
    }

    const paragraphs = (text) => text.trim().split(/\n{2,}/).map((part) => el("p", { class: "said" }, part));

    function show(told) {
        const said = told.said ?? [];
        const earlier = said.slice(0, -1), last = said.at(-1);
        if (told.ask === null || told.ask === undefined) return finished(told, last);
        const id = fresh("answer");
        const input = el("textarea", { id, rows: 2, maxlength: 1000, spellcheck: "false", autocomplete: "off" });
        const question = el("label", { for: id, class: "question" }, told.ask.question);
        const give = (text) => {
            answers.push(text);
            next();
        };
        input.addEventListener("keydown", (event) => {
            if (event.key === "Enter" && !event.shiftKey) {
                event.preventDefault();
                give(input.value.trim());
            }
        });
        place.replaceChildren(
            earlier.length > 0 ? el("details", {}, el("summary", {}, `What was said before (${earlier.length})`), earlier.flatMap(paragraphs)) : "",
            ...(last ? paragraphs(last) : []),
            question, told.ask.help ? el("small", {}, told.ask.help) : "", input,
            el("div", { class: "row" },
                ...(told.needs_yes ? [button("Yes", () => give("yes")), button("No", () => give("no"))] : []),
                button(told.needs_yes ? "Answer with these words" : "Answer", () => give(input.value.trim())),
                told.needs_yes ? "" : button("Skip it", () => give("")),
                button("Why is it asked?", () => give("?")),
                answers.length > 0 ? button("Back", () => give("back")) : "",
                button("Leave the interview", () => { answers = []; idle(); })));
        input.focus();
        say(told.ask.question.split("\n")[0]);
    }

    function finished(told, last) {
        place.replaceChildren(...(last ? paragraphs(last) : []),
            el("p", {}, "The interview is at its end."),
            el("div", { class: "row" }, button("Take it into the job", async () => {
                try {
                    await mend("interview", { answers, take: true });
                    answers = [];
                    idle();
                    place.append(el("p", {}, "It stands in the job now."));
                    done();
                } catch (error) {
                    place.append(refusal(error));
                }
            }), button("Drop it", () => { answers = []; idle(); })));
        place.querySelector("button").focus();
    }
    idle();
    return { node: place, refresh: () => { if (answers.length === 0 && !place.querySelector("textarea")) begin.textContent = desk.job?.wishes ? "Begin the interview again" : "Begin the interview"; } };
}
