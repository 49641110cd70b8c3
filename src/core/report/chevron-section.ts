import { formatLength, type LengthUnit } from '../base/length.js';
import { stripesSvg } from '../render/half-stripes.js';
import { layPicture } from '../render/lay-picture.js';
import type { SeamFrame } from '../render/seam-frame.js';
import { centreOutline, misfitMarks, referenceRing, seamLine } from '../render/seam-marks.js';
import { element, escapeXml, num } from '../render/svg.js';
import { degrees, layWords } from '../render/words.js';
import type { ChevronPreview, SeamPreview } from '../seam/chevron-preview.js';
import type { SeamMatch } from '../seam/seam-match.js';

/** Drawn size of one seam on the page, in its own px-like units. */
const SEAM = 220;
const HALF = 79;

/** What the section draws of a preview: nothing that is expected of the cloth in hand. */
interface DrawnSeams extends Pick<ChevronPreview, 'verdict'> {
  readonly rows: readonly (readonly Pick<SeamPreview, 'match'>[])[];
}

/**
 * A section of a page: what the cloth's symmetry allows, the halves on the cloth, and the first band of each
 * row of a preview as a small chevron. Self-contained HTML with inline SVG, laid out by the page's style.
 */
export function chevronSection({ verdict, rows }: DrawnSeams, unit: LengthUnit = 'mm'): string {
  const pictures = rows.map(([{ match }]) => figure(seamSvg(match, unit), captionOf(match, unit))).join('');
  const lay = layPicture(rows[Math.floor((rows.length - 1) / 2)][0].match, 300, 4);
  const laySvg = svg(lay.width, lay.height, 'The two halves lying on the cloth', lay.svg);
  const checks = verdict.checkByEye === null ? '' : `<p>${escapeXml(verdict.checkByEye)}</p>`;
  return `<section class="chevron"><h2>Chevrons</h2><p><strong>${escapeXml(verdict.sentence)}</strong></p>${checks}<div class="seams">${figure(
    laySvg,
    `How the halves lie on the cloth: the right one ${layWords(rows[0][0].match.request)}`,
  )}${pictures}</div></section>`;
}

/** One seam, small. */
export function seamSvg(match: SeamMatch, unit: LengthUnit): string {
  const { seamMm } = match.request;
  const scale = SEAM / seamMm;
  const frame: SeamFrame = {
    seamX: HALF,
    topY: 6,
    halfWidthMm: HALF / scale,
    seamMm,
    scale,
    grain: SEAM / 80,
  };
  const body =
    stripesSvg(match, frame) +
    centreOutline(match, frame) +
    seamLine(frame, 5) +
    misfitMarks(match, frame, null) +
    referenceRing(match, frame);
  return svg(2 * HALF, SEAM + 12, captionOf(match, unit), body);
}

function captionOf({ request, pattern, repeatAlongMm }: SeamMatch, unit: LengthUnit): string {
  const band = pattern.bands[request.centre];
  return `${degrees(request.leftDeg)}: ${band.name} (${band.id}) at the marked point; one repeat takes ${formatLength(repeatAlongMm[0], unit)} of the seam`;
}

const figure = (drawing: string, caption: string): string =>
  `<figure>${drawing}<figcaption>${escapeXml(caption)}</figcaption></figure>`;

const svg = (width: number, height: number, label: string, body: string): string =>
  element(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      width: num(width),
      height: num(height),
      viewBox: `0 0 ${num(width)} ${num(height)}`,
      role: 'img',
      'aria-label': escapeXml(label),
    },
    body,
  );
