import type { RefusalReason } from '../base/outcome.js';
import type { Setting } from '../base/setting.js';
import type { BandModel, Warning } from '../model/band-model.js';
import { checkBandModel } from '../model/check-band-model.js';

/** One photo of many, as an index lists it. */
export interface BatchEntry {
  /** The path as it was given. */
  readonly photo: string;
  /** Folder of its results, seen from the index, or null when nothing was written. */
  readonly folder: string | null;
  /** Of the photo's bytes, lower-case hex; null when it could not be read. */
  readonly sha256: string | null;
  readonly outcome: 'measured' | 'failed';
  /** Why it failed; null when measured. */
  readonly failure: BatchFailure | null;
  /** The photo made small, with the marks where it was measured; null when it could not be shown. */
  readonly thumbnail: Thumbnail | null;
  /** What was measured; null when it failed. */
  readonly facts: EntryFacts | null;
  /** What was asked of this photo alone, in the words it was asked in; absent when it was measured as all the others. */
  readonly ownOptions?: string;
}

export interface BatchFailure {
  readonly reason: FailureReason;
  /** One line: what was found and what to do next. */
  readonly message: string;
  /** The parameter that the message begins with, where wrong use is its fault. */
  readonly parameter?: string;
  /** What the message speaks of that can be set; absent when nothing. */
  readonly settings?: readonly Setting[];
}

/** A refusal of the photo; else wrong use, a result that could not be written, a fault of the program, or its time used up. */
export type FailureReason = RefusalReason | 'wrong-use' | 'not-written' | 'program-failed' | 'too-long';

export interface Thumbnail {
  /** JPEG as a data URI. */
  readonly uri: string;
  readonly widthPx: number;
  readonly heightPx: number;
}

/** The figures of a model that an index shows. Lengths in mm. */
export interface EntryFacts {
  readonly repeatMm: number | null;
  readonly repeatSdMm: number | null;
  readonly repeatsSeen: number;
  readonly confidence: number;
  readonly layout: 'stripe' | 'check';
  readonly balanced: boolean;
  readonly pxPerMm: number | null;
  readonly scaleRelativeSd: number | null;
  readonly scaleSource: string | null;
  readonly tiltDeg: number | null;
  /** One repeat, or what was seen where none was found. */
  readonly bands: readonly { readonly id: string; readonly srgb: string; readonly widthMm: number }[];
  readonly warnings: readonly Warning[];
}

export function entryFacts(model: BandModel): EntryFacts {
  checkBandModel(model);
  const { repeat, scale, plane, stripes, symmetry } = model;
  const srgb = new Map(model.colours.map((colour) => [colour.id, colour.srgb]));
  return {
    repeatMm: repeat.across_mm,
    repeatSdMm: repeat.across_sd_mm,
    repeatsSeen: repeat.repeats_seen,
    confidence: repeat.confidence,
    layout: stripes?.layout ?? 'stripe',
    balanced: symmetry.balanced,
    pxPerMm: scale?.px_per_mm ?? null,
    scaleRelativeSd: scale?.relative_sd ?? null,
    scaleSource: scale?.source ?? null,
    tiltDeg: plane?.tilt_deg ?? null,
    bands: model.bands.map((band) => ({
      id: band.id,
      srgb: srgb.get(band.colour) ?? '#ffffff',
      widthMm: band.width_mm,
    })),
    warnings: model.warnings,
  };
}
