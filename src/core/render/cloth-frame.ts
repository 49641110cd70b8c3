import {
  check,
  checkAll,
  finiteNumber,
  listOf,
  numberWithin,
  orNull,
  record,
  wholeNumber,
} from '../base/expectation.js';
import { LENGTH_UNIT, type LengthUnit, MM_PER_INCH } from '../base/length.js';
import { UsageError } from '../base/outcome.js';
import type { NumberedRepeat } from '../model/numbered-repeats.js';
import { INK } from './ink.js';
import { LINES } from './overlay/lines.js';
import { levelText } from './overlay/margin.js';
import { strokeText, textWidth } from './stroke-text.js';
import { element, num } from './svg.js';

/** A level piece of the cloth, mm: u to the right, v upwards. */
export interface ClothExtent {
  readonly leftUMm: number;
  readonly rightUMm: number;
  readonly topVMm: number;
  readonly lowVMm: number;
}

/** Where a piece of cloth is drawn: its top left corner, and picture units for a mm of cloth. */
export interface ExtentOnPage {
  readonly x: number;
  readonly y: number;
  readonly scale: number;
}

/** Room that the frame takes on every side, in its grains. */
export const FRAME = 6.4;

/**
 * Around a piece of cloth: above and below it the number of each repeat, beside it lengths along the stripes from 0, in the unit asked
 * for. Numbers are written in steps that leave room between them. grain: measure of its lettering, in picture units.
 */
export function clothFrame(
  extent: ClothExtent,
  { x, y, scale }: ExtentOnPage,
  repeats: readonly NumberedRepeat[],
  unit: LengthUnit,
  grain: number,
): string {
  const width = (extent.rightUMm - extent.leftUMm) * scale;
  const height = (extent.topVMm - extent.lowVMm) * scale;
  const across = (u: number): number => x + (u - extent.leftUMm) * scale;
  const along = (v: number): number => y + (extent.topVMm - v) * scale;
  // Wholly outside, so that no pixel of the cloth is touched.
  const line = 0.12 * grain;
  const box = element('rect', {
    x: x - line,
    y: y - line,
    width: width + 2 * line,
    height: height + 2 * line,
    fill: 'none',
    stroke: INK,
    'stroke-width': line,
  });
  return box + numbers(repeats, across, y, y + height, [x, x + width], grain) + lengths();

  function lengths(): string {
    const inches = unit === 'inch';
    const steps = (inches ? [0.5, 1, 2, 4, 8, 16] : [10, 20, 50, 100, 200, 500]).map((one) =>
      inches ? one * MM_PER_INCH : one,
    );
    const step = steps.find((one) => one * scale >= 5 * grain) ?? steps[steps.length - 1];
    const fine = step / (inches ? 4 : 5);
    let d = '';
    let words = '';
    for (let k = Math.ceil(extent.lowVMm / fine); k * fine <= extent.topVMm; k++) {
      const v = k * fine;
      const isWhole = Math.abs(v / step - Math.round(v / step)) < 1e-6;
      const reach = (isWhole ? 1.3 : 0.7) * grain;
      d += `M${num(x)} ${num(along(v))}h${num(-reach)}M${num(x + width)} ${num(along(v))}h${num(reach)}`;
      if (isWhole) words += level(v, along(v));
    }
    return element('path', { d, stroke: INK, 'stroke-width': 0.14 * grain, fill: 'none' }) + words;
  }

  function level(v: number, at: number): string {
    const isZero = Math.abs(v) < 1e-6;
    const { colour } = LINES.zero;
    const style = {
      size: (isZero ? 1.7 : 1.3) * grain,
      colour: isZero ? colour : INK,
      weight: isZero ? 0.19 : 0.12,
    };
    const text = levelText(v, unit);
    const foot = at + style.size / 2;
    const arrows = isZero
      ? element('path', {
          d: `M${num(x)} ${num(at)}l${num(-1.6 * grain)} ${num(-0.8 * grain)}v${num(1.6 * grain)}zM${num(x + width)} ${num(at)}l${num(1.6 * grain)} ${num(-0.8 * grain)}v${num(1.6 * grain)}z`,
          fill: colour,
        })
      : '';
    return (
      arrows +
      strokeText(text, x - 2 * grain, foot, { ...style, anchor: 'end' }) +
      strokeText(text, x + width + 2 * grain, foot, { ...style, anchor: 'start' })
    );
  }
}

/** Every so many repeats have a number: as many as there is room for. */
const STEPS = [1, 2, 5, 10, 20, 50, 100];

