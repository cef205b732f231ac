"use strict";
(function () {
    const known = JSON.parse(document.getElementById("steps").textContent);
    const part = document.getElementById("try");
    const slide = document.getElementById("slide");
    const typed = document.getElementById("typed");
    const told = document.getElementById("told");
    const list = document.getElementById("told-parts");
    const here = document.getElementById("here");
    const unit = Math.pow(10, known.digits);

    function money(minor) {
        return (minor / unit).toFixed(known.digits) + " " + known.currency;
    }

    /* The last step that the sum pays for. */
    function stepAt(minor) {
        let found = null;
        for (const step of known.steps)
            if (step.cost <= minor)
                found = step;
        return found;
    }

    function sentence(step) {
        if (step === null)
            return "too little for what must be done.";
        const words = [step.points + " points for " + money(step.cost)];
        if (step.loudness !== undefined)
            words.push(step.loudness);
        return words.concat(step.rates).join("; ") + ".";
    }

    function show(minor) {
        const step = stepAt(minor);
        const spoken = step === null ? "nothing" : step.points + " points";
        told.textContent = money(minor) + ": " + sentence(step);
        slide.setAttribute("aria-valuetext", money(minor) + ", " + spoken);
        list.replaceChildren();
        for (const index of step === null ? [] : step.has) {
            const item = document.createElement("li");
            item.textContent = known.words[index];
            list.append(item);
        }
        if (step !== null && step.has.length === 0) {
            const item = document.createElement("li");
            item.textContent = "nothing changes";
            list.append(item);
        }
        if (here !== null) {
            const x = known.left + (known.right - known.left) * Math.min(1, minor / known.high);
            here.setAttribute("x1", x);
            here.setAttribute("x2", x);
            here.removeAttribute("visibility");
        }
    }

    slide.addEventListener("input", function () {
        typed.value = slide.value;
        show(Math.round(Number(slide.value) * unit));
    });
    typed.addEventListener("input", function () {
        const sum = Math.min(Number(typed.max), Math.max(0, Number(typed.value)));
        if (typed.value === "" || !isFinite(sum))
            return;
        slide.value = String(Math.round(sum));
        show(Math.round(sum * unit));
    });
    part.hidden = false;
    show(Math.round(Number(slide.value) * unit));
})();
