import { MM_PER_INCH } from '../base/length.js';
import { type Outcome, refuse, succeed } from '../base/outcome.js';
import type { PartialLuma } from '../raster/luminance.js';
import type { Photo } from '../raster/photo.js';
import type { Raster } from '../raster/raster.js';
import { findRuler } from '../reference/find-ruler.js';
import { unaskedSheets } from '../reference/find-sheet.js';
import type { Reference } from '../reference/reference.js';
import { referenceFromCorners } from '../reference/reference-from-corners.js';
import { sheetSpecs } from '../reference/sheet-sizes.js';
import type { TickHierarchy } from '../reference/tick-hierarchy.js';

/** Two sheets that lie on one cloth tell its scale alike to this, paper's own tolerance and the tilt between them included. */
const ALIKE = 0.02;

/**
 * What gives the scale where no ruler of any kind was found: a sheet or card that leaves no doubt. The refusal, where there is none; a
 * refusal that names the choice, where two of them contradict each other.
 */
export function sheetInstead(photo: Photo, refused: Outcome<never>): Outcome<Reference> {
  const found = unaskedSheets(photo).flatMap(({ size, sheet }) => {
    const reference = referenceFromCorners(photo, sheet.corners, size, sheet.cornerSdPx);
    return reference.ok ? [{ ...reference.value, insteadOfRuler: size }] : [];
  });
  if (found.length === 0) return refused;
  const [largest, ...others] = found;
  if (others.some(({ pxPerMm }) => Math.abs(Math.log(pxPerMm / largest.pxPerMm)) > ALIKE)) {
    const names = found.map(({ insteadOfRuler }) => sheetSpecs[insteadOfRuler].name);
    return refuse(
      'no-scale',
      `No ruler found, and what could be ${names.join(' and what could be ')} contradict each other`,
      'say which of them lies on the cloth, or take the other away',
      ['sheet'],
    );
  }
  return succeed(largest);
}

/** The refusal of a ruler that was said to be in another unit than its marks show; the given one where it shows none. */
export function otherUnit(
  part: PartialLuma,
  half: Raster<Uint8Array>,
  asked: 'mm' | 'inch',
  refused: Outcome<never>,
): Outcome<never> {
  const reading = findRuler(part, half);
  if (!reading.ok) return refused;
  const { hierarchy } = reading.value;
  return refuse(
    'no-scale',
    `The ruler's marks look like ${marksWords(hierarchy)}, but ${asked === 'mm' ? 'millimetres' : 'inches'} were asked for`,
    `leave out what the ruler is marked in, or say ${hierarchy.unit === 'mm' ? 'millimetres' : 'inches'}`,
    ['ruler'],
  );
}

const PARTS: Readonly<Record<number, string>> = {
  8: 'eighths',
  10: 'tenths',
  16: 'sixteenths',
  32: 'thirty-seconds',
};

/** "millimetres", "sixteenths of an inch" */
function marksWords({ unit, pitchMm }: TickHierarchy): string {
  if (unit === 'mm') return pitchMm === 1 ? 'millimetres' : 'half millimetres';
  const part = Math.round(MM_PER_INCH / pitchMm);
  return `${PARTS[part] ?? `parts of 1/${part}`} of an inch`;
}
