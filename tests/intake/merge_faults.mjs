export function faults() {}
