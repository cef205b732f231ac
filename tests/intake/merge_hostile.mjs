export function hostile() {}
