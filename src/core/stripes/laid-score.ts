import { cie76 } from '../colour/cie76.js';
import type { Lab } from '../colour/lab.js';
import type { CrossProfile } from './cross-profile.js';
import type { TemplateBand } from './fit-repeat.js';
import type { PlacedRun } from './placed-run.js';
import { WIDTH_JUMP } from './repeat-candidates.js';
import type { Segment } from './segment.js';

/** A missed or split band shows as a jump in width; one of two or three columns may differ by one. */
export const widthFits = (columns: number, usual: number): boolean =>
  Math.abs(Math.log(columns / usual)) <= Math.log(WIDTH_JUMP) || Math.abs(columns - usual) <= 1;

/** From where to where a band of so many columns reaches, of which the view may show one end only. */
export function extentOf(
  segments: readonly Segment[],
  i: number,
  columns: number,
): readonly [number, number] {
  const { from, to } = segments[i];
  if (i === 0) return [Math.min(from, to - columns), to];
  return [from, i === segments.length - 1 ? Math.max(to, from + columns) : to];
}

/** The colour of a band that reaches so far, at a column. */
export function dueAt(
  { lab, run }: TemplateBand,
  [from, to]: readonly [number, number],
  column: number,
): Lab {
  if (!run) return lab;
  const part = (column - from) / (to - from) - 0.5;
  return [lab[0] + part * run[0], lab[1] + part * run[1], lab[2] + part * run[2]];
}

/** How well a template fits where it lies: share of the columns and share of the bands that look as they should, the mean of both. */
export function scoreOf(
  { lab }: CrossProfile,
  runs: readonly PlacedRun[],
  template: readonly TemplateBand[],
  wide: (column: number) => number,
): number {
  const near = nearness(template);
  let columns = 0;
  let nearColumns = 0;
  let bands = 0;
  let goodBands = 0;
  for (const { segments, places } of runs) {
    segments.forEach((s, i) => {
      const place = places[i];
      const own = place && template[place.band];
      // Blurred columns at either end of a band tell nothing.
      const from = Math.ceil(s.from + Math.min(1, 0.25 * (s.to - s.from)));
      const to = Math.floor(s.to - Math.min(1, 0.25 * (s.to - s.from)));
      columns += Math.max(0, to - from);
      bands++;
      if (!own) return;
      const usual = own.columns * wide((s.from + s.to) / 2);
      const extent = extentOf(segments, i, usual);
      let due = own.lab;
      for (let x = from; x < to; x++) {
        if (own.run) due = dueAt(own, extent, x + 0.5);
        const square =
          (lab[3 * x] - due[0]) ** 2 + (lab[3 * x + 1] - due[1]) ** 2 + (lab[3 * x + 2] - due[2]) ** 2;
        if (square <= near * near) nearColumns++;
      }
      const width = s.to - s.from;
      const whole = i > 0 && i < segments.length - 1;
      const middle = dueAt(own, extent, (s.from + s.to) / 2);
      if (cie76(s.lab, middle) <= near && (!whole || widthFits(width, usual))) goodBands++;
    });
  }
  return (nearColumns / Math.max(1, columns) + goodBands / Math.max(1, bands)) / 2;
}

/** How far off (CIE76) a colour may be and still be its band's: half-way to a neighbour, within reason. */
export function nearness(template: readonly TemplateBand[]): number {
  const steps = template.map((band, b) => cie76(band.lab, template[(b + 1) % template.length].lab));
  return Math.max(3, Math.min(12, 0.5 * Math.min(...steps)));
}
