import { anything, check, listOf, orNull, record, text } from '../base/expectation.js';
import { formatLength, formatSmall, LENGTH_UNIT, type LengthUnit } from '../base/length.js';
import { layPicture } from '../render/lay-picture.js';
import { element, escapeXml, num } from '../render/svg.js';
import { type CutPlan, planPicture, planSvg } from '../render/where-to-cut.js';
import { bandName, degrees, formatGiven, layWords, longestMisfitMm, titleOf } from '../render/words.js';
import type { ChevronPreview, SeamPreview } from '../seam/chevron-preview.js';
import type { WorstFigures } from '../seam/expect/seam-expectation.js';
import type { SeamMatch } from '../seam/seam-match.js';
import { checkPreview } from './check-preview.js';
import { CHEVRON_PAGE_STYLE } from './chevron-page-style.js';
import { seamSvg } from './chevron-section.js';

/** What the page shows besides the preview's figures. */
export interface ChevronPageParts {
  readonly title: string;
  readonly unit: LengthUnit;
  /** Each seam's picture as a data URI, in the shape of the rows; null: drawn in clean colours. */
  readonly pictures: readonly (readonly string[])[] | null;
  /** Where to cut each seam, in the same shape, and the cloth to show it on as a data URI; null without one. */
  readonly cloth: {
    readonly uri: string;
    readonly plans: readonly (readonly (CutPlan | null)[])[];
  } | null;
  /** The model in a few words; null: nothing is said of it. */
  readonly source: string | null;
}

const CLOTH_ID = 'cloth';
/** So few answers are shown open. */
const FEW = 2;

const inShape = orNull(listOf(listOf(anything, { least: 1 }), { least: 1 }));
const PARTS = record({
  title: text,
  unit: LENGTH_UNIT,
  pictures: inShape,
  cloth: orNull(record({ uri: text, plans: inShape })),
  source: orNull(text),
});

/** All seams of a preview as one self-contained page, for a phone or for paper: nothing is fetched. */
export function chevronPage(preview: ChevronPreview, parts: ChevronPageParts): string {
  checkPreview(preview);
  check(parts, 'parts', PARTS);
  const { verdict, rows, lay } = preview;
  const { request } = rows[0][0].match;
  const isOpen = rows.flat().length <= FEW;
  const doubts = [verdict.checkByEye, ...verdict.doubts.map(({ message }) => `${message}.`)].filter(
    (text): text is string => text !== null,
  );
  return `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escapeXml(parts.title)}</title>
<style>
${CHEVRON_PAGE_STYLE}
</style>
</head>
<body>
<main>
<h1>${escapeXml(parts.title)}</h1>
<p><strong>${escapeXml(verdict.sentence)}</strong></p>
${doubts.map((text) => `<p>${escapeXml(text)}</p>`).join('')}
<p>Seam ${escapeXml(formatGiven(request.seamMm, parts.unit))}; the named band meets it at the ring, ${escapeXml(formatGiven(request.atMm, parts.unit))} from its top. Right half ${escapeXml(layWords(request))}.${preview.forced ? ` ${escapeXml(lay.reason)}` : ''}</p>
${layFigure(rows[Math.floor((rows.length - 1) / 2)][0].match)}
${sharedCloth(parts)}${rows.map((row, i) => rowSection(row, i, parts, isOpen)).join('\n')}
${parts.source === null ? '' : `<p class="small">Drawn from ${escapeXml(parts.source)}.</p>`}
</main>
</body>
</html>
`;
}

function layFigure(match: SeamMatch): string {
  const { width, height, svg } = layPicture(match, 300, 4);
  const drawing = element(
    'svg',
    {
      viewBox: `0 0 ${num(width)} ${num(height)}`,
      role: 'img',
      'aria-label': `Both halves lying on the cloth, right half ${layWords(match.request)}`,
    },
    svg,
  );
  return `<figure class="lay">${drawing}<figcaption>How the two halves lie on the cloth. The heavy line is the seam.</figcaption></figure>`;
}

