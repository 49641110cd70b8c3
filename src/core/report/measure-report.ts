import { anyText, check, record, text, wholeNumber } from '../base/expectation.js';
import {
  formatDecimals,
  formatLength,
  formatLengthNumber,
  formatSmallNumber,
  LENGTH_UNIT,
  type LengthUnit,
  unitMark,
} from '../base/length.js';
import { percentages } from '../base/percent.js';
import type { BandFacts, BandModel, InstanceFacts } from '../model/band-model.js';
import { checkBandModel } from '../model/check-band-model.js';
import { stripSvg } from '../render/band-strip.js';
import { escapeXml } from '../render/svg.js';

import {
  balanceSentence,
  balanceWord,
  CAUTIONS,
  colourName,
  countWords,
  densityWords,
  directionSentence,
  distortionSentence,
  dropWords,
  giveOrTake,
  repeatWords,
  scaleSourceWords,
  timesSeen,
} from './measure-words.js';
import { REPORT_STYLE } from './report-style.js';

export interface ReportParts {
  readonly unit: LengthUnit;
  /** The overlay as a data URI, and its size in px. */
  readonly overlay: { readonly uri: string; readonly widthPx: number; readonly heightPx: number };
  /** How two pieces meet at a seam: trusted HTML, or empty where there is none to show. */
  readonly chevron: string;
  /** What pictures drawn from this measurement bear, as modelWords gives it; left out, nothing is said of it. */
  readonly modelMark?: string;
}

const PARTS = record({
  unit: LENGTH_UNIT,
  overlay: record({ uri: text, widthPx: wholeNumber({ least: 1 }), heightPx: wholeNumber({ least: 1 }) }),
  chevron: anyText,
});

/** One self-contained page: nothing is fetched, pictures and style are inside. */
export function measureReport(model: BandModel, parts: ReportParts): string {
  checkBandModel(model);
  check(parts, 'parts', PARTS);
  const { unit } = parts;
  const name = model.photo?.file || 'cloth';
  const body = [
    `<h1>Stripes measured in ${escapeXml(name)}</h1>`,
    headline(model, unit),
    overlayFigure(model, parts.overlay),
    warnings(model),
    bandSection('Bands of one repeat', model, model.bands, model.instances, unit),
    model.check
      ? bandSection('Bands the other way', model, model.check.bands, model.check.instances, unit)
      : '',
    repeatSection(model, unit),
    shareSection(model),
    `<h2>Balance and direction</h2><p>${escapeXml(balanceSentence(model))}</p><p>${escapeXml(directionSentence(model))}</p>${checkSentence(model)}${paragraph(distortionSentence(model))}`,
    parts.chevron,
    `<h2>Before you cut</h2><ul>${CAUTIONS.map((text) => `<li>${escapeXml(text)}</li>`).join('')}</ul>`,
    origin(model, unit, parts.modelMark),
  ];
  return `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Stripes measured in ${escapeXml(name)}</title>
<style>
${REPORT_STYLE}
</style>
</head>
<body>
<main>
${body.filter((part) => part !== '').join('\n')}
</main>
</body>
</html>
`;
}

const paragraph = (text: string): string => (text === '' ? '' : `<p>${escapeXml(text)}</p>`);

function headline(model: BandModel, unit: LengthUnit): string {
  const { repeat, scale, plane } = model;
  const fact = (term: string, value: string, more = ''): string =>
    `<div><dt>${term}</dt><dd>${escapeXml(value)}${more === '' ? '' : `<small>${escapeXml(more)}</small>`}</dd></div>`;
  const doubt = repeat.across_sd_mm === null ? '' : giveOrTake(repeat.across_sd_mm, unit);
  return `<dl class="facts">${[
    fact(
      'Repeat across the stripes',
      repeat.across_mm === null ? 'none in view' : formatLength(repeat.across_mm, unit, repeat.across_sd_mm),
      [doubt, `${repeat.repeats_seen.toFixed(1)} of them in view`].filter((text) => text !== '').join('; '),
    ),
    fact(
      'Bands',
      `${model.bands.length}, ${balanceWord(model)}`,
      `${countWords(model.instances.filter((one) => one.whole).length, 'stripe')} measured from edge to edge`,
    ),
    scale ? fact('Scale from', scaleSourceWords(scale, unit), densityWords(scale)) : '',
    plane && scale?.source === 'density' ? fact('Camera tilt', 'not looked for', 'taken as a flat scan') : '',
    plane && scale?.source !== 'density'
      ? fact('Camera tilt', `${plane.tilt_deg.toFixed(1)}°`, 'taken out of every number here')
      : '',
  ].join('')}</dl>`;
}

