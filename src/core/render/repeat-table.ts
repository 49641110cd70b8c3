import { formatLength, formatLengthNumber, formatSmall, type LengthUnit } from '../base/length.js';
import type { AgreeingPlace } from '../seam/agreement.js';
import type { WorstFigures } from '../seam/expect/seam-expectation.js';
import type { Drift } from '../seam/seam-lengths.js';
import type { SeamMatch } from '../seam/seam-match.js';
import { ALERT, INK, SOFT } from './ink.js';
import type { SeamFrame } from './seam-frame.js';
import { strokeText } from './stroke-text.js';
import { element, num } from './svg.js';
import { bandName, longestMisfitMm, orLess } from './words.js';

/** What a picture says beside what it shows. */
export interface SeamCaption {
  readonly unit: LengthUnit;
  /** What any two repeats may miss by, at the worst edge of the seam; null when not known. */
  readonly expected: WorstFigures | null;
  /** Unequal sides: how they run apart, said instead of what is expected. */
  readonly drift: Drift | null;
  /** Where they agree all the same. */
  readonly agree: readonly AgreeingPlace[];
  /** The lay is against the rule: expecting anything of it makes no sense. */
  readonly forced: boolean;
  /** Further lines under the picture: where cloth was continued, which repeats were used. */
  readonly notes: readonly string[];
}

/** The column at the right: each band's length along the seam, then how well the halves meet. */
export function repeatTable(match: SeamMatch, frame: SeamFrame, caption: SeamCaption): string {
  const { grain } = frame;
  const { pattern, request } = match;
  const x = frame.seamX + frame.halfWidthMm + 4 * grain;
  const right = x + 38 * grain;
  const equal = request.leftDeg === request.rightDeg;
  let y = frame.topY + 2.5 * grain;
  let svg = strokeText(equal ? 'Along the seam' : 'Along the seam, left · right', x, y, {
    size: 2.6 * grain,
    weight: 0.15,
    fitWidth: 38 * grain,
  });
  const pitch = Math.min(5.4 * grain, (52 * grain) / (pattern.bands.length + 1));
  const size = Math.min(2.4 * grain, pitch * 0.5);
  const lengths = (acrossMm: number): string => {
    const [left, rightLength] = match.repeatAlongMm.map((repeat) => (acrossMm * repeat) / pattern.repeatMm);
    return equal
      ? formatLength(left, caption.unit)
      : `${formatLengthNumber(left, caption.unit)} · ${formatLength(rightLength, caption.unit)}`;
  };
  y += 2 * grain;
  pattern.bands.forEach((band, k) => {
    y += pitch;
    svg += element('rect', {
      x,
      y: y - 0.72 * pitch,
      width: 4.4 * grain,
      height: 0.72 * pitch,
      fill: band.srgb,
      stroke: INK,
      'stroke-width': 0.12 * grain,
    });
    const chosen = k === request.centre;
    const style = { size, weight: chosen ? 0.19 : 0.11 };
    svg += strokeText(bandName(match, k), x + 6 * grain, y - 0.1 * pitch, {
      ...style,
      fitWidth: (equal ? 18 : 11) * grain,
    });
    svg += strokeText(lengths(band.widthMm), right, y - 0.1 * pitch, {
      ...style,
      anchor: 'end',
      fitWidth: (equal ? 13 : 20) * grain,
    });
  });
  y += 1.15 * pitch;
  svg += element('path', {
    d: `M${num(x)} ${num(y - 0.78 * pitch)}L${num(right)} ${num(y - 0.78 * pitch)}`,
    stroke: SOFT,
    'stroke-width': 0.15 * grain,
  });
  svg += strokeText('one repeat', x, y, { size, fitWidth: (equal ? 18 : 13) * grain });
  svg += strokeText(lengths(pattern.repeatMm), right, y, {
    size,
    anchor: 'end',
    fitWidth: (equal ? 20 : 22) * grain,
  });
  return svg + verdictLines(match, x, y + 9 * grain, grain, caption);
}

function verdictLines(match: SeamMatch, x: number, y: number, grain: number, caption: SeamCaption): string {
  const small = (mm: number): string => formatSmall(mm, caption.unit);
  const longest = longestMisfitMm(match);
  const lines: [string, string][] = [
    longest > 0 ? ['Longest stretch not meeting', small(longest)] : ['These halves', 'meet'],
  ];
  if (caption.drift !== null) {
    lines.push(
      ['The sides agree', agreeWords(match, caption)],
      ['From there they part, in 100 mm of seam', small(Math.abs(caption.drift.per100Mm))],
    );
  } else if (!caption.forced) {
    const { expected } = caption;
    if (expected === null) lines.push(['Uneven bands may add', 'not known']);
    else {
      lines.push(
        ['From any two repeats, 9 times in 10', orLess(expected.cloth.p90, caption.unit)],
        ['The same, laid, cut and sewn', orLess(expected.sewn.p90, caption.unit)],
      );
    }
  }
  let svg = '';
  let at = y;
  lines.forEach(([label, value], i) => {
    const alert = i === 0 && longest > 0;
    svg += strokeText(label, x, at, { size: 2.1 * grain, colour: SOFT, fitWidth: 38 * grain });
    svg += strokeText(value, x, at + 5.4 * grain, {
      size: 3.6 * grain,
      weight: 0.15,
      colour: alert ? ALERT : INK,
      fitWidth: 38 * grain,
    });
    at += 12 * grain;
  });
  return svg;
}

/** "at 200 mm: ochre b3". */
function agreeWords(match: SeamMatch, { agree, unit }: SeamCaption): string {
  if (agree.length === 0) return 'nowhere on this seam';
  const first = agree[0];
  const more = agree.length > 1 ? ` and ${agree.length - 1} more` : '';
  return `at ${formatLength(first.atMm, unit)}: ${bandName(match, first.band)}${more}`;
}
