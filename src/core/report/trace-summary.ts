import { check } from '../base/expectation.js';
import { formatLength, LENGTH_UNIT, type LengthUnit } from '../base/length.js';
import type { TracedFile } from '../pipeline/trace/traced-file.js';
import { checkTraced } from './check-traced.js';

/** What was traced, in a few lines for the terminal. */
export function traceSummary(file: TracedFile, unit: LengthUnit): string {
  checkTraced(file);
  check(unit, 'unit', LENGTH_UNIT);
  const { pieces, scale, warnings } = file;
  const lines = pieces.map((piece) => {
    const xs = piece.stitching.map((p) => p[0]);
    const ys = piece.stitching.map((p) => p[1]);
    const size = `${formatLength(Math.max(...xs) - Math.min(...xs), unit)} by ${formatLength(Math.max(...ys) - Math.min(...ys), unit)}`;
    const notches = piece.notches?.length ?? 0;
    const corners = Object.keys(piece.points).length - notches;
    const grain = piece.traced.grain_found ? 'grain line found' : 'no grain line found';
    return `${piece.name}: ${size}, ${counted(corners, 'corner', 'corners')}, ${counted(notches, 'notch', 'notches')}, ${grain}`;
  });
  const from = scale.length_mm === null ? '' : ` (${formatLength(scale.length_mm, unit)})`;
  return [
    ...lines,
    `Scale from the ${scale.source}${from}`,
    ...warnings.map(({ message }) => `Note: ${message}`),
  ].join('\n');
}

const counted = (count: number, one: string, more: string): string => `${count} ${count === 1 ? one : more}`;