function overlayFigure(model: BandModel, overlay: ReportParts['overlay']): string {
  const alt = `The photo with every band edge drawn over it${model.repeat.across_mm === null ? '' : ', one repeat framed'} and what the scale was taken from.`;
  return `<figure class="photo"><img src="${overlay.uri}" width="${overlay.widthPx}" height="${overlay.heightPx}" alt="${escapeXml(alt)}"><figcaption>Trust the numbers only if the lines lie on the edges of the bands and the ruler is marked where the ruler is.</figcaption></figure>`;
}

function warnings(model: BandModel): string {
  if (model.warnings.length === 0) return '';
  const items = model.warnings.map((one) => `<li>${escapeXml(one.message)}</li>`).join('');
  return `<section class="warnings" aria-label="Warnings"><strong>Warnings</strong><ul>${items}</ul></section>`;
}

const chip = (srgb: string): string =>
  `<svg class="chip" viewBox="0 0 10 10" aria-hidden="true"><rect x=".5" y=".5" width="9" height="9" fill="${srgb}" stroke="#1c1c1c" stroke-width=".6"/></svg>`;

const srgbOf = (model: BandModel, id: string): string =>
  model.colours.find((colour) => colour.id === id)?.srgb ?? '#ffffff';

/** A cell that names its column where the page is too narrow for the heading. */
const labelledCell = (heading: string, cell: string): string =>
  `<td data-heading="${escapeXml(heading)}">${cell}</td>`;

function bandSection(
  title: string,
  model: BandModel,
  bands: readonly BandFacts[],
  instances: readonly InstanceFacts[],
  unit: LengthUnit,
): string {
  const mark = unitMark(unit);
  const length = (mm: number | null): string => (mm === null ? '–' : formatDecimals(mm, unit));
  const small = (mm: number | null): string => (mm === null ? '–' : formatSmallNumber(mm, unit));
  const headings = [
    'Band',
    'Colour',
    `Width, ${mark}`,
    `Give or take, ${mark}`,
    `Least, ${mark}`,
    `Greatest, ${mark}`,
    `Edge wavers by, ${mark}`,
    'Seen whole',
  ];
  const rows = bands.map(
    (band) =>
      `<tr><th scope="row">${escapeXml(band.id)}</th><td class="text">${chip(srgbOf(model, band.colour))}${escapeXml(colourName(model, band.colour))}${mixWords(model, band)}</td>${[
        formatLengthNumber(band.width_mm, unit, band.width_mean_sd_mm),
        small(band.width_sd_mm),
        length(band.width_min_mm),
        length(band.width_max_mm),
        small(band.edge_sd_mm),
        String(timesSeen(instances, band.id)),
      ]
        .map((cell, k) => labelledCell(headings[k + 2], cell))
        .join('')}</tr>`,
  );
  const strip = stripSvg(
    bands.map((band) => ({ label: band.id, srgb: srgbOf(model, band.colour), size: band.width_mm })),
    `The bands in order, widths in proportion: ${bands.map((band) => `${band.id} ${colourName(model, band.colour)}`).join(', ')}`,
  );
  const head = headings
    .map((text, k) => `<th scope="col"${k === 1 ? ' class="text"' : ''}>${text}</th>`)
    .join('');
  return `<h2>${title}</h2><figure>${strip}</figure><table class="cards${bands.length > 20 ? ' long' : ''}"><caption>In order across the stripes. Give or take: how much the width differs from one stripe to the next on this cloth.</caption><thead><tr>${head}</tr></thead><tbody>${rows.join('')}</tbody></table>`;
}

/** What else lies in a band, such as a print that runs over it: only what the eye would notice. */
function mixWords(model: BandModel, band: BandFacts): string {
  const percent = percentages(
    band.mix.map(({ share }) => share),
    0,
  );
  const others = band.mix.flatMap(({ colour, share }, k) =>
    colour !== band.colour && share >= 0.05 ? [`${colourName(model, colour)} ${percent[k]} %`] : [],
  );
  return others.length === 0 ? '' : ` <small>with ${escapeXml(others.join(', '))}</small>`;
}

function checkSentence({ check }: BandModel): string {
  if (check?.symmetry === undefined) return '';
  return check.symmetry.balanced
    ? '<p>The cross stripes are balanced, too.</p>'
    : '<p>The cross stripes are not balanced: turned head to tail, a piece shows them the other way round.</p>';
}

