import { formatLengthNumber, formatSmallNumber, type LengthUnit, unitMark } from '../base/length.js';
import type { BandModel } from '../model/band-model.js';
import { balanceWord, colourName, countWords, repeatWords, scaleWords, timesSeen } from './measure-words.js';

const WIDTH = 80;
/** Of the 24 lines of a small terminal, what headline, heading, warnings and the last line leave. */
const MOST_BANDS = 9;
const MOST_WARNINGS = 3;

/** What the terminal shows: at most 24 lines of 80 columns. */
export function measureSummary(model: BandModel, unit: LengthUnit): string {
  const lines = [
    `Repeat   ${repeatWords(model, unit)}; ${countWords(model.bands.length, 'band')}, ${balanceWord(model)}`,
  ];
  if (model.scale) lines.push(`Scale    ${scaleWords(model.scale, unit)}`);
  if (model.plane) lines.push(`Tilt     ${model.plane.tilt_deg.toFixed(1)} degrees, corrected`);
  const shares = model.colours.map((c) => `${c.name || c.id} ${(100 * c.share).toFixed(1)} %`);
  lines.push(`Colours  ${shares.join(', ')}`, '', ...bandLines(model, unit));
  if (model.warnings.length > 0) {
    lines.push('', ...model.warnings.slice(0, MOST_WARNINGS).map((one) => `! ${one.message}`));
    if (model.warnings.length > MOST_WARNINGS) {
      lines.push(`! and ${model.warnings.length - MOST_WARNINGS} more, in report.html`);
    }
  }
  return `${lines.map((line) => shortened(line)).join('\n')}\n`;
}

function bandLines(model: BandModel, unit: LengthUnit): string[] {
  const number = (mm: number | null): string => (mm === null ? '-' : formatLengthNumber(mm, unit));
  const heading = ['band', 'colour', `width ${unitMark(unit)}`, 'sd', 'least', 'greatest', 'seen'];
  const rows = model.bands
    .slice(0, MOST_BANDS)
    .map((band) => [
      band.id,
      colourName(model, band.colour),
      number(band.width_mm),
      band.width_sd_mm === null ? '-' : formatSmallNumber(band.width_sd_mm, unit),
      number(band.width_min_mm),
      number(band.width_max_mm),
      String(timesSeen(model.instances, band.id)),
    ]);
  const widths = heading.map((_, k) => Math.max(...[heading, ...rows].map((row) => row[k].length)));
  const lines = [heading, ...rows].map((row) =>
    row
      .map((cell, k) => (k < 2 ? cell.padEnd(widths[k]) : cell.padStart(widths[k])))
      .join('  ')
      .trimEnd(),
  );
  const left = model.bands.length - rows.length;
  return left > 0 ? [...lines, `and ${countWords(left, 'more band')}, in report.html`] : lines;
}

const shortened = (line: string): string => (line.length <= WIDTH ? line : `${line.slice(0, WIDTH - 3)}...`);
