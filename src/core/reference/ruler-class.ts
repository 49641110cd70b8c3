import type { RulerClass } from '../base/request.js';

/** a and b of the greatest permitted error a + b L, mm, L in whole metres begun: Directive 2014/32/EU, Annex X (MI-008), table 1. */
const PERMITTED: Readonly<Record<RulerClass, readonly [a: number, b: number]>> = {
  I: [0.1, 0.1],
  II: [0.3, 0.2],
  III: [0.6, 0.4],
};

/** What a ruler of this class may be wrong by, either way, between two marks so far apart, mm. */
export function permittedErrorMm(rulerClass: RulerClass, lengthMm: number): number {
  const [a, b] = PERMITTED[rulerClass];
  return a + b * Math.ceil(lengthMm / 1000);
}

/** The same as a standard deviation: any error within the permitted is as likely as another, hence the root of three. */
export const rulerSdMm = (rulerClass: RulerClass, lengthMm: number): number =>
  permittedErrorMm(rulerClass, lengthMm) / Math.sqrt(3);
