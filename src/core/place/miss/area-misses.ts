import type { Point } from '../../math/matrix3.js';
import { areaProfile } from '../shape/area-profile.js';
import type { LaidCopy } from '../shape/copy-shape.js';
import type { AskedCloth } from './asked-cloth.js';
import { areaInEither, unlikeStrips } from './either-unlike.js';
import { type Measure, once } from './measure.js';
import { areaByShow, stripsOver, unlikeArea } from './shown-area.js';

export const flipped = (ring: readonly Point[]): Point[] => ring.map(([p, q]) => [q, p]);

/**
 * Shares of the colours over a region of a copy (outlines in its stripe frame), in the order of the model's colours, summing to 1. On a
 * check every place counts half for the colour of either direction.
 */
export function sharesOver(
  cloth: AskedCloth,
  region: readonly (readonly Point[])[],
): (lay: LaidCopy) => Float64Array {
  const across = areaProfile(region);
  const kinds = cloth.across.stripes.colourIds.length;
  const { along } = cloth;
  const alongProfile = along === null ? null : areaProfile(region.map(flipped));
  return once((lay) => {
    const { line } = cloth.across;
    const shares = areaByShow(stripsOver(across, line, lay.across), line.colour, kinds);
    if (along !== null && alongProfile !== null) {
      const strips = stripsOver(alongProfile, along.line, lay.along);
      areaByShow(strips, along.line.colour, kinds).forEach((area, k) => {
        shares[k] = (shares[k] + area) / 2;
      });
    }
    return shares.map((area) => area / across.areaMm2);
  });
}

/** 1 less the colour's share of the region, or the share itself. */
export function showsMeasure(
  cloth: AskedCloth,
  copy: number,
  region: readonly (readonly Point[])[],
  colour: number,
  want: 'most' | 'least',
): Measure {
  const shares = sharesOver(cloth, region);
  return {
    copies: [copy],
    miss: ([lay]) => (want === 'most' ? 1 - shares(lay)[colour] : shares(lay)[colour]),
    asksAlong: cloth.along !== null,
    asksAcross: true,
  };
}

/** Share of the piece's area over which not all of its copies show the same colours at the same place of the piece. */
export function alikeMeasure(cloth: AskedCloth, copies: readonly number[]): Measure {
  const { outline } = cloth.copies[copies[0]];
  const across = areaProfile([outline]);
  const alongProfile = areaProfile([flipped(outline)]);
  const { along } = cloth;
  const shownAcross = once((lay) => stripsOver(across, cloth.across.line, lay.across));
  const shownAlong =
    along === null ? null : once((lay: LaidCopy) => stripsOver(alongProfile, along.line, lay.along));
  const areaOf = areaInEither(outline);
  const miss = (lays: readonly LaidCopy[]): number => {
    const strips = lays.map(shownAcross);
    if (along === null || shownAlong === null)
      return unlikeArea(strips, cloth.across.line.colour) / across.areaMm2;
    const area = areaOf(
      unlikeStrips(across.fromMm[0], strips, cloth.across.line.colour),
      unlikeStrips(alongProfile.fromMm[0], lays.map(shownAlong), along.line.colour),
    );
    return area / across.areaMm2;
  };
  return { copies, miss, asksAlong: along !== null, asksAcross: true };
}