function numbers(
  repeats: readonly NumberedRepeat[],
  across: (u: number) => number,
  top: number,
  foot: number,
  [left, right]: readonly [number, number],
  grain: number,
): string {
  if (repeats.length === 0) return '';
  const size = 1.7 * grain;
  const { colour } = LINES.number;
  const widest = Math.max(...repeats.map(({ repeat }) => textWidth(String(repeat), size))) + 1.1 * size;
  const pitch = across(repeats[0].endMm) - across(repeats[0].startMm);
  const step = STEPS.find((one) => one * pitch >= 1.3 * widest) ?? STEPS[STEPS.length - 1];
  let ticks = '';
  let plates = '';
  for (const { repeat, startMm, endMm } of repeats) {
    const seen = [startMm, endMm].map(across).filter((at) => at >= left - 0.01 && at <= right + 0.01);
    if (step === 1)
      for (const at of seen)
        ticks += `M${num(at)} ${num(top)}v${num(-3.4 * grain)}M${num(at)} ${num(foot)}v${num(3.4 * grain)}`;
    const middle = across((startMm + endMm) / 2);
    if (repeat % step !== 0 || middle < left || middle > right) continue;
    if (step > 1)
      ticks += `M${num(middle)} ${num(top)}v${num(-0.9 * grain)}M${num(middle)} ${num(foot)}v${num(0.9 * grain)}`;
    for (const y of [top - 2.5 * grain, foot + 2.5 * grain])
      plates += numberPlate(String(repeat), middle, y, size);
  }
  return element('path', { d: ticks, stroke: colour, 'stroke-width': 0.25 * grain, fill: 'none' }) + plates;
}

function numberPlate(text: string, x: number, y: number, size: number): string {
  const width = textWidth(text, size) + 1.1 * size;
  const { colour } = LINES.number;
  return (
    element('rect', {
      x: x - width / 2,
      y: y - 0.95 * size,
      width,
      height: 1.9 * size,
      rx: 0.4 * size,
      fill: '#ffffff',
      stroke: colour,
      'stroke-width': 0.12 * size,
    }) + strokeText(text, x, y + size / 2, { size, anchor: 'middle', colour, weight: 0.17 })
  );
}

/** The frame of a cloth's picture as SVG of the whole framed picture: px of it, mm inside. */
export interface FramedPicture {
  readonly svg: string;
  /** How wide the frame is on every side, px. */
  readonly framePx: number;
}

/** No photo shows 100 m of cloth. */
const place = numberWithin({ least: -1e5, most: 1e5 }, 'mm');
const EXTENT = record(
  { leftUMm: place, rightUMm: place, topVMm: place, lowVMm: place },
  'a piece of the cloth',
);
const REPEATS = listOf(
  record({ repeat: wholeNumber({}), startMm: finiteNumber, endMm: finiteNumber }, 'a repeat with its number'),
);
const LANDMARK = orNull(listOf(finiteNumber, { least: 2, most: 2 }, 'mm, u and v'));

function checkExtent(extent: ClothExtent): void {
  check(extent, 'extent', EXTENT);
  if (!(extent.rightUMm > extent.leftUMm))
    throw new UsageError(`expected more than leftUMm, received ${extent.rightUMm}`, 'extent.rightUMm');
  if (!(extent.topVMm > extent.lowVMm))
    throw new UsageError(`expected more than lowVMm, received ${extent.topVMm}`, 'extent.topVMm');
}

/** Frames a picture of the cloth, and rings the place that 0 along the stripes can be found again from. */
export function framedPicture(
  extent: ClothExtent,
  pxPerMm: number,
  repeats: readonly NumberedRepeat[],
  landmark: readonly [number, number] | null,
  unit: LengthUnit,
): FramedPicture {
  checkExtent(extent);
  checkAll({
    pxPerMm: [pxPerMm, numberWithin({ above: 0 })],
    repeats: [repeats, REPEATS],
    landmark: [landmark, LANDMARK],
    unit: [unit, LENGTH_UNIT],
  });
  const widthMm = extent.rightUMm - extent.leftUMm;
  const heightMm = extent.topVMm - extent.lowVMm;
  const grain = Math.max(widthMm, heightMm) / 110;
  const framePx = Math.ceil(FRAME * grain * pxPerMm);
  const frameMm = framePx / pxPerMm;
  const ring = landmark
    ? ringSvg(frameMm + landmark[0] - extent.leftUMm, frameMm + extent.topVMm - landmark[1], grain)
    : '';
  const size = [widthMm + 2 * frameMm, heightMm + 2 * frameMm];
  const svg = element(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      width: Math.round(size[0] * pxPerMm),
      height: Math.round(size[1] * pxPerMm),
      viewBox: `0 0 ${num(size[0])} ${num(size[1])}`,
    },
    clothFrame(extent, { x: frameMm, y: frameMm, scale: 1 }, repeats, unit, grain) + ring,
  );
  return { svg, framePx };
}

function ringSvg(cx: number, cy: number, grain: number): string {
  const circle = (colour: string, width: number): string =>
    element('circle', {
      cx,
      cy,
      r: 1.2 * grain,
      fill: 'none',
      stroke: colour,
      'stroke-width': width * grain,
    });
  return circle('#ffffff', 0.7) + circle(LINES.zero.colour, 0.35);
}
