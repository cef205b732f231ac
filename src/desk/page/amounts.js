// Sums of money are whole minor units, points whole thousandths: nothing here is worked out in fractions.

let digits = 2, currency = "";
export function useCurrency(code, places) {
    currency = code ?? "";
    digits = places ?? 2;
}
export const currencyCode = () => currency;
export const unit = () => 10 ** digits;

function whole(text, places) {
    const parts = /^(-?)(\d{1,10})(?:\.(\d+))?$/.exec(text);
    if (parts === null || (parts[3] ?? "").length > places) return null;
    const value = Number(parts[2] + (parts[3] ?? "").padEnd(places, "0"));
    return parts[1] === "-" && value !== 0 ? -value : value;
}

function text(value, places) {
    const figures = String(Math.abs(value)).padStart(places + 1, "0");
    const cut = figures.length - places;
    return (value < 0 ? "-" : "") + figures.slice(0, cut) + (places > 0 ? "." + figures.slice(cut) : "");
}

// "605.85" as the program tells it, or as a person types it; null where it is no sum.
export const minor = (sum) => whole(String(sum).trim(), digits);
export const plain = (sum) => text(sum, digits);
export const money = (sum) => `${text(sum, digits)} ${currency}`;
export const told = (sum) => `${sum} ${currency}`;

export const milli = (points) => whole(points, 3);

// Thousandths to `places` figures behind the point, halves away from zero.
export function short(value, places = 1) {
    const step = 10 ** (3 - places);
    const up = Math.floor((Math.abs(value) + step / 2) / step);
    return text(value < 0 && up > 0 ? -up : up, places);
}
export const points = (told) => (told === null || told === undefined ? "-" : short(milli(told)));

// A told number to `places` figures, from its text, halves away from zero.
export function figure(told, places) {
    const parts = /^(-?)(\d+)(?:\.(\d*))?$/.exec(String(told));
    if (parts === null) return String(told);
    const behind = (parts[3] ?? "").padEnd(places + 1, "0");
    const value = Number(parts[2] + behind.slice(0, places)) + (behind[places] >= "5" ? 1 : 0);
    return text(parts[1] === "-" ? -value : value, places);
}
// As the papers tell a rate: one figure behind the point below ten.
export const rate = (told) => figure(told, Number(told) < 10 ? 1 : 0);

export const count = (n, one, many = `${one}s`) => `${n} ${n === 1 ? one : many}`;
