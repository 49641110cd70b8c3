import { type BandMirror, bandMirrors } from '../model/band-mirrors.js';
import type { BandModel } from '../model/band-model.js';
import type { ClothPattern } from '../model/cloth-pattern.js';
import { crossStripes } from './cross-model.js';
import type { Lay } from './lay.js';
import { type MotifMirror, motifLattice, motifMirrors, stripePeriods } from './motif-mirrors.js';

/** yes: allowed as far as the model tells; check: allowed if what the reason names holds; no: it cannot match. */
export type LayAnswer = 'yes' | 'check' | 'no';

export interface LayVerdict {
  /** How the right half lies. */
  readonly lay: Lay;
  /** Whether the cloth's symmetry allows it. */
  readonly allowed: LayAnswer;
  /** One sentence a maker understands. */
  readonly reason: string;
}

export interface SymmetryDoubt {
  readonly code: 'balance-doubt' | 'check-one-way';
  readonly message: string;
}

/** What the cloth's symmetry allows, said before anything is cut. */
export interface SymmetryVerdict {
  /** The mirror lines of the sequence of bands, cloth u. */
  readonly mirror: BandMirror;
  /** Motifs' mirrors and glides that keep the stripes too; null on cloth without motifs. */
  readonly motifs: readonly MotifMirror[] | null;
  /** Whether the cloth looks different from its other end; null: not known. */
  readonly directional: boolean | null;
  /** The answer in one or two sentences. */
  readonly sentence: string;
  /** What only eyes can settle; null when nothing is left open. */
  readonly checkByEye: string | null;
  /** Every way of laying the right half, with its reason. */
  readonly lays: readonly LayVerdict[];
  /** The lay drawn when none is asked for. */
  readonly preferred: Lay;
  /** What makes the answer less sure than it sounds; usually empty. */
  readonly doubts: readonly SymmetryDoubt[];
}

/**
 * A mirrored pair can be cut right side up if and only if the cloth has a mirror or a glide among its
 * symmetries: reversing u (same way up), which the band sequence must allow, or reversing v (head to tail),
 * which pure stripes always allow and a one-way print or nap shows.
 */
export function allowedLays(model: BandModel, pattern: ClothPattern): SymmetryVerdict {
  const mirror = bandMirrors(
    pattern,
    model.bands.map((band) => band.width_sd_mm),
  );
  const directional = model.symmetry.directional;
  const motifs = mirrorsOfMotifs(model, pattern, mirror);
  const cross = crossStripes(model)?.mirror ?? null;
  const along = alongMirror(model, motifs, cross);
  const lays = [sameWay(mirror, motifs), headToTail(directional, along), wrongSide(), runOn()];
  const preferred = pick(lays);
  return {
    mirror,
    motifs,
    directional,
    sentence: sentence(mirror, lays, directional),
    checkByEye: checkByEye(lays, directional, motifs?.some((m) => m.drawn === null) ?? false),
    lays,
    preferred,
    doubts: doubts(model, mirror),
  };
}

function mirrorsOfMotifs(model: BandModel, pattern: ClothPattern, mirror: BandMirror): MotifMirror[] | null {
  const lattice = motifLattice(model);
  if (lattice === null) return null;
  const nearMm = 0.02 * Math.min(lattice.acrossMm, lattice.alongMm);
  const periods = stripePeriods(
    pattern.bands.map((b) => b.widthMm),
    pattern.bands.map((b) => b.srgb),
    nearMm,
  );
  return motifMirrors(lattice, mirror.axesUMm, periods, nearMm);
}

function doubts(model: BandModel, mirror: BandMirror): SymmetryDoubt[] {
  const found: SymmetryDoubt[] = [];
  if (model.symmetry.balanced !== mirror.balanced) {
    const says = model.symmetry.balanced ? 'balanced' : 'not balanced';
    const read = mirror.balanced ? 'the same both ways' : 'differently backwards';
    found.push({
      code: 'balance-doubt',
      message: `The file says ${says}, but its bands read ${read}: the bands are believed`,
    });
  }
  if (model.stripes.layout === 'check' && crossStripes(model) === null) {
    found.push({
      code: 'check-one-way',
      message:
        'A check whose cross stripes are not told: crossings and mismatch are those of the first direction only',
    });
  }
  return found;
}

type AlongMirror = 'yes' | 'motifs' | 'check-unknown' | 'check-unbalanced';

/** Whether reversing v keeps the cloth, one-way nap left aside. */
function alongMirror(
  model: BandModel,
  motifs: readonly MotifMirror[] | null,
  cross: BandMirror | null,
): AlongMirror {
  if (motifs !== null && !motifs.some((m) => m.reverses === 'along')) return 'motifs';
  if (model.stripes.layout !== 'check') return 'yes';
  if (cross === null) return 'check-unknown';
  return cross.balanced ? 'yes' : 'check-unbalanced';
}

