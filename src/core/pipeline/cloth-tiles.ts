import type { BandModel } from '../model/band-model.js';
import { checkBandModel } from '../model/check-band-model.js';
import { clothPattern } from '../model/cloth-pattern.js';
import { checkTexture } from '../render/check-texture.js';
import type { ClothTexture } from '../render/cloth-raster.js';
import { fillCloth } from '../render/fill-cloth.js';
import type { ClothTiles } from '../render/placing/drawn-copy.js';
import { edgeSequence } from '../seam/edge-sequence.js';
import { clothLattice } from '../seam/motif-mirrors.js';

/** The photographed cloth without ruler or gaps, as far as they can be filled, and how it goes on beyond the photo by whole repeats. */
export function clothTilesOf(
  texture: ClothTexture,
  model: BandModel,
): { readonly texture: ClothTexture; readonly tiles: ClothTiles } {
  checkTexture(texture, 'texture');
  checkBandModel(model);
  const lattice = clothLattice(model);
  const { pxPerMm, picture, leftUMm, topVMm } = texture;
  const filled = fillCloth(
    texture,
    lattice === null
      ? null
      : {
          across: lattice.acrossMm * pxPerMm,
          along: lattice.alongMm * pxPerMm,
          drop: lattice.dropMm * pxPerMm,
        },
  );
  const [widthMm, heightMm] = [picture.width / pxPerMm, picture.height / pxPerMm];
  const alongSteps = lattice === null ? 1 : Math.max(1, Math.floor(heightMm / lattice.alongMm));
  const { fromUMm, acrossMm, cells } = wholeRepeats(texture, model);
  return {
    texture: filled,
    tiles: {
      fromUMm,
      fromVMm: topVMm - heightMm,
      acrossMm,
      dropMm: lattice === null ? 0 : (cells * lattice.dropMm) % lattice.alongMm,
      alongMm: lattice === null ? null : alongSteps * lattice.alongMm,
      heightMm,
    },
  };

  /** The part of the picture that holds whole cells, from an edge of a stripe to the same edge some repeats on. */
  function wholeRepeats({ picture: { width } }: ClothTexture, { repeat }: BandModel) {
    const pattern = clothPattern(model);
    const sequence = pattern.ok ? edgeSequence(model, pattern.value) : null;
    const repeatMm = repeat.across_mm ?? width / pxPerMm;
    const perCell = lattice === null ? 1 : Math.max(1, Math.round(lattice.acrossMm / repeatMm));
    const seen = sequence?.repeats ?? Math.max(1, Math.floor(widthMm / repeatMm));
    const repeats = seen < perCell ? seen : seen - (seen % perCell);
    if (sequence === null || !pattern.ok)
      return { fromUMm: leftUMm, acrossMm: repeats * repeatMm, cells: repeats / perCell };
    const last = sequence.edgeU(repeats * pattern.value.bands.length);
    return { fromUMm: sequence.edgeU(0), acrossMm: last - sequence.edgeU(0), cells: repeats / perCell };
  }
}
