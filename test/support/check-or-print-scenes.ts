import type { BandModel } from '../../src/core/model/band-model.js';
import type { FlatBand, FlatCloth, FlatPrint } from './flat-cloth.js';
import { DYES } from './sample-scenes.js';

/** One cloth that is woven both ways, or printed so that it might be taken for it. */
export interface CheckOrPrint {
  readonly name: string;
  readonly kind: 'check' | 'print';
  readonly cloth: Omit<FlatCloth, 'turnDeg' | 'seed'>;
  /** Of a print: from one motif to the next along the stripes, as one number of repeats across has it. */
  readonly alongMm: number;
  readonly drop: number;
}

type Dye = keyof typeof DYES;
const bands = (...list: readonly (readonly [Dye | `#${string}`, number])[]): FlatBand[] =>
  list.map(([dye, widthMm]) => ({ colour: dye in DYES ? DYES[dye as Dye] : dye, widthMm }));
const lengthOf = (list: readonly FlatBand[]): number => list.reduce((sum, band) => sum + band.widthMm, 0);

const TICKING = bands(['indigo', 9], ['ivory', 5], ['ochre', 4], ['ivory', 14]);
const PALE = bands(['ivory', 14], ['#d8c9a4', 12]);

const woven = (name: string, across: FlatBand[], crossing: FlatBand[]): CheckOrPrint => ({
  name,
  kind: 'check',
  cloth: { bands: across, crossing },
  alongMm: lengthOf(crossing),
  drop: 0,
});

/** Checks that show little of their second direction, or much, and such as hold squares. */
export const wovenChecks = (): CheckOrPrint[] => [
  woven('gingham', bands(['indigo', 8], ['ivory', 8]), bands(['indigo', 8], ['ivory', 8])),
  woven('gingham, fine', bands(['madder', 3], ['ivory', 3]), bands(['madder', 3], ['ivory', 3])),
  woven('gingham, oblong', bands(['indigo', 6], ['ivory', 6]), bands(['indigo', 15], ['ivory', 15])),
  woven('windowpane', bands(['ivory', 28], ['indigo', 2]), bands(['ivory', 28], ['indigo', 2])),
  woven(
    'windowpane, faint across',
    bands(['ivory', 20], ['indigo', 2.5]),
    bands(['ivory', 20], ['#d3c6a6', 2]),
  ),
  woven('windowpane on ticking', TICKING, bands(['ivory', 24], ['madder', 1.6])),
  woven('ticking with faint lines', TICKING, bands(['ivory', 24], ['#d3c6a6', 2])),
  woven('few lines', TICKING, bands(['ivory', 58], ['madder', 3])),
  woven('unequal repeats', bands(['indigo', 5], ['ivory', 7]), bands(['ivory', 40], ['madder', 9])),
  woven('thin lines', bands(['indigo', 10], ['ivory', 12]), bands(['ivory', 15], ['madder', 1.2])),
  woven(
    'lines in pairs',
    bands(['woad', 10], ['ivory', 12]),
    bands(['ivory', 20], ['walnut', 1.5], ['ivory', 3], ['walnut', 1.5]),
  ),
  woven('three yarns', TICKING, TICKING),
  woven('near in colour', PALE, PALE),
];

/** Where a place lies from the nearest of a lattice's, mm. */
const off = (u: number, v: number, acrossMm: number, alongMm: number, drop: number): [number, number] => {
  const k = Math.round(u / acrossMm);
  const rest = v - k * drop * alongMm;
  return [u - k * acrossMm, rest - alongMm * Math.round(rest / alongMm)];
};

const printed = (
  name: string,
  ground: FlatBand[],
  alongMm: number,
  drop: number,
  dye: Dye,
  covers: (u: number, v: number) => boolean,
  { atMm = 0, acrossMm = lengthOf(ground) }: { readonly atMm?: number; readonly acrossMm?: number } = {},
): CheckOrPrint => {
  const print: FlatPrint = (u, v) => {
    const [du, dv] = off(u - atMm, v, acrossMm, alongMm, drop);
    return covers(du, dv) ? DYES[dye] : null;
  };
  return { name, kind: 'print', cloth: { bands: ground, print }, alongMm, drop };
};

const box =
  (wide: number, tall: number) =>
  (u: number, v: number): boolean =>
    Math.abs(u) < wide / 2 && Math.abs(v) < tall / 2;
const disc =
  (size: number) =>
  (u: number, v: number): boolean =>
    Math.hypot(u, v) < size / 2;
