// The questions of the desk: one answer each, shared by the views.
import { Answer } from "./answers.js";

const ears = new Set();
export const hearAnswers = (act) => ears.add(act);
// The bundles alone are there in a fraction of the time: they are asked for first, and shown until the rest is proved.
const heard = (name) => () => {
    for (const act of ears) act(name);
};

export const answers = Object.fromEntries(["look", "plan", "curve", "options", "map", "sure", "ask-next", "first", "phases", "ranges"]
    .map((question) => [question, new Answer(question, heard(question))]));
answers.brief = new Answer("plan", heard("brief"));
export const briefly = (words) => ({ ...words, brief: true });
