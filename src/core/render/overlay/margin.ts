import type { LengthUnit } from '../../base/length.js';
import { MM_PER_INCH } from '../../base/length.js';
import type { Point } from '../../model/band-model.js';
import { INK } from '../ink.js';
import type { Level, OverlayMarks } from '../overlay-marks.js';
import { strokeText, textWidth } from '../stroke-text.js';
import { element, num } from '../svg.js';
import { LINES } from './lines.js';
import { type Box, overlap } from './plate.js';

/** White border round the photo, grains: what is written there covers nothing. */
export const MARGIN = 48;

/** From the photo to a repeat's number, grains. */
const GAP = 6;

/** Every so many repeats are numbered: as many as there is room for. */
const STEPS = [1, 2, 5, 10, 20, 50, 100];

/**
 * In the margin: the number of each repeat where it leaves the photo, between ticks where it begins, and lengths along the stripes
 * where their lines leave it. Coordinates of the photo; negative ones lie in the margin.
 */
export function marginMarks(
  marks: OverlayMarks,
  unit: LengthUnit,
  shown: (p: Point) => Point,
  frame: readonly [number, number],
  grain: number,
): string {
  const numbers = repeatNumbers(marks, shown, frame, grain);
  const taken = [...numbers.boxes];
  const levels = unit === 'inch' ? marks.levels.inch : marks.levels.mm;
  // 0 first: it must not give way to another.
  const ordered = [...levels].sort((p, q) => Math.abs(p.vMm) - Math.abs(q.vMm));
  let lengths = '';
  const zero = levels.find(({ vMm }) => vMm === 0);
  const sides = zero?.ends.map((end) => outward(shown(end), frame));
  for (const level of ordered) {
    for (const [k, end] of level.ends.entries()) {
      // A scale that turned a corner of the photo would be hard to follow.
      if (sides && String(outward(shown(end), frame)) !== String(sides[k])) continue;
      const label = levelLabel(level, unit, shown(end), frame, grain);
      if (taken.some((box) => overlap(box, label.box))) continue;
      taken.push(label.box);
      lengths += label.svg;
    }
  }
  return numbers.svg + lengths;
}

interface Label {
  readonly box: Box;
  readonly svg: string;
}

function repeatNumbers(
  { repeats }: OverlayMarks,
  shown: (p: Point) => Point,
  frame: readonly [number, number],
  grain: number,
): { readonly svg: string; readonly boxes: readonly Box[] } {
  const colour = LINES.repeat.colour;
  const labelled = (step: number): Label[] =>
    repeats
      .filter(({ repeat }) => repeat % step === 0)
      .flatMap(({ repeat, middle }) =>
        (middle ?? []).map((end) => numberPlate(String(repeat), shown(end), frame, grain)),
      );
  const step = STEPS.find((one) => !anyOverlap(labelled(one))) ?? STEPS[STEPS.length - 1];
  const labels = labelled(step);
  // Where not every repeat has its number, a number stands at its repeat's middle and nothing is said of where that begins.
  const d = repeats
    .filter(({ repeat }) => repeat % step === 0)
    .flatMap(({ start, middle }) => (step === 1 ? start : middle) ?? [])
    .map((end) => tick(shown(end), frame, (step === 1 ? 26 : GAP) * grain))
    .join('');
  const ticks =
    d === '' ? '' : element('path', { d, stroke: colour, 'stroke-width': 2 * grain, fill: 'none' });
  return { svg: ticks + labels.map(({ svg }) => svg).join(''), boxes: labels.map(({ box }) => box) };
}

/** Between numbers, in heights of a plate: closer ones read as one row of figures. */
const ROOM = 0.7;

const anyOverlap = (labels: readonly Label[]): boolean =>
  labels.some(({ box }, k) => {
    const spare = ROOM * box.height;
    const roomy = {
      x: box.x - spare,
      y: box.y - spare,
      width: box.width + 2 * spare,
      height: box.height + 2 * spare,
    };
    return labels.slice(0, k).some((other) => overlap(roomy, other.box));
  });

function numberPlate(text: string, place: Point, frame: readonly [number, number], grain: number): Label {
  const size = 12 * grain;
  const width = textWidth(text, size) + 1.1 * size;
  const height = 1.9 * size;
  const box = boxBeyond(place, frame, width, height, GAP * grain);
  const { colour } = LINES.repeat;
  const svg =
    element('rect', {
      ...box,
      rx: 0.4 * size,
      fill: '#ffffff',
      stroke: colour,
      'stroke-width': 1.4 * grain,
    }) +
    strokeText(text, box.x + width / 2, box.y + 1.45 * size, {
      size,
      anchor: 'middle',
      colour,
      weight: 0.17,
    });
  return { box, svg };
}

function levelLabel(
  { vMm }: Level,
  unit: LengthUnit,
  place: Point,
  frame: readonly [number, number],
  grain: number,
): Label {
  const size = (vMm === 0 ? 11 : 9) * grain;
  const text = levelText(vMm, unit);
  const width = textWidth(text, size);
  const box = boxBeyond(place, frame, width, size, 11 * grain);
  const colour = vMm === 0 ? LINES.zero.colour : INK;
  const svg =
    element('path', {
      d: tick(place, frame, 8 * grain),
      stroke: colour,
      'stroke-width': (vMm === 0 ? 2.4 : 1.2) * grain,
    }) + strokeText(text, box.x, box.y + size, { size, colour, weight: vMm === 0 ? 0.19 : 0.13 });
  return { box, svg };
}

/** "0" and whole numbers of the unit, whose mark stands in the key. */
export function levelText(vMm: number, unit: LengthUnit): string {
  const value = unit === 'mm' ? vMm : unit === 'cm' ? vMm / 10 : vMm / MM_PER_INCH;
  return String(Number(value.toFixed(2)) + 0);
}

/** Which way the border of the photo faces where a line leaves it. */
function outward([x, y]: Point, [width, height]: readonly [number, number]): Point {
  const sides: readonly (readonly [number, Point])[] = [
    [x, [-1, 0]],
    [width - x, [1, 0]],
    [y, [0, -1]],
    [height - y, [0, 1]],
  ];
  return sides.reduce((a, b) => (b[0] < a[0] ? b : a))[1];
}

function tick(place: Point, frame: readonly [number, number], length: number): string {
  const [nx, ny] = outward(place, frame);
  return `M${num(place[0])} ${num(place[1])}l${num(nx * length)} ${num(ny * length)}`;
}

/** A box in the margin, `gap` off the photo, level with the place; moved along where it would stick out at a corner. */
function boxBeyond(
  place: Point,
  frame: readonly [number, number],
  width: number,
  height: number,
  gap: number,
): Box {
  const [nx, ny] = outward(place, frame);
  const x = place[0] + nx * (gap + width / 2) - width / 2;
  const y = place[1] + ny * (gap + height / 2) - height / 2;
  return {
    x: nx === 0 ? Math.max(0, Math.min(frame[0] - width, x)) : x,
    y: ny === 0 ? Math.max(0, Math.min(frame[1] - height, y)) : y,
    width,
    height,
  };
}
