import { median } from './compare.js';
import type { Measured, Score } from './score.js';

const number = (value: number | null | undefined, places: number): string =>
  value === null || value === undefined || Number.isNaN(value) ? '-' : value.toFixed(places);

const COLUMNS = [
  ['scene', 14],
  ['tilt', 5],
  ['exit', 6],
  ['scale%', 8],
  ['repeat%', 8],
  ['bands', 6],
  ['worst', 6],
  ['share', 6],
  ['bal.', 4],
  ['dtilt', 6],
  ['plane%', 7],
  ['z.sc', 6],
  ['z.rep', 6],
  ['z.w', 6],
  ['s', 5],
  ['fault', 9],
] as const;

const line = (cells: readonly string[]): string =>
  COLUMNS.map(([, width], i) => (i === 0 ? cells[i].padEnd(width) : cells[i].padStart(width))).join(' ');

export const scoreHead = (): string => `${line(COLUMNS.map(([name]) => name))}  warnings | drawn`;

export function scoreRow(score: Score): string {
  const m = score.measured;
  const right = score.exit === score.expectedExit;
  const farthest = m?.zWidths.reduce((a, b) => (Math.abs(b) > Math.abs(a) ? b : a), 0);
  const cells = [
    score.name,
    number(score.tiltDeg, 1),
    right ? `${score.exit}` : `${score.exit}!=${score.expectedExit}`,
    number(m?.scalePercent, 3),
    number(m?.repeatPercent, 3),
    m ? `${m.bandsFound}/${m.bandsTrue}` : '-',
    number(m?.worstBandMm, 2),
    number(m?.sharePoints, 1),
    m?.balancedRight === null || m === null ? '-' : m.balancedRight ? 'yes' : 'NO',
    number(m?.tiltErrorDeg, 1),
    number(m?.planePercent, 2),
    number(m?.zScale, 1),
    number(m?.zRepeat, 1),
    m && m.zWidths.length > 0 ? number(farthest, 1) : '-',
    number(score.seconds, 1),
    m?.confidentlyWrong ? `!${m.firstFault ?? 'sure'}` : (m?.firstFault ?? (right ? '' : 'refusal')),
  ];
  const remark = [...score.warnings, ...(m?.notes ?? []), ...(score.exit === 0 ? [] : [score.said])].join(
    ', ',
  );
  return `${line(cells)}  ${remark} | ${score.drawn}`;
}

/** Counts and spreads over some scenes, against what is to be reached. */
export interface Tally {
  readonly scenes: number;
  readonly due: number;
  readonly measured: number;
  readonly repeatWithin: number;
  readonly repeatMedian: number | null;
  readonly bandsRight: number;
  readonly widthsWithin: number;
  readonly sharesDue: number;
  readonly sharesWithin: number;
  readonly balancedDue: number;
  readonly balancedRight: number;
  readonly confidentlyWrong: readonly string[];
  readonly refusalsDue: number;
  readonly refusalsRight: number;
  readonly z: { readonly scale: Normalised; readonly repeat: Normalised; readonly widths: Normalised };
  readonly seconds: number | null;
}

/** Of errors over their stated standard deviations; root mean square about nought. */
export interface Normalised {
  readonly count: number;
  readonly sd: number | null;
  /** The same without what lies beyond 5: one gross fault would hide whether the others' deviations are true. */
  readonly sdWithin5: number | null;
  readonly beyond2: number;
  readonly beyond5: number;
}

const REPEAT_PERCENT = 0.3;
const WIDTH_MM = 0.5;
const SHARE_POINTS = 2;

export function tally(scores: readonly Score[]): Tally {
  const due = scores.filter(({ expectedExit }) => expectedExit === 0);
  const refusals = scores.filter(({ expectedExit }) => expectedExit !== 0);
  const found = due.flatMap(({ measured }) => measured ?? []);
  const within = (of: (m: Measured) => number | null, limit: number): number =>
    found.filter((m) => {
      const value = of(m);
      return value !== null && Math.abs(value) <= limit;
    }).length;
  const repeats = due.map(({ measured }) => Math.abs(measured?.repeatPercent ?? Number.POSITIVE_INFINITY));
  // A refused scene counts as one whose shares are wrong; a check has no shares in its truth.
  const noShares = found.filter((m) => m.sharePoints === null).length;
  return {
    scenes: scores.length,
    due: due.length,
    measured: found.length,
    repeatWithin: within((m) => m.repeatPercent, REPEAT_PERCENT),
    repeatMedian: repeats.length > 0 ? median(repeats) : null,
    bandsRight: found.filter((m) => m.bandsFound === m.bandsTrue).length,
    widthsWithin: within((m) => m.worstBandMm, WIDTH_MM),
    sharesDue: due.length - noShares,
    sharesWithin: within((m) => m.sharePoints, SHARE_POINTS),
    balancedDue: due.length,
    balancedRight: found.filter((m) => m.balancedRight).length,
    confidentlyWrong: due.filter(({ measured }) => measured?.confidentlyWrong).map(({ name }) => name),
    refusalsDue: refusals.length,
    refusalsRight: refusals.filter(({ exit, expectedExit }) => exit === expectedExit).length,
    z: {
      scale: normalised(found.map((m) => m.zScale)),
      // A multiple of the repeat is no matter of spread: it is counted as a wrong number of bands.
      repeat: normalised(sameRepeat(found).map((m) => m.zRepeat)),
      widths: normalised(sameRepeat(found).flatMap((m) => m.zWidths)),
    },
    seconds: scores.length > 0 ? median(scores.map(({ seconds }) => seconds)) : null,
  };
}

