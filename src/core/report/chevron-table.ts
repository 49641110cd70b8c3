import { check } from '../base/expectation.js';
import {
  formatDecimals,
  formatLength,
  formatSmallNumber,
  LENGTH_UNIT,
  type LengthUnit,
  unitMark,
} from '../base/length.js';
import type { ChevronPreview, SeamPreview } from '../seam/chevron-preview.js';
import { checkPreview } from './check-preview.js';
import { angleWords, chevronWords, wrapped } from './chevron-words.js';

/** What the terminal shows: the verdict first, then a line for each seam, then what to mind. */
export function chevronTable(preview: ChevronPreview, unit: LengthUnit): string {
  checkPreview(preview);
  check(unit, 'unit', LENGTH_UNIT);
  const { verdict, lay, pattern } = preview;
  const { request } = preview.rows[0][0].match;
  const lines = wrapped(verdict.sentence);
  if (verdict.checkByEye !== null) lines.push(...wrapped(verdict.checkByEye));
  for (const { message } of verdict.doubts) lines.push(...wrapped(`${message}.`));
  lines.push(
    ...wrapped(
      `Drawn ${lay.lay}${preview.forced ? ', though the cloth does not allow it' : ''}; repeat ${formatLength(pattern.repeatMm, unit)} across, seam ${formatLength(request.seamMm, unit)}, marked point ${formatLength(request.atMm, unit)} from its top.`,
    ),
  );
  if (preview.forced) lines.push(...wrapped(lay.reason));
  const head = [
    'angle',
    `repeat ${unitMark(unit)}`,
    'band at the point',
    'wide',
    'out',
    'expect',
    'sewn',
    'best repeats',
  ];
  const rows = preview.rows.flatMap((row) => row.map((one) => cells(one, unit)));
  lines.push('', ...columns([head, ...rows]), '', ...chevronWords(preview, unit));
  return `${lines.join('\n')}\n`;
}

function cells(one: SeamPreview, unit: LengthUnit): string[] {
  const { match } = one;
  const { request, pattern } = match;
  const equal = request.leftDeg === request.rightDeg;
  const both = (values: readonly number[]): string =>
    values
      .slice(0, equal ? 1 : 2)
      // A fraction beside its decimals would not fit the columns of a terminal.
      .map((v) => formatDecimals(v, unit))
      .join(', ');
  const band = pattern.bands[request.centre];
  const out = match.unmatched.reduce((most, s) => Math.max(most, s.toMm - s.fromMm), 0);
  return [
    angleWords(request),
    both(match.repeatAlongMm),
    `${band.id} ${band.name}`.slice(0, 18),
    both(match.repeatAlongMm.map((repeat) => (band.widthMm * repeat) / pattern.repeatMm)),
    out === 0 ? '0' : formatSmallNumber(out, unit),
    ...expectCells(one, unit),
    bestCell(one, unit),
  ];
}

/** Nothing is expected where the lay cannot match or the sides part: what is out says it all. */
function expectCells({ worst, drift, basis }: SeamPreview, unit: LengthUnit): [string, string] {
  if (drift !== null) return ['parts', '-'];
  if (worst === null) return basis === null ? ['unknown', 'unknown'] : ['-', '-'];
  return [formatSmallNumber(worst.cloth.p90, unit), formatSmallNumber(worst.sewn.p90, unit)];
}

function bestCell({ best, bestExpected, noBest }: SeamPreview, unit: LengthUnit): string {
  if (best === null)
    return noBest === 'not-photographed' ? 'unknown' : noBest === 'unequal-angles' ? '-' : 'none';
  const worstMm = bestExpected?.cloth.p90 ?? best.worstMm;
  const partly = best.continued ? ' *' : '';
  return `${best.left.repeat} and ${best.right.repeat}: ${formatSmallNumber(worstMm, unit)}${partly}`;
}

/** Names to the left, numbers to the right. */
function columns(rows: readonly (readonly string[])[]): string[] {
  const widths = rows[0].map((_, k) => Math.max(...rows.map((row) => row[k].length)));
  const isNumber = (k: number): boolean => [1, 3, 4, 5, 6].includes(k);
  return rows.map((row) =>
    row
      .map((cell, k) => (isNumber(k) ? cell.padStart(widths[k]) : cell.padEnd(widths[k])))
      .join('  ')
      .trimEnd(),
  );
}
