import { formatLength, type LengthUnit, MM_PER_INCH } from '../base/length.js';
import { INK } from './ink.js';
import { strokeText } from './stroke-text.js';
import { element } from './svg.js';

/** The longest of 1, 2, 5, 10, .. mm (or 1/4, 1/2, 1, 2, 4, 8 .. inches) that is no longer than the limit. */
export function roundLengthMm(limitMm: number, unit: LengthUnit): number {
  if (unit === 'inch') {
    const power = Math.floor(Math.log2(limitMm / MM_PER_INCH));
    return MM_PER_INCH * 2 ** Math.max(-4, power);
  }
  const power = 10 ** Math.floor(Math.log10(limitMm));
  return power * ([5, 2].find((factor) => factor * power <= limitMm) ?? 1);
}

/** A bar of stated length, black and white in two halves, with its words to the right. (x, y): its left middle. */
export function scaleBar(
  x: number,
  y: number,
  limitMm: number,
  scale: number,
  unit: LengthUnit,
  grain: number,
): string {
  const lengthMm = roundLengthMm(limitMm, unit);
  const width = lengthMm * scale;
  const height = 1.3 * grain;
  const box = { y: y - height / 2, height, stroke: INK, 'stroke-width': 0.22 * grain };
  const words =
    unit === 'inch' ? formatLength(lengthMm, unit) : `${unit === 'cm' ? lengthMm / 10 : lengthMm} ${unit}`;
  return (
    element('rect', { x, width: width / 2, fill: INK, ...box }) +
    element('rect', { x: x + width / 2, width: width / 2, fill: '#ffffff', ...box }) +
    strokeText(words, x + width + 1.6 * grain, y + 1.2 * grain, { size: 2.4 * grain })
  );
}
