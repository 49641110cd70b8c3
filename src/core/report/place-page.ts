import { check } from '../base/expectation.js';
import { LENGTH_UNIT, type LengthUnit } from '../base/length.js';
import type { Placement } from '../place/answer/placement.js';
import type { DrawnAnswer, SvgSheet } from '../render/placing/placement-sheets.js';
import { escapeXml } from '../render/svg.js';
import { checkDrawnAnswers, checkPlacement, checkSheets } from './check-placement.js';
import { joinWords } from './place-table.js';
import { REPORT_STYLE } from './report-style.js';

const STYLE = `
.answers { display: grid; grid-template-columns: repeat(auto-fit, minmax(19rem, 1fr)); gap: 1.5rem; }
.answers svg, section svg { max-width: 100%; height: auto; }
ul.wishes { list-style: none; padding: 0; }
ul.wishes li { padding-left: 1.6em; text-indent: -1.6em; }
.met::before { content: "\\2713"; display: inline-block; width: 1.6em; text-indent: 0; }
.missed::before { content: "\\2717"; display: inline-block; width: 1.6em; text-indent: 0; }
.missed { font-weight: 600; }
@media print { section { break-before: page; } }
`;

/** One self-contained page that compares the answers: garment, colours, what each wish got, and each answer's pieces. */
export function placePage(
  placement: Placement,
  answers: readonly DrawnAnswer[],
  sheets: readonly SvgSheet[],
  unit: LengthUnit,
): string {
  checkPlacement(placement);
  checkDrawnAnswers(answers, placement.answers.length);
  checkSheets(sheets);
  check(unit, 'unit', LENGTH_UNIT);
  const picture = (name: string): string => {
    const sheet = sheets.find((one) => one.name === name);
    // Ids of clips are the same from sheet to sheet, so each picture is a document of its own.
    return sheet === undefined
      ? ''
      : `<img alt="${escapeXml(sheet.title)}" width="${sheet.widthPx}" height="${sheet.heightPx}" src="data:image/svg+xml,${encodeURIComponent(sheet.svg)}">`;
  };
  const details = answers.map((answer, k) => {
    const wishes = answer.wishes
      .map(({ met, words }) => `<li class="${met ? 'met' : 'missed'}">${escapeXml(words)}</li>`)
      .join('');
    const joins = placement.answers[k].joins
      .map((join) => joinWords(join, unit).map((line) => line.trim()))
      .map((lines) => `<li>${escapeXml(lines.join(' '))}</li>`)
      .join('');
    return `<section><h2>${escapeXml(answer.title)}</h2>
<figure>${picture(`answer-${answer.rank}`)}<figcaption>As it will be worn, laid flat along its joins.</figcaption></figure>
<ul class="wishes">${wishes}</ul>
${joins === '' ? '' : `<h3>Along the joins</h3><ul>${joins}</ul>`}
<figure>${picture(`pieces-${answer.rank}`)}<figcaption>Each piece alone.</figcaption></figure>
<figure>${picture(`cloth-${answer.rank}`)}<figcaption>On the cloth, right side up.</figcaption></figure></section>`;
  });
  const warnings = placement.warnings.map(({ message }) => `<p>${escapeXml(message)}</p>`).join('');
  return `<!DOCTYPE html>
<html lang="en">
<head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<title>Where the stripes fall</title>
<style>${REPORT_STYLE}${STYLE}figure img { max-width: 100%; height: auto; }
figure.wide { overflow-x: auto; }
@media screen { figure.wide img { max-width: none; width: max(100%, 62rem); } }
</style></head>
<body><h1>Where the stripes fall</h1>
<p>${answers.length === 1 ? 'One answer' : `The best ${answers.length} answers`} for ${escapeXml(placement.plan.file)}. Wash the cloth before you cut. Match the stripes on the stitching line, not at the cut edge; baste, and look, before you sew.</p>
${warnings === '' ? '' : `<div class="warnings">${warnings}</div>`}
<figure class="wide">${picture('answers')}</figure>
${details.join('\n')}
</body></html>
`;
}
