import { check } from '../base/expectation.js';
import { formatLength, LENGTH_UNIT, type LengthUnit } from '../base/length.js';
import { stripSvg } from '../render/band-strip.js';
import { escapeXml } from '../render/svg.js';
import type { BatchEntry, EntryFacts } from './batch-entry.js';
import { checkEntries } from './check-entries.js';
import { CONTACT_SHEET_STYLE } from './contact-sheet-style.js';
import { countWords, giveOrTake } from './measure-words.js';

/**
 * The index of many photos as one self-contained page: a card a photo with its picture, one repeat in colour, the figures and
 * warnings, and a link to its report; what failed comes first, with the reason.
 */
export function contactSheet(entries: readonly BatchEntry[], unit: LengthUnit): string {
  checkEntries(entries);
  check(unit, 'unit', LENGTH_UNIT);
  const failed = entries.filter((entry) => entry.outcome === 'failed');
  const measured = entries.filter((entry) => entry.outcome === 'measured');
  const warned = measured.filter((entry) => (entry.facts?.warnings.length ?? 0) > 0);
  const title = `Stripes of ${countWords(entries.length, 'photo')}`;
  const counts = [
    `${measured.length} measured`,
    warned.length > 0 ? `${warned.length} of them with warnings` : '',
    failed.length > 0 ? `${failed.length} failed` : '',
  ].filter((text) => text !== '');
  return `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${title}</title>
<style>
${CONTACT_SHEET_STYLE}
</style>
</head>
<body>
<main>
<h1>${title}</h1>
<p>${counts.join(', ')}. The same figures for a spreadsheet are in the CSV file beside this page.</p>
${section(failed.length > 0 ? 'Failed' : '', failed, unit)}${section(failed.length > 0 ? 'Measured' : '', measured, unit)}</main>
</body>
</html>
`;
}

function section(title: string, entries: readonly BatchEntry[], unit: LengthUnit): string {
  if (entries.length === 0) return '';
  const heading = title === '' ? '' : `<h2>${title}</h2>\n`;
  return `${heading}<ul class="cards">\n${entries.map((entry) => card(entry, unit)).join('\n')}\n</ul>\n`;
}

function card(entry: BatchEntry, unit: LengthUnit): string {
  const { facts, failure, folder } = entry;
  const [, place, file] = /^(.*[\\/])?([^\\/]*)$/s.exec(entry.photo) as RegExpExecArray;
  const name = escapeXml(file);
  const link = facts && folder !== null ? `${hrefOf(folder)}/report.html` : null;
  const linked = (html: string): string => (link === null ? html : `<a href="${link}">${html}</a>`);
  return [
    `<li class="${entry.outcome}">`,
    linked(pictureOf(entry)),
    facts ? repeatStrip(facts) : '',
    `<h3>${linked(name)}</h3>`,
    place === undefined ? '' : `<p class="place">in ${escapeXml(place)}</p>`,
    failure ? `<p class="why">${escapeXml(failure.message)}</p>` : '',
    facts ? figuresOf(facts, unit) : '',
    entry.ownOptions === undefined
      ? ''
      : `<p class="own">with options of its own: ${escapeXml(entry.ownOptions)}</p>`,
    '</li>',
  ].join('');
}

function pictureOf({ thumbnail }: BatchEntry): string {
  if (thumbnail === null) return '<div class="none">no picture</div>';
  const { uri, widthPx, heightPx } = thumbnail;
  return `<div class="photo"><img src="${uri}" width="${widthPx}" height="${heightPx}" alt=""></div>`;
}

function repeatStrip({ bands, repeatMm }: EntryFacts): string {
  if (repeatMm === null || bands.length === 0) return '';
  const parts = bands.map((band) => ({ label: '', srgb: band.srgb, size: band.widthMm }));
  return stripSvg(parts, `One repeat of ${countWords(bands.length, 'band')}`);
}

function figuresOf(facts: EntryFacts, unit: LengthUnit): string {
  const { repeatMm, repeatSdMm, bands, balanced, layout, warnings } = facts;
  const doubt = repeatSdMm === null ? '' : ` <small>${escapeXml(giveOrTake(repeatSdMm, unit))}</small>`;
  const repeat =
    repeatMm === null
      ? 'no repeat in view'
      : `${escapeXml(formatLength(repeatMm, unit, repeatSdMm))}${doubt}`;
  const words = [
    countWords(bands.length, 'band'),
    repeatMm === null ? '' : balanced ? 'balanced' : 'not balanced',
    layout === 'check' ? 'check' : '',
  ].filter((text) => text !== '');
  const list = warnings.map((one) => `<li>${escapeXml(one.message)}</li>`).join('');
  return `<p class="repeat">${repeat}</p><p>${words.join(', ')}</p>${list === '' ? '' : `<ul class="warnings">${list}</ul>`}`;
}

/** A folder of the index as a relative address: whatever its name, it stays one path. */
const hrefOf = (folder: string): string => escapeXml(`./${encodeURIComponent(folder)}`);
