export function survey() {}
