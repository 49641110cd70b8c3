import { checkAll, wholeNumber } from '../base/expectation.js';

/** What prints on A4 (210 x 297 mm) and on letter (215.9 x 279.4 mm) alike, 12 mm left free all round. */
export const PRINTABLE = { widthMm: 186, heightMm: 255 } as const;

/** Px per mm at which a picture printed at 100 % fills such a page, upright, and is nowhere cut off. */
export function pageDensity(widthPx: number, heightPx: number): number {
  checkAll({ widthPx: [widthPx, SIDE], heightPx: [heightPx, SIDE] });
  return Math.max(widthPx / PRINTABLE.widthMm, heightPx / PRINTABLE.heightMm);
}

const SIDE = wholeNumber({ least: 1 });
