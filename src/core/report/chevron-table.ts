import {
  formatLength,
  formatLengthNumber,
  formatSmall,
  formatSmallNumber,
  type LengthUnit,
  unitMark,
} from '../base/length.js';
import type { ChevronPreview, SeamPreview } from '../seam/chevron-preview.js';
import type { BandCrossing } from '../seam/clean-places.js';

/** Columns of a plain terminal. */
const WIDTH = 80;

/** What the terminal shows: the verdict first, then a line for each seam, then what to mind. */
export function chevronTable(preview: ChevronPreview, unit: LengthUnit): string {
  const { verdict, lay, pattern } = preview;
  const { request } = preview.rows[0][0].match;
  const lines = wrapped(verdict.sentence);
  if (verdict.checkByEye !== null) lines.push(...wrapped(verdict.checkByEye));
  for (const { message } of verdict.doubts) lines.push(...wrapped(`${message}.`));
  lines.push(
    ...wrapped(
      `Drawn ${lay.lay}${preview.forced ? ', against the rule' : ''}; repeat ${formatLength(pattern.repeatMm, unit)} across, seam ${formatLength(request.seamMm, unit)}, ring ${formatLength(request.atMm, unit)} from its top.`,
    ),
    '',
  );
  if (preview.forced) lines.splice(-1, 0, ...wrapped(lay.reason));
  const mark = unitMark(unit);
  const head = [
    'angle',
    'arms',
    `repeat ${mark}`,
    'band at ring',
    `band ${mark}`,
    `out ${mark}`,
    `expect ${mark}`,
    'best repeats',
  ];
  const rows = preview.rows.flatMap((row) => row.map((one) => cells(one, unit)));
  lines.push(...columns([head, ...rows]), '', ...afterwards(preview, unit));
  return `${lines.join('\n')}\n`;
}

function cells(one: SeamPreview, unit: LengthUnit): string[] {
  const { match, best, worst } = one;
  const { request, pattern } = match;
  const equal = request.leftDeg === request.rightDeg;
  const both = (values: readonly number[]): string =>
    values
      .slice(0, equal ? 1 : 2)
      .map((v) => formatLengthNumber(v, unit))
      .join(', ');
  const band = pattern.bands[request.centre];
  const out = match.unmatched.reduce((most, s) => Math.max(most, s.toMm - s.fromMm), 0);
  return [
    equal ? `${request.leftDeg}°` : `${request.leftDeg}°/${request.rightDeg}°`,
    request.lay === 'run-on' || match.enclosedDeg === 180 ? '-' : `${+match.enclosedDeg.toFixed(2)}°`,
    both(match.repeatAlongMm),
    `${band.id} ${band.name}`.slice(0, 18),
    both(match.repeatAlongMm.map((repeat) => (band.widthMm * repeat) / pattern.repeatMm)),
    out === 0 ? '0' : formatSmallNumber(out, unit),
    equal ? (worst === null ? 'unknown' : formatSmallNumber(worst.p90, unit)) : 'drifts',
    best === null
      ? 'unknown'
      : `${best.left.repeat} and ${best.right.repeat}: ${formatSmallNumber(best.worstMm, unit)}`,
  ];
}

function afterwards(preview: ChevronPreview, unit: LengthUnit): string[] {
  const firsts = preview.rows.map((row) => row[0]);
  const lines = [
    'repeat, band: along the seam. out: longest stretch where colours do not meet.',
    'expect: worst edge, halves from any two repeats, 9 times in 10.',
  ];
  if (firsts.some((one) => one.best !== null))
    lines.push('best repeats: cut the halves there, and the worst edge is out by this.');
  if (firsts[0].sameBands && !preview.forced) {
    lines.push(
      ...wrapped(
        'Least trouble: cut both halves from the same bands, one further along the stripes; uneven widths then cancel.',
      ),
    );
  }
  for (const one of firsts) lines.push(...crossWords(one, unit));
  for (const row of preview.rows) for (const one of row) lines.push(...clearWords(one, unit));
  for (const one of firsts) lines.push(...cautions(one, preview.allowanceMm, unit));
  return lines;
}

