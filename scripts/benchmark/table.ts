import type { SceneTruth } from '../../test/support/photo-painter/scene-truth.js';
import { type Comparison, median } from './compare.js';
import type { MeasureRun } from './run-measure.js';

export interface Row {
  readonly truth: SceneTruth;
  readonly run: MeasureRun;
  readonly comparison: Comparison | null;
}

/** Documented exit code of each outcome. */
export const EXIT_CODES: Readonly<Record<SceneTruth['expected_outcome'], number>> = {
  measure: 0,
  'no-scale': 4,
  'no-stripes': 5,
  'too-blurred': 6,
  'too-dark': 6,
};

const COLUMNS = [
  ['scene', 28],
  ['tilt', 5],
  ['exit', 6],
  ['scale%', 8],
  ['repeat%', 8],
  ['bands', 7],
  ['worst', 7],
  ['median', 7],
  ['inst.', 7],
  ['share', 6],
  ['bal.', 5],
  ['dtilt', 6],
  ['s', 6],
  ['MB', 5],
] as const;

const line = (cells: readonly string[]): string =>
  COLUMNS.map(([, width], i) => (i === 0 ? cells[i].padEnd(width) : cells[i].padStart(width))).join(' ');

export const tableHead = (): string => line(COLUMNS.map(([name]) => name));

const digits = (value: number | null, places: number): string =>
  value === null || Number.isNaN(value) ? '-' : value.toFixed(places);

export function tableRow({ truth, run, comparison }: Row): string {
  const expected = EXIT_CODES[truth.expected_outcome];
  const exit = run.exitCode === expected ? `${run.exitCode}` : `${run.exitCode}!=${expected}`;
  const c = comparison;
  const cells = [
    truth.name,
    truth.tilt_deg.toFixed(1),
    exit,
    digits(c?.scalePercent ?? null, 3),
    digits(c?.repeatPercent ?? null, 3),
    c ? `${c.bandsFound}/${c.bandsTrue}` : '-',
    digits(c?.worstBandMm ?? null, 3),
    digits(c?.medianBandMm ?? null, 3),
    digits(c?.worstInstanceMm ?? null, 3),
    digits(c?.sharePoints ?? null, 2),
    c?.balancedRight === undefined || c.balancedRight === null ? '-' : c.balancedRight ? 'yes' : 'NO',
    digits(c?.tiltDeg ?? null, 2),
    run.seconds.toFixed(2),
    digits(run.peakMb, 0),
  ];
  const remark = c ? c.notes.join(', ') : (run.said.split('\n').at(-1)?.slice(0, 110) ?? '');
  return remark ? `${line(cells)}  ${remark}` : line(cells);
}

/** Scenes tilted more than this are measured and shown, but not held to the goals. */
export const GOAL_TILT_DEG = 8;

/** Totals against what the measurement is to reach. */
export function tableTotals(rows: readonly Row[]): string[] {
  const due = rows.filter(
    ({ truth }) => truth.expected_outcome === 'measure' && truth.tilt_deg < GOAL_TILT_DEG,
  );
  const refusals = rows.filter(({ truth }) => truth.expected_outcome !== 'measure');
  const measured = due.flatMap(({ comparison }) => comparison ?? []);
  const values = (of: (c: Comparison) => number | null) =>
    measured.flatMap((c) => {
      const value = of(c);
      return value === null || Number.isNaN(value) ? [] : [Math.abs(value)];
    });
  const spread = (name: string, list: readonly number[], goal: string, places: number): string =>
    list.length === 0
      ? `${name}: none`
      : `${name}: median ${median(list).toFixed(places)}, worst ${Math.max(...list).toFixed(places)}  (goal ${goal}; ${list.length} of ${due.length} scenes)`;
  const count = (name: string, list: readonly boolean[]): string =>
    `${name}: ${list.filter(Boolean).length} of ${list.length}`;
  const memory = rows.flatMap(({ run }) => run.peakMb ?? []);
  return [
    count(
      'measured, tilt under 8 degrees',
      due.map(({ comparison }) => comparison !== null),
    ),
    spread(
      'repeat error, %',
      values((c) => c.repeatPercent),
      'median 0.1, worst 0.3',
      3,
    ),
    spread(
      'scale error, %',
      values((c) => c.scalePercent),
      'none stated',
      3,
    ),
    count(
      'number of bands right',
      measured.map((c) => c.bandsFound === c.bandsTrue),
    ),
    spread(
      'worst band width in a scene, mm',
      values((c) => c.worstBandMm),
      'median 0.2, worst 0.5',
      3,
    ),
    spread(
      'colour share, points',
      values((c) => c.sharePoints),
      'worst 2',
      2,
    ),
    count(
      'balanced right',
      measured.flatMap((c) => c.balancedRight ?? []),
    ),
    count(
      'repeat along, drop and direction of prints right, none on plain stripes',
      measured.map((c) => c.printFaults.length === 0),
    ),
    count(
      'refused with the right code',
      refusals.map(({ truth, run }) => run.exitCode === EXIT_CODES[truth.expected_outcome]),
    ),
    `time: median ${median(rows.map(({ run }) => run.seconds)).toFixed(2)} s, longest ${Math.max(...rows.map(({ run }) => run.seconds)).toFixed(2)} s  (goal 2.5 s at 12 megapixels)`,
    memory.length > 0
      ? `peak memory: ${Math.max(...memory).toFixed(0)} MB  (goal under 700)`
      : 'peak memory: not known here',
  ];
}