/** Held once and drawn in every answer. */
function sharedCloth({ cloth }: ChevronPageParts): string {
  const photo = cloth?.plans.flat().find((plan) => plan !== null)?.photo;
  if (!cloth || !photo) return '';
  const image = element('image', {
    id: CLOTH_ID,
    href: cloth.uri,
    width: photo.rightUMm - photo.leftUMm,
    height: photo.topVMm - photo.lowVMm,
    preserveAspectRatio: 'none',
  });
  return `<svg class="shared" width="0" height="0" aria-hidden="true"><defs>${image}</defs></svg>\n`;
}

function rowSection(
  row: readonly SeamPreview[],
  i: number,
  parts: ChevronPageParts,
  isOpen: boolean,
): string {
  const { match } = row[0];
  const { leftDeg, rightDeg, lay } = match.request;
  const angle =
    leftDeg === rightDeg ? degrees(leftDeg) : `${degrees(leftDeg)} left, ${degrees(rightDeg)} right`;
  const repeats = match.repeatAlongMm.slice(0, leftDeg === rightDeg ? 1 : 2);
  const arms =
    lay === 'run-on' || match.enclosedDeg === 180 ? 'no point' : `arms enclose ${degrees(match.enclosedDeg)}`;
  const along = repeats.map((mm) => formatLength(mm, parts.unit)).join(' and ');
  return `<section><h2>${escapeXml(angle)}</h2><p>${escapeXml(`${arms}; one repeat takes ${along} of the seam.`)}</p><ul class="cards">${row
    .map((one, k) => card(one, i, k, parts, isOpen))
    .join('\n')}</ul></section>`;
}

function card(one: SeamPreview, i: number, k: number, parts: ChevronPageParts, isOpen: boolean): string {
  const { match } = one;
  const { pattern, request } = match;
  const band = pattern.bands[request.centre];
  const uri = parts.pictures?.[i][k];
  const picture = uri ? `<img src="${uri}" alt="${escapeXml(titleOf(match))}">` : seamSvg(match, parts.unit);
  const plan = parts.cloth?.plans[i][k] ?? null;
  const wide = plan !== null && isOpen ? ' class="open"' : '';
  return `<li${wide}><h3><span class="chip" style="background:${band.srgb}"></span>${escapeXml(bandName(match, request.centre))}</h3>${picture}<dl>${facts(one, parts.unit)}</dl>${plan === null ? '' : planDetails(plan, match, isOpen)}</li>`;
}

function facts({ match, worst, best, bestExpected }: SeamPreview, unit: LengthUnit): string {
  const { request, pattern } = match;
  const band = pattern.bands[request.centre];
  const out = longestMisfitMm(match);
  const fact = (term: string, value: string): string =>
    `<div><dt>${term}</dt><dd>${escapeXml(value)}</dd></div>`;
  return [
    fact(
      'band along the seam',
      formatLength((band.widthMm * match.repeatAlongMm[0]) / pattern.repeatMm, unit),
    ),
    out > 0 ? fact('colours do not meet along', formatSmall(out, unit)) : '',
    out === 0 && request.leftDeg === request.rightDeg
      ? fact('worst edge, 9 times in 10 at most', worst === null ? 'not known' : bothWords(worst, unit))
      : '',
    best === null
      ? ''
      : fact(
          'best from repeats',
          `${best.left.repeat} and ${best.right.repeat}: ${bestExpected === null ? formatSmall(best.worstMm, unit) : bothWords(bestExpected, unit)}${best.continued ? `; partly beyond the photo, ${best.edgesSeen} of ${best.crossings.length} edges seen` : ''}`,
        ),
  ].join('');
}

/** The cloth alone, then sewn. */
const bothWords = ({ cloth, sewn }: WorstFigures, unit: LengthUnit): string =>
  `${formatSmall(cloth.p90, unit)} by the cloth alone, ${formatSmall(sewn.p90, unit)} laid, cut and sewn`;

function planDetails(plan: CutPlan, match: SeamMatch, isOpen: boolean): string {
  const words = plan.words.map((text) => `<p>${escapeXml(text)}</p>`).join('');
  const drawing = planSvg(planPicture({ ...plan, words: [] }), CLOTH_ID, escapeXml(plan.title));
  const name = `Where to cut, ${degrees(match.request.leftDeg)} ${bandName(match, match.request.centre)}`;
  return `<details${isOpen ? ' open' : ''}><summary>${escapeXml(name)}</summary>${drawing}${words}</details>`;
}
