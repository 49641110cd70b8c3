import { formatLength, formatSmall, type LengthUnit } from '../base/length.js';
import type { ChevronPreview, SeamPreview } from '../seam/chevron-preview.js';

/** What the terminal shows: the verdict first, then a line for each seam, then the best places. One screen. */
export function chevronTable(preview: ChevronPreview, unit: LengthUnit): string {
  const { verdict, lay, pattern } = preview;
  const { request } = preview.rows[0][0].match;
  const lines = [verdict.sentence];
  if (verdict.checkByEye !== null) lines.push(verdict.checkByEye);
  lines.push(
    ...verdict.doubts.map((doubt) => `${doubt}.`),
    preview.forced ? `Drawn against the rule (${lay.lay}): ${lay.reason}` : `Drawn ${lay.lay}: ${lay.reason}`,
    '',
    `Repeat ${formatLength(pattern.repeatMm, unit)} across; seam ${formatLength(request.seamMm, unit)}, matched ${formatLength(request.atMm, unit)} from its top.`,
    '',
  );
  const head = [
    'angle',
    'arms',
    'repeat along',
    'band at ring',
    'along seam',
    'out along',
    'any two repeats (9 in 10)',
    'best two places',
  ];
  const rows = preview.rows.flatMap((row) => row.map((one) => cells(one, unit)));
  lines.push(...columns([head, ...rows]), '', ...afterwards(preview, unit));
  return `${lines.join('\n')}\n`;
}

function cells(one: SeamPreview, unit: LengthUnit): string[] {
  const { match } = one;
  const { request, pattern } = match;
  const equal = request.leftDeg === request.rightDeg;
  const both = (values: readonly number[]): string =>
    values
      .slice(0, equal ? 1 : 2)
      .map((v) => formatLength(v, unit))
      .join(' / ');
  const band = pattern.bands[request.centre];
  const worst = match.unmatched.reduce((most, s) => Math.max(most, s.toMm - s.fromMm), 0);
  return [
    equal ? `${request.leftDeg}°` : `${request.leftDeg}°/${request.rightDeg}°`,
    request.lay === 'run-on' || match.enclosedDeg === 180 ? '-' : `${+match.enclosedDeg.toFixed(2)}°`,
    both(match.repeatAlongMm),
    `${band.id} ${band.name}`,
    both(match.repeatAlongMm.map((repeat) => (band.widthMm * repeat) / pattern.repeatMm)),
    worst === 0 ? '0' : formatSmall(worst, unit),
    one.worst === null ? 'not known' : formatSmall(one.worst.p90, unit),
    one.best === null
      ? 'not known'
      : `${formatSmall(one.best.worstMm, unit)} (${one.best.left.repeat} + ${one.best.right.repeat})`,
  ];
}

function afterwards(preview: ChevronPreview, unit: LengthUnit): string[] {
  const firsts = preview.rows.map((row) => row[0]);
  const lines: string[] = [];
  if (firsts[0].sameBands && !preview.forced) {
    lines.push(
      'Least trouble: cut both halves from the same bands, one further along the stripes; uneven widths then cancel.',
    );
  }
  for (const { match, drift, cutEdge } of firsts) {
    const { leftDeg, rightDeg, lay } = match.request;
    const name = leftDeg === rightDeg ? `${leftDeg}°` : `${leftDeg}°/${rightDeg}°`;
    if (drift !== null) {
      lines.push(
        `${name}: the sides agree at the ring only and drift ${formatSmall(drift.perRepeatMm, unit)} a repeat, ${formatSmall(Math.abs(drift.per100Mm), unit)} in 100 mm of seam.`,
      );
    }
    if (preview.allowanceMm > 0 && cutEdge.runOnMismatchMm > 0.005) {
      const off =
        lay === 'run-on'
          ? `the halves would miss by ${formatSmall(cutEdge.runOnMismatchMm, unit)}`
          : `the points would move ${formatSmall(cutEdge.pointsMoveMm, unit)}${cutEdge.mirroredMismatchMm > 0.005 ? ` and the halves miss by ${formatSmall(cutEdge.mirroredMismatchMm, unit)}` : ''}`;
      lines.push(`${name}: match on the stitching line; at the cutting line ${off}.`);
    }
  }
  return lines;
}

function columns(rows: readonly (readonly string[])[]): string[] {
  const widths = rows[0].map((_, k) => Math.max(...rows.map((row) => row[k].length)));
  return rows.map((row) =>
    row
      .map((cell, k) => cell.padEnd(widths[k]))
      .join('  ')
      .trimEnd(),
  );
}