const sameRepeat = (found: readonly Measured[]): Measured[] =>
  found.filter((m) => m.bandsFound === m.bandsTrue);

function normalised(values: readonly (number | null)[]): Normalised {
  const z = values.filter((value) => value !== null && Number.isFinite(value)) as number[];
  const beyond = (limit: number) => z.filter((value) => Math.abs(value) > limit).length;
  return {
    count: z.length,
    sd: rootMeanSquare(z),
    sdWithin5: rootMeanSquare(z.filter((value) => Math.abs(value) <= 5)),
    beyond2: beyond(2),
    beyond5: beyond(5),
  };
}

const rootMeanSquare = (z: readonly number[]): number | null =>
  z.length > 0 ? Math.sqrt(z.reduce((sum, value) => sum + value * value, 0) / z.length) : null;

const share = (part: number, whole: number): string =>
  whole === 0 ? '-' : `${part}/${whole} ${((100 * part) / whole).toFixed(0)}%`;

const GROUP_COLUMNS = [
  ['group', 10],
  ['measured', 12],
  ['repeat', 12],
  ['median%', 8],
  ['bands', 12],
  ['widths', 12],
  ['shares', 12],
  ['balanced', 12],
  ['refused', 10],
  ['sure&wrong', 10],
  ['sd z.sc', 8],
  ['z.rep', 6],
  ['z.w', 6],
  ['s', 5],
] as const;

const groupLine = (cells: readonly string[]): string =>
  GROUP_COLUMNS.map(([, width], i) => (i === 0 ? cells[i].padEnd(width) : cells[i].padStart(width))).join(
    ' ',
  );

function groupCells(name: string, t: Tally): string[] {
  return [
    name,
    share(t.measured, t.due),
    share(t.repeatWithin, t.due),
    number(t.repeatMedian, 3),
    share(t.bandsRight, t.due),
    share(t.widthsWithin, t.due),
    share(t.sharesWithin, t.sharesDue),
    share(t.balancedRight, t.balancedDue),
    share(t.refusalsRight, t.refusalsDue),
    t.due === 0 ? '-' : `${t.confidentlyWrong.length}`,
    number(t.z.scale.sd, 2),
    number(t.z.repeat.sd, 2),
    number(t.z.widths.sd, 2),
    number(t.seconds, 1),
  ];
}

/** Totals by group and over all, with what is to be reached under them. */
export function groupTable(scores: readonly Score[]): string[] {
  const groups = [...new Set(scores.map(({ group }) => group))];
  const all = tally(scores);
  const z = (name: string, n: Normalised) =>
    `  ${name.padEnd(7)} sd ${number(n.sd, 2)} (${number(n.sdWithin5, 2)} without those beyond 5), beyond 2: ${share(n.beyond2, n.count)}, beyond 5: ${share(n.beyond5, n.count)}`;
  return [
    groupLine(GROUP_COLUMNS.map(([name]) => name)),
    ...groups.map((group) => groupLine(groupCells(group, tally(scores.filter((s) => s.group === group))))),
    groupLine(groupCells('all', all)),
    groupLine([
      'to reach',
      '',
      '95%',
      '0.050',
      '95%',
      '90%',
      '95%',
      '',
      '100%',
      '0',
      '.7 - 1.3',
      '.7-1.3',
      '.7-1.3',
      '',
    ]),
    'Repeat within 0.3 %, worst band within 0.5 mm, shares within 2 points; refused scenes count as failed.',
    'Errors over their stated standard deviations:',
    z('scale', all.z.scale),
    z('repeat', all.z.repeat),
    z('widths', all.z.widths),
    `Wrong without a warning: ${all.confidentlyWrong.length === 0 ? 'none' : all.confidentlyWrong.join(', ')}`,
  ];
}

/** The scenes farthest from right, and the first stage that is wrong in each. */
export function worstScenes(scores: readonly Score[], count: number): string[] {
  const badness = ({ exit, expectedExit, measured: m }: Score): number => {
    if (exit !== expectedExit) return 1000;
    if (!m) return 0;
    const bands = m.bandsFound === m.bandsTrue ? 0 : 100;
    return (
      (m.confidentlyWrong ? 2000 : 0) +
      bands +
      Math.min(500, Math.abs(m.repeatPercent ?? 100) / REPEAT_PERCENT) +
      Math.min(100, (m.worstBandMm ?? 0) / WIDTH_MM)
    );
  };
  return [...scores]
    .sort((a, b) => badness(b) - badness(a))
    .slice(0, count)
    .filter((score) => badness(score) > 3)
    .map((score) => `${score.name}: ${why(score)} [${score.drawn}]`);
}

export function why({ exit, expectedExit, said, measured: m, warnings }: Score): string {
  if (exit !== expectedExit) return `exit ${exit} instead of ${expectedExit}: ${said || 'measured'}`;
  if (!m) return 'as it should be';
  const facts = [
    `scale ${number(m.scalePercent, 2)} %`,
    `direction ${number(m.directionErrorDeg, 2)} deg`,
    `tilt ${number(m.tiltErrorDeg, 1)} deg`,
    `plane ${number(m.planePercent, 2)} %`,
    `bands ${m.bandsFound} of ${m.bandsTrue}`,
    `repeat ${number(m.repeatPercent, 2)} %`,
    `widths ${number(m.worstBandMm, 2)} mm`,
  ];
  const first = m.firstFault ? `first wrong: ${m.firstFault}` : 'no stage over its limit';
  return `${first} (${facts.join(', ')}; ${warnings.length > 0 ? warnings.join(', ') : 'no warning'})`;
}
