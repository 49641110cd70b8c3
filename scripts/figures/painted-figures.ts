import { median } from '../benchmark/compare.js';
import { EXIT_CODES, GOAL_TILT_DEG, type Row } from '../benchmark/table.js';

/** An error over scenes, and the scene in which it is worst. */
export interface ErrorFigures {
  readonly median: number;
  readonly worst: number;
  readonly worst_scene: string;
}

/** What is kept of one run over all painted scenes, in scripts/benchmark/figures.json: all that README says of accuracy and time. */
export interface PaintedFigures {
  /** The tree of the repository that was measured with, as git names it; a "+" after it: with changes that no commit had. */
  readonly tree: string;
  /** Of the run, YYYY-MM-DD. */
  readonly date: string;
  /** Scenes that can be measured, how many were, and how many of those with the right number of bands. */
  readonly measurable: number;
  readonly measured: number;
  readonly bands_right: number;
  /** Scenes that cannot, and how many were refused with the right code. */
  readonly refusable: number;
  readonly refused: number;
  /** The errors below are of so many scenes, tilted less than this. */
  readonly tilt_under_deg: number;
  readonly scenes: number;
  readonly repeat_percent: ErrorFigures;
  /** The worst band's mean width in each scene. */
  readonly width_mm: ErrorFigures & { readonly worst_repeats_seen: number };
  readonly share_points: ErrorFigures;
  readonly seconds: { readonly median: number; readonly longest: number; readonly cores: number };
}

/** The figures of a run; null where nothing was measured that could be told of. */
export function paintedFigures(
  rows: readonly Row[],
  { tree, date, cores }: { readonly tree: string; readonly date: string; readonly cores: number },
): PaintedFigures | null {
  const due = rows.filter(({ truth }) => truth.expected_outcome === 'measure');
  const others = rows.filter(({ truth }) => truth.expected_outcome !== 'measure');
  const measured = due.filter(({ comparison }) => comparison !== null);
  const level = measured.filter(({ truth }) => truth.tilt_deg < GOAL_TILT_DEG);
  const errors = (of: (comparison: NonNullable<Row['comparison']>) => number | null): ErrorFigures | null => {
    const found = level.flatMap(({ truth, comparison }) => {
      const error = comparison === null ? null : of(comparison);
      return error === null || Number.isNaN(error) ? [] : [{ scene: truth.name, error: Math.abs(error) }];
    });
    if (found.length === 0) return null;
    const worst = found.reduce((a, b) => (b.error > a.error ? b : a));
    return {
      median: kept(median(found.map(({ error }) => error))),
      worst: kept(worst.error),
      worst_scene: worst.scene,
    };
  };
  const repeat = errors((c) => c.repeatPercent);
  const width = errors((c) => c.worstBandMm);
  const share = errors((c) => c.sharePoints);
  if (repeat === null || width === null || share === null) return null;
  const seen = level.find(({ truth }) => truth.name === width.worst_scene)?.run.model?.repeat.repeats_seen;
  const seconds = rows.map(({ run }) => run.seconds);
  return {
    tree,
    date,
    measurable: due.length,
    measured: measured.length,
    bands_right: measured.filter(({ comparison: c }) => c?.bandsFound === c?.bandsTrue).length,
    refusable: others.length,
    refused: others.filter(({ truth, run }) => run.exitCode === EXIT_CODES[truth.expected_outcome]).length,
    tilt_under_deg: GOAL_TILT_DEG,
    scenes: level.length,
    repeat_percent: repeat,
    width_mm: { ...width, worst_repeats_seen: kept(seen ?? 0) },
    share_points: share,
    seconds: { median: kept(median(seconds)), longest: kept(Math.max(...seconds)), cores },
  };
}

/** A digit more than is shown. */
const kept = (value: number): number => Number(value.toFixed(4));
