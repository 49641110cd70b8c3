import type { Point } from '../../model/band-model.js';
import { INK } from '../ink.js';
import type { OverlayMarks } from '../overlay-marks.js';
import { strokeText, textWidth } from '../stroke-text.js';
import { element, num } from '../svg.js';
import { type Box, overlap } from './plate.js';

/** Cap height of a band's name, grains: as large as its band lets it be, and left out where nobody could read it. */
const LARGEST = 8;
const SMALLEST = 5.5;
/** A plate's width across its band, in cap heights; beside it the band's edges stay in sight. */
const PLATE = 1.7;
const BARE_SHARE = 0.2;

/** Tries for a name's place, in lengths of its plate along the stripe from where it was wanted. */
const SIDESTEPS = [0, 1.2, -1.2, 2.4, -2.4];

/**
 * A name on every band, written along the stripe so that it covers no edge; moved along where it would cover another mark. Bands too
 * narrow for that go without: the strip below names them.
 */
export function bandLabels(
  { bandLabels: wanted }: OverlayMarks,
  shown: (p: Point) => Point,
  [width, height]: readonly [number, number],
  grain: number,
  taken: readonly Box[],
): string {
  const placed = [...taken];
  let svg = '';
  for (const { band, at, edges } of wanted) {
    const [x, y] = shown(at);
    const [[ax, ay], [bx, by]] = edges.map(shown);
    const across = Math.hypot(bx - ax, by - ay);
    const size = Math.min(LARGEST * grain, ((1 - BARE_SHARE) * across) / PLATE);
    if (size < SMALLEST * grain) continue;
    // Along the stripe, so that the words read upwards or to the right.
    const along: Point = [(ay - by) / across, (bx - ax) / across];
    const way = along[1] > 0 || (along[1] === 0 && along[0] < 0) ? -1 : 1;
    const [dx, dy] = [way * along[0], way * along[1]];
    const length = textWidth(band, size) + size;
    const free = SIDESTEPS.map((k): Point => [x + k * length * dx, y + k * length * dy])
      .map((place) => ({ place, box: boxAround(place, [dx, dy], length, PLATE * size) }))
      .find(
        ({ box }) =>
          box.x > 0 &&
          box.y > 0 &&
          box.x + box.width < width &&
          box.y + box.height < height &&
          !placed.some((other) => overlap(box, other)),
      );
    if (free === undefined) continue;
    placed.push(free.box);
    svg += writtenAlong(band, free.place, (Math.atan2(dy, dx) * 180) / Math.PI, length, size);
  }
  return svg;
}

/** Level box that holds a plate lying along `way`. */
function boxAround([x, y]: Point, [dx, dy]: Point, length: number, wide: number): Box {
  const width = Math.abs(dx) * length + Math.abs(dy) * wide;
  const height = Math.abs(dy) * length + Math.abs(dx) * wide;
  return { x: x - width / 2, y: y - height / 2, width, height };
}

function writtenAlong(text: string, [x, y]: Point, deg: number, length: number, size: number): string {
  const body =
    element('rect', {
      x: -length / 2,
      y: (-PLATE * size) / 2,
      width: length,
      height: PLATE * size,
      rx: 0.4 * size,
      fill: '#ffffff',
      'fill-opacity': 0.92,
    }) + strokeText(text, 0, size / 2, { size, anchor: 'middle', colour: INK, weight: 0.15 });
  return element('g', { transform: `translate(${num(x)} ${num(y)}) rotate(${num(deg)})` }, body);
}
