// The questions of the desk: one answer each, shared by the views.
import { Answer } from "./answers.js";

const ears = new Set();
export const hearAnswers = (act) => ears.add(act);
const heard = (name) => () => {
    for (const act of ears) act(name);
};

export const answers = Object.fromEntries(["look", "plan", "curve", "options", "map", "sure", "ask-next", "first", "phases"]
    .map((question) => [question, new Answer(question, heard(question))]));
