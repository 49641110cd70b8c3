import type { BandModel, Point } from '../model/band-model.js';
import { CLEAR_MM, type OverlayMarks } from '../render/overlay-marks.js';
import { cleanPlaces } from '../seam/clean-places.js';
import { motifLattice } from '../seam/motif-mirrors.js';
import { cotDeg } from '../seam/seam-lengths.js';

/** What the overlay says of a print. */
export type PrintMarks = Pick<OverlayMarks, 'motifCell' | 'intrusions' | 'cleanPlaces' | 'cleanAngleDeg'>;

const ANGLES_DEG = [45, 60, 90];

/**
 * The cell nearest the middle of the photo, intrusions, clean places on the widest band (the first).
 * @param at photo place of a cloth place
 * @param seen stretch of v in view at a u, or null
 * @param isHidden whether something lies on the cloth at a place, as the ruler does: no clean place is drawn there
 */
export function printMarksOf(
  model: BandModel,
  at: (u: number, v: number) => Point,
  seen: (u: number) => readonly [number, number] | null,
  isHidden: (u: number, v: number) => boolean,
): PrintMarks {
  const lattice = motifLattice(model);
  if (lattice === null) return { motifCell: null, intrusions: [], cleanPlaces: [], cleanAngleDeg: null };
  const { acrossMm, alongMm, dropMm } = lattice;
  const cell = (): Point[] | null => {
    if (model.repeat.drop_fraction === null) return null;
    const starts = model.instances
      .filter((one) => one.band === model.bands[0].id && seen(one.start_mm) && seen(one.start_mm + acrossMm))
      .map((one) => one.start_mm)
      .sort((p, q) => Math.abs(p + acrossMm / 2) - Math.abs(q + acrossMm / 2));
    if (starts.length === 0) return null;
    const u = starts[0];
    const [low, high] = seen(u) as readonly [number, number];
    const v = low + 0.3 * (high - low);
    return [
      at(u, v),
      at(u, v + alongMm),
      at(u + acrossMm, v + dropMm + alongMm),
      at(u + acrossMm, v + dropMm),
    ];
  };
  return {
    motifCell: cell(),
    intrusions: model.intrusions.map((one) => {
      const { start_mm, end_mm } = model.instances[one.instance];
      const [from, to] =
        one.edge === 'end' ? [end_mm - one.depth_mm, end_mm] : [start_mm, start_mm + one.depth_mm];
      const [left, right] =
        one.edge === 'inside' ? insideOf(model, one.instance, one.depth_mm, from) : [from, to];
      return [
        at(left, one.along_from_mm),
        at(right, one.along_from_mm),
        at(right, one.along_to_mm),
        at(left, one.along_to_mm),
      ];
    }),
    ...(ANGLES_DEG.map((deg) => ({
      cleanPlaces: cleanLines(model, deg, seen)
        .filter(([stretch, seam]) => !touches(isHidden, stretch) && !touches(isHidden, seam))
        .flat()
        .map((line) => line.map(([u, v]) => at(u, v))),
      cleanAngleDeg: deg,
    })).find(({ cleanPlaces: lines }) => lines.length > 0) ?? { cleanPlaces: [], cleanAngleDeg: null }),
  };
}

/** A motif wholly inside a band has its own place across, which the intrusion does not tell: that of the motif of its width. */
function insideOf(model: BandModel, instance: number, wideMm: number, startMm: number): [number, number] {
  const { end_mm } = model.instances[instance];
  const cellMm = model.repeat.motif_across_mm ?? model.repeat.across_mm ?? 1;
  const middles = model.motifs.map((motif) => ({
    off: Math.abs(motif.extent_mm[0] - wideMm),
    u: motif.across_mm + cellMm * Math.ceil((startMm - motif.across_mm) / cellMm),
  }));
  const fits = middles.filter(({ u }) => u < end_mm).sort((p, q) => p.off - q.off);
  const u = fits[0]?.u ?? (startMm + end_mm) / 2;
  return [u - wideMm / 2, u + wideMm / 2];
}

/** From one cloth place to another, [u, v] mm. */
type ClothLine = readonly [readonly [number, number], readonly [number, number]];

/** Places along a line that are asked whether they are hidden. */
const ASKED = 8;

const touches = (isHidden: (u: number, v: number) => boolean, [[u, v], [toU, toV]]: ClothLine): boolean =>
  Array.from({ length: ASKED + 1 }, (_, k) => k / ASKED).some((t) =>
    isHidden(u + t * (toU - u), v + t * (toV - v)),
  );

/** Each clean place in view: the stretch along the stripes, and a seam across the band at its middle. */
function cleanLines(
  model: BandModel,
  angleDeg: number,
  seen: (u: number) => readonly [number, number] | null,
): [stretch: ClothLine, seam: ClothLine][] {
  const lattice = motifLattice(model);
  const [first] = model.bands;
  if (lattice === null || lattice.dots.length === 0) return [];
  return model.instances
    .filter((one) => one.band === first.id && one.whole)
    .flatMap((one) => {
      const middleU = (one.start_mm + one.end_mm) / 2;
      const view = seen(middleU);
      if (view === null) return [];
      const places = cleanPlaces(
        lattice,
        { fromUMm: one.start_mm, toUMm: one.end_mm },
        { angleDeg, slope: cotDeg(angleDeg) },
        CLEAR_MM,
      );
      return places.flatMap(({ fromMm, toMm }) => {
        const low = Math.ceil((view[0] - fromMm) / lattice.alongMm);
        const high = Math.floor((view[1] - toMm) / lattice.alongMm);
        return Array.from({ length: Math.max(0, high - low + 1) }, (_, j): [ClothLine, ClothLine] => {
          const lift = (low + j) * lattice.alongMm;
          const v = (fromMm + toMm) / 2 + lift;
          const reach = (one.end_mm - one.start_mm) / 2;
          const rise = reach * cotDeg(angleDeg);
          return [
            [
              [middleU, fromMm + lift],
              [middleU, toMm + lift],
            ],
            [
              [middleU - reach, v - rise],
              [middleU + reach, v + rise],
            ],
          ];
        });
      });
    });
}
