// Numbers as a person reads them on the page, and as the JSON has them.

// All numbers of a text in order: {text, value, digits}. A gap of thousands may be a thin or a fixed space; the
// sign may be a true minus.
export function numbersOf(text) {
    const plain = text.replace(/(\d)[\u202f\u2009\u00a0](?=\d{3}(\D|$))/g, "$1").replace(/\u2212/g, "-");
    return [...plain.matchAll(/(?<![\d.])-?\d+(?:\.\d+)?/g)].map(([number]) => ({
        text: number, value: Number(number), digits: (number.split(".")[1] ?? "").length,
    }));
}

// Whether a shown number is the wanted one, rounded to the digits that are shown. Half a unit of the last digit is
// let go either way: which way a half is rounded is another matter.
export function equals(shown, wanted, leastDigits = 0) {
    if (!shown || shown.digits < leastDigits) return false;
    return Math.abs(shown.value - wanted) <= 0.5 * 10 ** -shown.digits + 1e-9;
}

// Money stands to the minor unit, exactly.
export function isMoney(shown, wanted) {
    return shown !== undefined && shown.text.replace(/^-/, "") === wanted.replace(/^-/, "");
}

// The step that a sum buys: the last that costs no more.
export function stepAt(steps, sum) {
    return steps.filter((step) => Number(step.cost) <= sum + 1e-9).at(-1);
}
