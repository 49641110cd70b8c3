import { findReference } from '../../../src/core/pipeline/find-reference.js';
import type { Reference } from '../../../src/core/reference/reference.js';
import { cornerOrigin, type Point, type RealEntry, type RealRow, realPhoto } from './real-photo.js';

/** To reach: the scale within this of the hand-read ticks. */
const REACH_PERCENT = 0.5;

/** A ruler with hand-read ticks: the length that the found comb gives between the farthest of them. */
export async function rulerRow(entry: RealEntry): Promise<RealRow> {
  const hand = (entry.truth.ticks ?? []).map(({ mm, cm, x, y }) => ({
    mm: mm ?? (cm ?? 0) * 10,
    at: cornerOrigin([x, y]),
  }));
  const found = findReference(await realPhoto(entry), { kind: 'ruler', unit: 'auto' });
  const what = `ruler, ${hand.length} ticks read by hand`;
  if (!found.ok) return { name: entry.file, what, result: `refused: ${found.refusal.found}`, right: false };
  const first = hand[0];
  const last = hand[hand.length - 1];
  const place = alongComb(found.value);
  const percent = 100 * (Math.abs(place(last.at) - place(first.at)) / Math.abs(last.mm - first.mm) - 1);
  const z = percent / 100 / found.value.relativeSd;
  const { marks, unit } = found.value;
  return {
    name: entry.file,
    what,
    result: `scale ${percent.toFixed(3)} %, z ${z.toFixed(1)}, ${marks.length} marks, unit ${unit}`,
    right: Math.abs(percent) <= REACH_PERCENT,
  };
}

/** No ruler, but something like one: it is refused, or its scale is right. */
export async function noRulerRow(entry: RealEntry): Promise<RealRow> {
  const found = findReference(await realPhoto(entry), { kind: 'ruler', unit: 'auto' });
  const what = `${entry.kind}, no ruler`;
  if (!found.ok) return { name: entry.file, what, result: `refused: ${found.refusal.found}`, right: true };
  const known = entry.truth.px_per_mm;
  const { pxPerMm } = found.value;
  return {
    name: entry.file,
    what,
    result: `taken for a ruler, ${pxPerMm.toFixed(2)} px/mm${known ? ` instead of ${known}` : ''}`,
    right: known !== undefined && Math.abs(pxPerMm / known - 1) < 0.02,
  };
}

/** Place along the ruler in mm, by the marks on either side; carried on beyond the last ones. */
function alongComb({ marks }: Reference): (at: Point) => number {
  const from = marks[0].picture;
  const to = marks[marks.length - 1].picture;
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const along = ([x, y]: Point): number =>
    ((x - from[0]) * (to[0] - from[0]) + (y - from[1]) * (to[1] - from[1])) / length;
  const knots = marks
    .map(({ picture, planeMm }) => ({ px: along(picture), mm: planeMm[0] }))
    .sort((a, b) => a.px - b.px);
  return (at) => {
    const px = along(at);
    // Wide enough apart that a single mark's own error does not count.
    const span = Math.max(4, knots.length >> 3);
    const next = knots.findIndex((knot) => knot.px > px);
    const middle = next < 0 ? knots.length - 1 : next;
    const low = Math.max(0, Math.min(knots.length - 1 - span, middle - (span >> 1)));
    const a = knots[low];
    const b = knots[Math.min(knots.length - 1, low + span)];
    return a.mm + ((px - a.px) * (b.mm - a.mm)) / (b.px - a.px);
  };
}
