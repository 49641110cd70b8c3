/** A nanometre: far below what is cut, and no noise from sums in a file. Adding 0 turns -0 into 0. */
export const roundedMm = (mm: number): number => Math.round(mm * 1e6) / 1e6 + 0;

/** Of a turn: at 10 m from the origin still a hundredth of a micrometre. */
export const roundedTurn = (part: number): number => Math.round(part * 1e12) / 1e12 + 0;