const diamond =
  (wide: number, tall: number) =>
  (u: number, v: number): boolean =>
    Math.abs(u) / wide + Math.abs(v) / tall < 0.5;

/** Prints with edges square to the stripes, in rows, or so dense that they run together. */
export const checklikePrints = (): CheckOrPrint[] => [
  printed('squares in rows', TICKING, 20, 0, 'madder', box(7, 7), { atMm: 25 }),
  printed('squares by half-drop', TICKING, 26, 0.5, 'madder', box(8, 8), { atMm: 25 }),
  printed('large squares over edges', TICKING, 30, 0, 'madder', box(15, 15), { atMm: 18 }),
  printed('dashes along a band', TICKING, 18, 0, 'madder', box(4, 10), { atMm: 25 }),
  printed('dashes across a band', TICKING, 14, 0, 'madder', box(10, 5), { atMm: 25 }),
  printed('bars across several bands', TICKING, 24, 0, 'madder', box(22, 6), { atMm: 16 }),
  printed('bars nearly touching', TICKING, 24, 0, 'madder', box(27, 6), { atMm: 16 }),
  printed('discs in rows', TICKING, 18, 0, 'madder', disc(10), { atMm: 25 }),
  printed('discs that touch across', bands(['indigo', 8], ['ivory', 8]), 26, 0, 'madder', disc(16.4)),
  printed(
    'diamonds that touch across',
    bands(['indigo', 8], ['ivory', 8]),
    30,
    0,
    'madder',
    diamond(16.6, 14),
  ),
  printed('ribbon of dots', TICKING, 10, 0, 'madder', disc(5), { atMm: 25 }),
  printed('squares in each band', bands(['indigo', 12], ['ivory', 12]), 16, 0, 'ochre', box(6, 6), {
    atMm: 6,
    acrossMm: 24,
  }),
  printed('crosses', TICKING, 22, 0.5, 'madder', (u, v) => box(12, 3)(u, v) || box(3, 12)(u, v), {
    atMm: 25,
  }),
  printed('dense discs by half-drop', bands(['indigo', 10], ['ivory', 14]), 18, 0.5, 'ochre', disc(13)),
  printed('squares on pale stripes', PALE, 20, 0, 'indigo', box(9, 9), { atMm: 7 }),
  printed('bars on pale stripes', PALE, 20, 0, 'indigo', box(20, 4), { atMm: 7 }),
];

/** Directions that are asked for in turn. */
export const TURNS_DEG = [90, 3, 37, 128] as const;

/** Within what part of itself a repeat of the bands, and one of motifs, must be right. */
const BANDS_WITHIN = 0.003;
const MOTIFS_WITHIN = 0.005;
const DROP_WITHIN = 0.03;

const isNear = (found: number | null, due: number, within: number): boolean =>
  found !== null && Math.abs(found / due - 1) < within;

/** What a model has wrong of such a cloth, in words. */
export function checkOrPrintFaults({ kind, cloth, alongMm, drop }: CheckOrPrint, model: BandModel): string[] {
  const { stripes, repeat, bands, check } = model;
  if ((stripes.layout === 'check') !== (kind === 'check')) return [`taken for a ${stripes.layout}`];
  const told = (length: number | null, count: number) =>
    `${length?.toFixed(2) ?? 'no repeat'} of ${count} bands`;
  const isDue = (
    found: { repeat: { across_mm: number | null }; bands: readonly unknown[] },
    due: readonly FlatBand[],
  ) => isNear(found.repeat.across_mm, lengthOf(due), BANDS_WITHIN) && found.bands.length === due.length;
  if (check && cloth.crossing) {
    const [p, q] = [cloth.bands, cloth.crossing];
    // The two directions may change places.
    if ((isDue(model, p) && isDue(check, q)) || (isDue(model, q) && isDue(check, p))) return [];
    return [
      `${told(repeat.across_mm, bands.length)}, ${told(check.repeat.across_mm, check.bands.length)} across`,
    ];
  }
  const faults: string[] = [];
  if (!isDue(model, cloth.bands)) faults.push(told(repeat.across_mm, bands.length));
  const along = repeat.along_mm ?? null;
  if (!isNear(along, alongMm, MOTIFS_WITHIN)) faults.push(`${along?.toFixed(2) ?? 'no repeat'} along`);
  else {
    const off = (repeat.drop_fraction ?? Number.NaN) - drop;
    if (!(Math.abs(off - Math.round(off)) < DROP_WITHIN)) faults.push(`drop ${repeat.drop_fraction}`);
  }
  return faults;
}
