import { type Outcome, refuse, succeed } from '../../base/outcome.js';
import { bandMirrors } from '../../model/band-mirrors.js';
import type { BandModel } from '../../model/band-model.js';
import { type ClothPattern, clothPattern } from '../../model/cloth-pattern.js';
import { crossStripes } from '../../seam/cross-model.js';
import { motifLattice } from '../../seam/motif-mirrors.js';
import type { MotifBoxes } from '../miss/near-motifs.js';
import type { BandCycle, SeenBand } from './band-line.js';

/** The stripes of one direction, as placing needs them. */
export interface StripesOfCloth {
  readonly cycle: BandCycle;
  readonly periodMm: number;
  /** Ids of the bands and of the colours, in the order of their indices. */
  readonly bandIds: readonly string[];
  readonly colourIds: readonly string[];
  readonly colourNames: readonly string[];
  /** A mirror line of the sequence, cloth coordinate; null on unbalanced stripes. */
  readonly mirrorAxisMm: number | null;
  /** The actual stripes in view, in order and touching; null where the mean repeat is meant. */
  readonly seen: readonly SeenBand[] | null;
}

/** What pieces are placed on. */
export interface PlacingCloth {
  readonly across: StripesOfCloth;
  /** The second direction of a check; null on stripes. */
  readonly along: StripesOfCloth | null;
  /** Motifs whose repeat along the stripes is known; null without. */
  readonly motifs: MotifBoxes | null;
  /** Motifs are listed, but no repeat along: they cannot be kept clear of. */
  readonly hasLooseMotifs: boolean;
}

/** Refuses a model without a repeat, and actual stripes that hold no whole repeat. useSeen: place on the stripes in view. */
export function placingCloth(model: BandModel, useSeen: boolean): Outcome<PlacingCloth> {
  const pattern = clothPattern(model);
  if (!pattern.ok) return pattern;
  const cross = crossStripes(model);
  if (model.stripes.layout === 'check' && cross === null)
    return refuse(
      'unreadable',
      'The model is of a check, but its second direction has no repeat',
      'measure a photo with at least two repeats of both directions in view',
    );
  const across = stripesOf(model, pattern.value, useSeen);
  if (!across.ok) return across;
  const along = cross === null ? null : stripesOf(cross.model, cross.pattern, useSeen);
  if (along !== null && !along.ok) return along;
  const lattice = motifLattice(model);
  return succeed({
    across: across.value,
    along: along === null ? null : along.value,
    motifs:
      lattice === null || lattice.dots.length === 0
        ? null
        : {
            acrossMm: lattice.acrossMm,
            alongMm: lattice.alongMm,
            dropMm: lattice.dropMm,
            boxes: lattice.dots.map(({ u, v, extent }) => ({
              u,
              v,
              halfU: extent[0] / 2,
              halfV: extent[1] / 2,
            })),
          },
    hasLooseMotifs: lattice === null && model.motifs.length > 0,
  });
}

function stripesOf(model: BandModel, pattern: ClothPattern, useSeen: boolean): Outcome<StripesOfCloth> {
  const colourIds = model.colours.map(({ id }) => id);
  const mirrors = bandMirrors(
    pattern,
    model.bands.map((band) => band.width_sd_mm),
  );
  const stripes = {
    cycle: {
      startMm: pattern.originUMm,
      widthsMm: pattern.bands.map(({ widthMm }) => widthMm),
      colours: pattern.bands.map(({ colourId }) => colourIds.indexOf(colourId)),
    },
    periodMm: pattern.repeatMm,
    bandIds: pattern.bands.map(({ id }) => id),
    colourIds,
    colourNames: model.colours.map(({ name }) => name),
    mirrorAxisMm: mirrors.axesUMm[0] ?? null,
  };
  if (!useSeen) return succeed({ ...stripes, seen: null });
  const seen = touchingStripes(model, pattern);
  const whole = Math.floor(seen.length / pattern.bands.length);
  return whole >= 1
    ? succeed({ ...stripes, seen })
    : refuse(
        'unreadable',
        `The model lists ${model.instances.length} actual stripes, not a whole repeat in a row`,
        'leave instances out of the plan to place on the mean repeat, or measure a photo with more of the cloth in view',
      );
}

/** Two edges nearer than this part of the narrowest band are one: the instances of a measured model touch but for rounding. */
const TOUCHING = 0.25;

/**
 * The longest run of stripes in the repeat's own order. What a hand or a ruler hid ends a run. A stripe cut by the frame of the photo
 * has one true edge, and is left to the mean repeat that carries the run on.
 */
function touchingStripes(model: BandModel, pattern: ClothPattern): SeenBand[] {
  const n = pattern.bands.length;
  const nearMm = TOUCHING * Math.min(...pattern.bands.map(({ widthMm }) => widthMm));
  let best: SeenBand[] = [];
  let run: SeenBand[] = [];
  for (const one of model.instances) {
    const band = pattern.bands.findIndex(({ id }) => id === one.band);
    if (band < 0 || !one.whole) {
      run = [];
      continue;
    }
    const last = run[run.length - 1];
    const follows =
      last !== undefined && band === (last.band + 1) % n && Math.abs(one.start_mm - last.endMm) < nearMm;
    if (follows) {
      const edgeMm = (last.endMm + one.start_mm) / 2;
      run[run.length - 1] = { ...last, endMm: edgeMm };
      run.push({ band, repeat: one.repeat, startMm: edgeMm, endMm: one.end_mm });
    } else run = [{ band, repeat: one.repeat, startMm: one.start_mm, endMm: one.end_mm }];
    if (run.length > best.length) best = [...run];
  }
  return best;
}
