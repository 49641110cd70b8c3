import { formatLength, formatSmall, type LengthUnit } from '../base/length.js';
import type { WorstFigures } from '../seam/expect/seam-expectation.js';
import type { Lay } from '../seam/lay.js';
import type { SeamMatch } from '../seam/seam-match.js';
import type { SeamRequest } from '../seam/seam-request.js';

const LAY_WORDS: Readonly<Record<Lay, string>> = {
  'same-way': 'laid the same way up as the left',
  'head-to-tail': 'turned head to tail',
  'wrong-side': 'the same way up, wrong side showing',
  'run-on': 'laid like the left, stripes run on',
};

/** How the right half lies, in words that can follow "right half". */
export function layWords({ lay, leftDeg, rightDeg }: SeamRequest): string {
  // Square to the stripes, turning head to tail about them brings the half back to lying like the left one.
  if (lay === 'head-to-tail' && leftDeg === 90 && rightDeg === 90) return LAY_WORDS['run-on'];
  return LAY_WORDS[lay];
}

/** Length of the longest stretch along which the halves show different colours, 0 when they meet. */
export const longestMisfitMm = (match: SeamMatch): number =>
  match.unmatched.reduce((most, one) => Math.max(most, one.toMm - one.fromMm), 0);

export const degrees = (deg: number): string => `${+deg.toFixed(2)}°`;

/** "ochre b3". */
export const bandName = (match: SeamMatch, band: number): string =>
  `${match.pattern.bands[band].name} ${match.pattern.bands[band].id}`;

/** "45° V, ochre b3 at the point". */
export function titleOf(match: SeamMatch): string {
  const { leftDeg, rightDeg, centre, point, lay } = match.request;
  const angles =
    leftDeg === rightDeg ? degrees(leftDeg) : `${degrees(leftDeg)} left, ${degrees(rightDeg)} right`;
  const shape =
    lay === 'run-on'
      ? 'running on, '
      : leftDeg === 90 && rightDeg === 90
        ? 'square, '
        : point === 'down'
          ? 'V, '
          : 'inverted V, ';
  return `${angles} ${shape}${bandName(match, centre)} at the ${shape.includes('V') ? 'point' : 'mark'}`;
}

/** A length somebody chose, without decimals it was not given: 400 mm, not 400.0 mm. */
export const formatGiven = (lengthMm: number, unit: LengthUnit): string =>
  formatLength(lengthMm, unit)
    .replace(/(\.\d*?)0+(?= )/, '$1')
    .replace(/\.(?= )/, '');

/** "1.36 mm or less"; what is too small to print says so already. */
export function orLess(lengthMm: number, unit: LengthUnit): string {
  const words = formatSmall(lengthMm, unit);
  return words.startsWith('under') ? words : `${words} or less`;
}

/** "expect 1.36 mm, sewn 2.02 mm". */
export const expectWords = ({ cloth, sewn }: WorstFigures, unit: LengthUnit): string =>
  `expect ${formatSmall(cloth.p90, unit)}, sewn ${formatSmall(sewn.p90, unit)}`;
