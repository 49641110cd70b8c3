import type { SeamMatch } from '../seam/seam-match.js';
import { INK, SOFT } from './ink.js';
import type { SeamFrame } from './seam-frame.js';
import { strokeText } from './stroke-text.js';
import { element, num } from './svg.js';
import { bandName } from './words.js';

/** Names of one repeat at the left edge where there is room for them; the chosen band's first of all. */
export function bandNames(match: SeamMatch, frame: SeamFrame): string {
  const { grain } = frame;
  const { left, sides, request, pattern } = match;
  const seamMiddle = frame.seamMm / 2;
  const edgeX = frame.seamX - frame.halfWidthMm;
  const size = 2.3 * grain;
  const slope = -left.uPerX / left.uPerY;
  const yOf = (m: number): number =>
    request.atMm + sides.left.offsetMm(m) / left.uPerY - slope * frame.halfWidthMm;
  let first = 0;
  while (yOf(first) > 0) first--;
  while (yOf(first + 1) <= 0) first++;
  const places: { m: number; y: number; roomy: boolean }[] = [];
  for (let m = first; yOf(m) < frame.seamMm; m++) {
    const from = Math.max(0, yOf(m));
    const to = Math.min(frame.seamMm, yOf(m + 1));
    places.push({ m, y: (from + to) / 2, roomy: to - from > 0.6 * size });
  }
  // One repeat about the chosen band's end, or about the middle where that band leaves through the top or foot.
  const heart =
    places.find((p) => p.m === 0) ??
    places.reduce((a, b) => (Math.abs(b.y - seamMiddle) < Math.abs(a.y - seamMiddle) ? b : a));
  const reach = 0.55 * (pattern.repeatMm / left.uPerY);
  const shown = places.filter((p) => Math.abs(p.y - heart.y) <= reach);
  const taken: number[] = [];
  const free = (y: number): boolean => taken.every((other) => Math.abs(other - y) > 1.5 * size);
  let svg = '';
  for (const { m, y, roomy } of [heart, ...shown.filter((p) => p !== heart)]) {
    if (!free(y) || !(roomy || m === 0)) continue;
    taken.push(y);
    svg += strokeText(
      bandName(match, sides.left.bandAfter(m)),
      edgeX - 3.8 * grain,
      frame.topY + y + size / 2,
      {
        size,
        anchor: 'end',
        weight: m === 0 ? 0.19 : 0.11,
        colour: m === 0 ? INK : SOFT,
        fitWidth: 20 * grain,
      },
    );
    if (m !== 0) {
      svg += element('path', {
        d: `M${num(edgeX - 2.6 * grain)} ${num(frame.topY + y)}L${num(edgeX - 0.4 * grain)} ${num(frame.topY + y)}`,
        stroke: SOFT,
        'stroke-width': 0.2 * grain,
      });
    }
  }
  return svg;
}