/** How the cross stripes of a check meet at the same seam. */
function crossWords({ match, cross }: SeamPreview, unit: LengthUnit): string[] {
  if (cross === null) return [];
  const { leftDeg, rightDeg } = match.request;
  const angle = leftDeg === rightDeg ? `${leftDeg}°` : `${leftDeg}°/${rightDeg}°`;
  const out = cross.match.unmatched.reduce((most, s) => Math.max(most, s.toMm - s.fromMm), 0);
  const expected = cross.worst === null ? 'unknown' : formatSmall(cross.worst.p90, unit);
  return wrapped(
    `${angle}: cross stripes repeat every ${formatLength(cross.match.repeatAlongMm[0], unit)} along the seam, out ${out === 0 ? '0' : formatSmall(out, unit)}, expect ${expected}.`,
  );
}

/** Where to lay a seam that was asked to keep clear of motifs. */
function clearWords({ match, clear }: SeamPreview, unit: LengthUnit): string[] {
  if (clear === null) return [];
  const { request, pattern } = match;
  const angle =
    request.leftDeg === request.rightDeg ? `${request.leftDeg}°` : `${request.leftDeg}°/${request.rightDeg}°`;
  const side = (name: string, { alongMm, clearanceMm, motifEdgesCut }: BandCrossing): string => {
    const room =
      clearanceMm >= clear.marginMm - 1e-6
        ? `clear by ${formatSmall(clearanceMm, unit)}`
        : clearanceMm > 0
          ? `only ${formatSmall(clearanceMm, unit)} clear`
          : 'through a motif';
    return `${name} at ${formatLength(alongMm, unit)} along, ${room}, ${motifEdgesCut} motif edge${motifEdgesCut === 1 ? '' : 's'} cut`;
  };
  return wrapped(
    `${angle} ${pattern.bands[request.centre].id}: ${side('left', clear.left)}; ${side('right', clear.right)}.`,
  );
}

function cautions({ match, drift, cutEdge }: SeamPreview, allowanceMm: number, unit: LengthUnit): string[] {
  const { leftDeg, rightDeg, lay } = match.request;
  const name = leftDeg === rightDeg ? `${leftDeg}°` : `${leftDeg}°/${rightDeg}°`;
  const lines: string[] = [];
  if (drift !== null) {
    lines.push(
      ...wrapped(
        `${name}: the sides agree at the ring only; they drift ${formatSmall(drift.perRepeatMm, unit)} a repeat, ${formatSmall(Math.abs(drift.per100Mm), unit)} in 100 mm of seam.`,
      ),
    );
  }
  if (allowanceMm > 0 && cutEdge.runOnMismatchMm > 0.005) {
    const halves =
      cutEdge.mirroredMismatchMm > 0.005
        ? `, the halves miss by ${formatSmall(cutEdge.mirroredMismatchMm, unit)}`
        : '';
    const off =
      lay === 'run-on'
        ? `the halves miss by ${formatSmall(cutEdge.runOnMismatchMm, unit)}`
        : `points move ${formatSmall(cutEdge.pointsMoveMm, unit)}${halves}`;
    lines.push(...wrapped(`${name}: match on the stitching line; matched at the cutting line, ${off}.`));
  }
  return lines;
}

function wrapped(text: string): string[] {
  const lines: string[] = [];
  for (const word of text.split(' ')) {
    const last = lines[lines.length - 1];
    if (last !== undefined && last.length + 1 + word.length <= WIDTH)
      lines[lines.length - 1] = `${last} ${word}`;
    else lines.push(word);
  }
  return lines;
}

/** Names to the left, numbers to the right. */
function columns(rows: readonly (readonly string[])[]): string[] {
  const widths = rows[0].map((_, k) => Math.max(...rows.map((row) => row[k].length)));
  const isNumber = (k: number): boolean => [2, 4, 5, 6].includes(k);
  return rows.map((row) =>
    row
      .map((cell, k) => (isNumber(k) ? cell.padStart(widths[k]) : cell.padEnd(widths[k])))
      .join('  ')
      .trimEnd(),
  );
}
