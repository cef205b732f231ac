// Contrast as WCAG 2.2 defines it ("relative luminance", "contrast ratio"), and two ways to turn a colour into
// gray. Colours are [red, green, blue] from 0 to 255.

function linear(part) {
    const c = part / 255;
    return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
}

export function luminance([red, green, blue]) {
    return 0.2126 * linear(red) + 0.7152 * linear(green) + 0.0722 * linear(blue);
}

export function contrast(a, b) {
    const one = luminance(a) + 0.05, other = luminance(b) + 0.05;
    return Math.max(one, other) / Math.min(one, other);
}

// A colour that is partly seen through, on an opaque one.
export function over([red, green, blue, alpha = 1], below) {
    return [red, green, blue].map((part, i) => part * alpha + below[i] * (1 - alpha));
}

// What a printer without colour does: luma of ITU-R BT.601, weights on the coded parts.
export function lumaGray([red, green, blue]) {
    const gray = Math.round(0.299 * red + 0.587 * green + 0.114 * blue);
    return [gray, gray, gray];
}

// The gray of the same luminance, as 8 bits hold it.
export function luminanceGray(colour) {
    const light = luminance(colour);
    const coded = light <= 0.0031308 ? 12.92 * light : 1.055 * light ** (1 / 2.4) - 0.055;
    const gray = Math.round(255 * coded);
    return [gray, gray, gray];
}
