import { SOFT } from '../ink.js';
import { element, num } from '../svg.js';

/** Across the knuckles without the thumb, mm: between the means of women (78) and men (88) of a large survey (ANSUR II, 2012, hand breadth; from memory). */
export const HAND_MM = 83;
/** From the wrist to the tip of the middle finger, in the same proportion. */
export const HAND_LENGTH_MM = 185;

/** A flat right hand seen from above, its box's upper left corner at (x, y), so many page mm for a mm of hand. */
export function handDrawing(x: number, y: number, scale: number): string {
  const finger = (left: number, tip: number, foot: number, wide: number): string =>
    `M${left} ${foot}V${tip + wide / 2}a${wide / 2} ${wide / 2} 0 0 1 ${wide} 0V${foot}`;
  const d = [
    finger(24, 14, 92, 18),
    finger(45, 0, 90, 19),
    finger(66, 9, 92, 18),
    finger(87, 32, 98, 16),
    'M24 90V108C18 104 10 92 6 84C2 77 -7 82 -4 90C2 106 10 128 26 146V185H96C98 160 103 130 103 98',
  ].join('');
  return element('path', {
    d,
    transform: `translate(${num(x + 5 * scale)} ${num(y)}) scale(${scale})`,
    fill: 'none',
    stroke: SOFT,
    'stroke-width': 0.25 / scale,
    'stroke-linejoin': 'round',
  });
}