function sameWay(mirror: BandMirror, motifs: readonly MotifMirror[] | null): LayVerdict {
  const lay = 'same-way';
  if (!mirror.balanced) {
    return {
      lay,
      allowed: 'no',
      reason:
        'The stripes do not read the same backwards, so with both halves the same way up other bands meet at the seam.',
    };
  }
  if (motifs !== null) {
    const across = motifs.filter((m) => m.reverses === 'across');
    if (across.length === 0) {
      return {
        lay,
        allowed: 'no',
        reason:
          'The stripes are balanced, but the motifs do not mirror across them, so motifs would not meet.',
      };
    }
    const slip = Math.min(...across.map((m) => m.slipMm));
    const sure = across.some((m) => m.drawn === true);
    const how = slip > 0 ? ` with the right half slid ${slip.toFixed(0)} mm along the stripes` : '';
    return {
      lay,
      allowed: sure ? 'yes' : 'check',
      reason: sure
        ? `The stripes are balanced and the motifs are their own mirror images${how}, so both halves may lie the same way up.`
        : `The stripes are balanced and the motifs' places mirror${how}: allowed if each motif looks the same in a mirror.`,
    };
  }
  return {
    lay,
    allowed: 'yes',
    reason: 'The stripes read the same both ways, so both halves may lie the same way up.',
  };
}

function headToTail(directional: boolean | null, along: AlongMirror): LayVerdict {
  const lay = 'head-to-tail';
  const no = (reason: string): LayVerdict => ({ lay, allowed: 'no', reason });
  if (along === 'motifs')
    return no('The motifs do not mirror along the stripes, so turned round they would not meet.');
  if (along === 'check-unbalanced') {
    return no(
      'The cross stripes of this check do not read the same backwards, so turned round they would not meet.',
    );
  }
  if (directional === true)
    return no('This is one-way cloth: a half turned head to tail would show upside down.');
  if (along === 'check-unknown') {
    return {
      lay,
      allowed: 'check',
      reason:
        'Allowed if the cross stripes of this check read the same both ways: their bands are not in the model.',
    };
  }
  if (directional === null) {
    return {
      lay,
      allowed: 'check',
      reason:
        'Every band meets its own kind if one half is turned head to tail: allowed if the cloth has no one-way print, pile or sheen.',
    };
  }
  return {
    lay,
    allowed: 'yes',
    reason:
      'Every band meets its own kind if one half is turned head to tail, and the cloth looks the same from either end.',
  };
}

const wrongSide = (): LayVerdict => ({
  lay: 'wrong-side',
  allowed: 'check',
  reason:
    'Always meets, both halves the same way up: allowed if the wrong side may show and looks like the right one.',
});

const runOn = (): LayVerdict => ({
  lay: 'run-on',
  allowed: 'yes',
  reason:
    'No chevron: both halves laid alike, the stripes slant on across the seam (at 90 degrees they run straight across).',
});

/** The first that is sure, then the first that needs a look; a run-on is never a chevron, so never chosen. */
function pick(lays: readonly LayVerdict[]): Lay {
  const chevrons = lays.filter((one) => one.lay !== 'run-on');
  return (
    (chevrons.find((one) => one.allowed === 'yes') ?? chevrons.find((one) => one.allowed === 'check'))?.lay ??
    'run-on'
  );
}

function sentence(mirror: BandMirror, lays: readonly LayVerdict[], directional: boolean | null): string {
  const of = (lay: Lay): LayAnswer => lays.find((one) => one.lay === lay)?.allowed ?? 'no';
  const same = of('same-way');
  const turned = of('head-to-tail');
  const kind = mirror.balanced ? 'Balanced stripes' : 'Unbalanced stripes';
  if (same !== 'no') {
    const also =
      turned === 'no'
        ? ', and must on this cloth'
        : turned === 'yes'
          ? ', or one may be turned head to tail'
          : '';
    return `${kind}: both halves may lie the same way up${also}.`;
  }
  if (turned === 'yes') return `${kind}: one half must lie head to tail, or the bands will not meet.`;
  if (turned === 'check') {
    return `${kind}: one half must lie head to tail, or the bands will not meet${
      directional === null ? '; on one-way cloth that is not allowed, so a matching V is impossible' : ''
    }.`;
  }
  return `${directional ? `${kind} on one-way cloth` : kind}: a matching V is impossible with both halves right side up; only the wrong side of the cloth, where it may show, gives one.`;
}

function checkByEye(
  lays: readonly LayVerdict[],
  directional: boolean | null,
  motifs: boolean,
): string | null {
  const asks: string[] = [];
  // Where a chevron is allowed for sure, no look is needed.
  const sure = lays.some((one) => one.lay !== 'run-on' && one.allowed === 'yes');
  if (
    !sure &&
    directional === null &&
    lays.some((one) => one.lay === 'head-to-tail' && one.allowed === 'check')
  ) {
    asks.push(
      'turn a corner of the cloth end for end beside itself: if print, pile or sheen looks different, do not lay a half head to tail',
    );
  }
  if (motifs) asks.push('hold a motif to a mirror: it must look the same');
  if (asks.length === 0) return null;
  const text = asks.join('; and ');
  return `${text[0].toUpperCase()}${text.slice(1)}.`;
}
