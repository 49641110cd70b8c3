import { callback, checkAll } from '../base/expectation.js';
import {
  formatDecimals,
  formatLengthNumber,
  formatSmallNumber,
  LENGTH_UNIT,
  type LengthUnit,
  unitMark,
} from '../base/length.js';
import { percentages } from '../base/percent.js';
import type { BandModel, Warning } from '../model/band-model.js';
import { checkBandModel } from '../model/check-band-model.js';
import {
  balanceWord,
  colourName,
  countWords,
  repeatWords,
  scaleWords,
  tiltWords,
  timesSeen,
} from './measure-words.js';

const WIDTH = 80;
/** Of the 24 lines of a small terminal; the rest is for the line that names the folder and for the prompt. */
const MOST_LINES = 21;
const MOST_BANDS = 8;
/** A space at which no line is broken. */
const HELD = '\u00a0';

/**
 * What the terminal shows: fits one screen of 80 columns.
 *
 * @param wordsOf how a warning is told; by default its message
 */
export function measureSummary(
  model: BandModel,
  unit: LengthUnit,
  wordsOf: (warning: Warning) => string = (one) => one.message,
): string {
  checkBandModel(model);
  checkAll({ unit: [unit, LENGTH_UNIT], wordsOf: [wordsOf, callback] });
  const percent = percentages(
    model.colours.map(({ share }) => share),
    1,
  );
  // With their letters, by which names can be given.
  const shares = model.colours.map(({ id, name }, k) =>
    `${id} ${name} ${percent[k]} %`.replaceAll(' ', HELD),
  );
  const tilt = tiltWords(model);
  const lines = [
    ...wrapped(
      'Repeat   ',
      `${repeatWords(model, unit)}; ${countWords(model.bands.length, 'band')}, ${balanceWord(model)}`,
    ),
    ...(model.scale ? wrapped('Scale    ', scaleWords(model.scale, unit)) : []),
    ...(tilt === null ? [] : wrapped('Tilt     ', tilt)),
    ...wrapped('Colours  ', shares.join(', ')).slice(0, 3),
    '',
    ...bandLines(model, unit),
  ];
  const warnings = model.warnings.map((one) => wrapped('! ', wordsOf(one)));
  let kept = 0;
  if (warnings.length > 0) lines.push('');
  // One line is held back for the count of those left out, unless none is.
  while (
    kept < warnings.length &&
    lines.length + warnings[kept].length <= MOST_LINES - (kept < warnings.length - 1 ? 1 : 0)
  ) {
    lines.push(...warnings[kept++]);
  }
  if (kept < warnings.length) {
    lines.push(`! ${countWords(warnings.length - kept, 'more warning')}, in report.html`);
  }
  return `${lines.join('\n')}\n`;
}

function bandLines(model: BandModel, unit: LengthUnit): string[] {
  const number = (mm: number | null): string => (mm === null ? '-' : formatDecimals(mm, unit));
  const heading = ['band', 'colour', `width ${unitMark(unit)}`, 'give or take', 'least', 'greatest', 'seen'];
  const rows = model.bands
    .slice(0, MOST_BANDS)
    .map((band) => [
      band.id,
      colourName(model, band.colour),
      formatLengthNumber(band.width_mm, unit, band.width_mean_sd_mm),
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

/** Words broken into lines, the first after its heading and the others under it. */
function wrapped(heading: string, text: string): string[] {
  const lines: string[] = [];
  let line = heading;
  for (const word of text.split(' ')) {
    const next = line.trim() === heading.trim() || line.trim() === '' ? line + word : `${line} ${word}`;
    if (next.length > WIDTH && line.trim() !== '') {
      lines.push(line);
      line = ' '.repeat(heading.length) + word;
    } else line = next;
  }
  return [...lines, line].map((one) => one.replaceAll(HELD, ' '));
}
