import type { BatchEntry } from './batch-entry.js';
import { checkEntries } from './check-entries.js';
import { type CsvCell, csvText } from './csv.js';

const HEADING = [
  'photo',
  'folder',
  'outcome',
  'reason',
  'message',
  'repeat_mm',
  'repeat_sd_mm',
  'repeats_seen',
  'confidence',
  'bands',
  'layout',
  'balanced',
  'px_per_mm',
  'scale_relative_sd',
  'scale_source',
  'tilt_deg',
  'warnings',
  'sha256',
  'own_options',
] as const;

/** The index of many photos for a spreadsheet: one row a photo, in the order given; warnings by their codes. */
export function batchCsv(entries: readonly BatchEntry[]): string {
  checkEntries(entries);
  return csvText([HEADING, ...entries.map(rowOf)]);
}

function rowOf({ photo, folder, outcome, failure, facts, sha256, ownOptions }: BatchEntry): CsvCell[] {
  const figures: CsvCell[] =
    facts === null
      ? Array.from({ length: 12 }, () => null)
      : [
          rounded(facts.repeatMm, 4),
          rounded(facts.repeatSdMm, 4),
          rounded(facts.repeatsSeen, 2),
          rounded(facts.confidence, 3),
          facts.bands.length,
          facts.layout,
          facts.balanced,
          rounded(facts.pxPerMm, 5),
          rounded(facts.scaleRelativeSd, 6),
          facts.scaleSource,
          rounded(facts.tiltDeg, 2),
          facts.warnings.map((one) => one.code).join(' '),
        ];
  return [
    photo,
    folder,
    outcome,
    failure?.reason ?? null,
    failure?.message ?? null,
    ...figures,
    sha256,
    ownOptions ?? null,
  ];
}

const rounded = (value: number | null, decimals: number): number | null =>
  value === null ? null : Number(value.toFixed(decimals)) + 0;
