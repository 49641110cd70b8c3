import type { Point } from '../../math/matrix3.js';
import { bandMirrors } from '../../model/band-mirrors.js';
import type { BandModel } from '../../model/band-model.js';
import { type ClothPattern, clothPattern } from '../../model/cloth-pattern.js';
import type { PlanCloth } from '../../place/plan/plan.js';
import { crossStripes } from '../../seam/cross-model.js';
import { clothLattice } from '../../seam/motif-mirrors.js';

/** Motions of a copy on the cloth that change nothing of what it shows. Cloth frame, mm. */
export interface ClothMotions {
  /** Shifts across go by whole steps; 0: none; null: any. */
  readonly acrossStepMm: number | null;
  /** The stripes' own repeat; null on plain cloth. */
  readonly repeatMm: number | null;
  /** Likewise along. */
  readonly alongStepMm: number | null;
  /** What one step across adds along. */
  readonly dropMm: number;
  /** A place about which a half turn leaves the colours where they are; null: none is known or allowed. */
  readonly halfTurnAbout: Point | null;
  /** The same, were the cloth plain. */
  readonly plainHalfTurn: Point | null;
}

/** What the plan allows on its cloth. model: null on plain cloth. */
export function clothMotions(cloth: PlanCloth, model: BandModel | null): ClothMotions {
  const isOneWay = (cloth.oneWay ?? model?.symmetry.directional ?? null) === true;
  const plainHalfTurn: Point | null = isOneWay ? null : [0, 0];
  if (model === null)
    return {
      acrossStepMm: null,
      repeatMm: null,
      alongStepMm: null,
      dropMm: 0,
      halfTurnAbout: plainHalfTurn,
      plainHalfTurn,
    };
  const lattice = clothLattice(model);
  const pattern = clothPattern(model);
  const repeatMm = pattern.ok ? pattern.value.repeatMm : 0;
  return {
    acrossStepMm: cloth.instances ? 0 : (lattice?.acrossMm ?? repeatMm),
    repeatMm,
    alongStepMm: lattice?.alongMm ?? null,
    dropMm: cloth.instances ? 0 : (lattice?.dropMm ?? 0),
    // Actual stripes are their own mirror image nowhere; and of motifs it is not known whether their drawing is.
    halfTurnAbout:
      isOneWay || cloth.instances || !pattern.ok || model.motifs.length > 0
        ? null
        : halfTurnOf(model, pattern.value),
    plainHalfTurn,
  };
}

function halfTurnOf(model: BandModel, pattern: ClothPattern): Point | null {
  const acrossMm = mirrorOf(pattern);
  const cross = crossStripes(model);
  const isCheck = model.stripes.layout === 'check';
  const alongMm = isCheck ? (cross === null ? null : mirrorOf(cross.pattern)) : 0;
  return acrossMm === null || alongMm === null ? null : [acrossMm, alongMm];
}

/** Widths count as equal as far as they are typed, not as far as they scatter: a turned copy shows its colours where they were. */
const mirrorOf = (pattern: ClothPattern): number | null =>
  bandMirrors(
    pattern,
    pattern.bands.map(() => 0),
  ).axesUMm[0] ?? null;