function repeatSection(model: BandModel, unit: LengthUnit): string {
  const { repeat, motifs } = model;
  const weighed = repeat.alternatives.slice(0, 3);
  const [sure, ...lessSure] = percentages(
    [repeat.confidence, ...weighed.map(({ confidence }) => confidence)],
    0,
  );
  const others = weighed.map(
    (one, k) => `<tr><th scope="row">${formatLength(one.across_mm, unit)}</th><td>${lessSure[k]} %</td></tr>`,
  );
  const lines = [
    repeat.across_mm === null
      ? 'No repeat was found: the bands above are those in view, from one side to the other. Photograph at least two repeats.'
      : `One repeat takes ${repeatWords(model, unit)} across the stripes. The program is ${sure} % sure of it.`,
  ];
  if (repeat.along_mm !== null) {
    const doubt = repeat.along_sd_mm === null ? '' : `, ${giveOrTake(repeat.along_sd_mm, unit)},`;
    const drop = repeat.drop_fraction === null ? '' : `, its columns ${dropWords(repeat.drop_fraction)}`;
    lines.push(
      `The print repeats every ${formatLength(repeat.along_mm, unit, repeat.along_sd_mm)}${doubt} along the stripes${drop}.`,
    );
    const cells =
      repeat.motif_across_mm && repeat.across_mm ? Math.round(repeat.motif_across_mm / repeat.across_mm) : 1;
    if (cells > 1 && repeat.motif_across_mm)
      lines.push(
        `Across the stripes the print comes round again only after ${cells} repeats, ${formatLength(repeat.motif_across_mm, unit)}: where motifs must match, count in those.`,
      );
  }
  if (motifs.length > 0)
    lines.push(`${countWords(motifs.length, 'printed motif')} in one repeat of the print.`);
  const table =
    others.length === 0
      ? ''
      : `<table class="narrow"><caption>Other lengths it might have been</caption><thead><tr><th scope="col">Length</th><th scope="col">How sure</th></tr></thead><tbody>${others.join('')}</tbody></table>`;
  return `<h2>Repeat</h2>${lines.map((line) => `<p>${escapeXml(line)}</p>`).join('')}${table}`;
}

function shareSection(model: BandModel): string {
  const { colours } = model;
  const shares = colours.map(({ share }) => share);
  const [tenths, whole] = [percentages(shares, 1), percentages(shares, 0)];
  const parts = colours
    .map((colour, k) => ({
      label: `${colourName(model, colour.id)} ${tenths[k]} %`,
      shortLabel: `${whole[k]} %`,
      srgb: colour.srgb,
      size: colour.share,
    }))
    .filter(({ size }) => size > 0);
  if (parts.length === 0) return '';
  const strip = stripSvg(parts, `Shares of the cloth's area: ${parts.map((part) => part.label).join(', ')}`);
  const headings = ['Colour', 'Letter', 'Covers', 'sRGB', 'CIELAB (D65)'];
  const rows = colours.map(
    ({ id, name, srgb, lab }, k) =>
      `<tr><th scope="row">${chip(srgb)}${escapeXml(name)}</th>${[
        escapeXml(id),
        `${tenths[k]} %`,
        srgb,
        lab.map((v) => v.toFixed(1)).join(', '),
      ]
        .map((cell, column) => labelledCell(headings[column + 1], cell))
        .join('')}</tr>`,
  );
  return `<h2>Colours</h2><figure>${strip}<figcaption>How much of the cloth each colour covers</figcaption></figure><table class="cards"><thead><tr>${headings.map((text) => `<th scope="col">${text}</th>`).join('')}</tr></thead><tbody>${rows.join('')}</tbody></table>`;
}

function origin(model: BandModel, unit: LengthUnit, mark: string | undefined): string {
  const { photo } = model;
  if (photo === null) return '';
  return `<h2>Where this comes from</h2><p class="small">Photo${photo.file === '' ? ' without a file' : ` ${escapeXml(photo.file)}`}, ${photo.width_px} x ${photo.height_px} pixels${photo.sha256 === '' ? '' : `, SHA-256 ${photo.sha256}`}. Lengths in ${unit === 'inch' ? 'inches: the nearest sixteenth, and decimals beside it where a sixteenth is too coarse' : unit}. The same figures in mm: bands.json (for programs), bands.csv (for a spreadsheet). cloth.png, swatch.png and swatch.svg print at true size at 100 %.${mark === undefined ? '' : ` Chevrons drawn from this measurement are marked ${escapeXml(mark)}.`}</p>`;
}
