import { checkAll, listOf, numberWithin, record, text } from '../base/expectation.js';
import { LENGTH_UNIT, type LengthUnit, MM_PER_INCH } from '../base/length.js';
import { PRINTABLE } from '../render/page-size.js';
import { escapeXml, num } from '../render/svg.js';

/** A picture file beside the page, and its true size. */
export interface TruePicture {
  readonly file: string;
  readonly name: string;
  readonly widthMm: number;
  readonly heightMm: number;
}

/** Part of each sheet that shows the picture, mm; the rest is for its name and the bar. */
const TILE = { widthMm: PRINTABLE.widthMm - 4, heightMm: PRINTABLE.heightMm - 25 };
/** Neighbouring sheets share so much, to be laid one over the other. */
const OVERLAP_MM = 10;

/** Sheets it takes to lay out so long a side, at least one. */
const sheetsFor = (lengthMm: number, tileMm: number): number =>
  Math.max(1, Math.ceil((lengthMm - OVERLAP_MM) / (tileMm - OVERLAP_MM)));

/** A side of many sheets is no picture of a seam. */
const side = numberWithin({ above: 0, most: 20_000 }, 'mm');
const PICTURES = listOf(
  record({ file: text, name: text, widthMm: side, heightMm: side }, 'a picture of true size'),
);

/**
 * A page that prints pictures at true size on A4 or letter, one sheet a tile: rows by letter, columns by number, a dashed line where the
 * next sheet begins, and on each sheet a bar to check the printer by. The picture files must lie beside it.
 */
export function trueSizePage(pictures: readonly TruePicture[], unit: LengthUnit): string {
  checkAll({ pictures: [pictures, PICTURES], unit: [unit, LENGTH_UNIT] });
  const sheets = pictures.map((picture) => sheetsOf(picture, unit)).join('\n');
  return `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>True size, to print</title>
<style>
${STYLE}
</style>
</head>
<body>
<header><h1>True size, to print</h1>
<p>Print at 100 %, not fitted to the page, on A4 or letter. Measure the bar on the first sheet; if it is not as long as it says, the printer has scaled it. Cut each sheet along its dashed lines and lay it over the next.</p></header>
<main>
${sheets}
</main>
</body>
</html>
`;
}

function sheetsOf({ file, name, widthMm, heightMm }: TruePicture, unit: LengthUnit): string {
  const columns = sheetsFor(widthMm, TILE.widthMm);
  const rows = sheetsFor(heightMm, TILE.heightMm);
  const barMm = unit === 'inch' ? 4 * MM_PER_INCH : 100;
  const barWords = unit === 'inch' ? '4 in' : unit === 'cm' ? '10 cm' : '100 mm';
  const sheet = (row: number, column: number): string => {
    const left = column * (TILE.widthMm - OVERLAP_MM);
    const top = row * (TILE.heightMm - OVERLAP_MM);
    const width = Math.min(TILE.widthMm, widthMm - left);
    const height = Math.min(TILE.heightMm, heightMm - top);
    const id = `${String.fromCharCode(65 + row)}${column + 1}`;
    const place = rows * columns === 1 ? '' : `, sheet ${id} of ${rows * columns}`;
    const cuts =
      (column + 1 < columns ? `<i class="cut" style="left:${num(TILE.widthMm - OVERLAP_MM)}mm"></i>` : '') +
      (row + 1 < rows ? `<i class="cut level" style="top:${num(TILE.heightMm - OVERLAP_MM)}mm"></i>` : '');
    return `<section><h2>${escapeXml(name)}${place}</h2><div class="tile" style="width:${num(width)}mm;height:${num(height)}mm"><img src="./${encodeURIComponent(file)}" alt="${escapeXml(name)}${place}" style="width:${num(widthMm)}mm;height:${num(heightMm)}mm;left:${num(-left)}mm;top:${num(-top)}mm">${cuts}</div><p class="bar"><span style="width:${num(barMm)}mm"></span>${barWords}</p></section>`;
  };
  return Array.from({ length: rows }, (_, row) =>
    Array.from({ length: columns }, (_, column) => sheet(row, column)).join('\n'),
  ).join('\n');
}

const STYLE = `
:root { color-scheme: light; }
* { box-sizing: border-box; }
body { font: 16px/1.4 system-ui, -apple-system, "Segoe UI", Roboto, Arial, sans-serif; color: #1c1c1c; background: #fff; margin: 1rem; }
h1 { font-size: 1.4rem; margin: 0 0 .4rem; }
h2 { font-size: 4mm; margin: 0 0 2mm; }
header p { max-width: 46rem; }
section { margin: 1.5rem 0; overflow-x: auto; }
.tile { position: relative; overflow: hidden; outline: .2mm solid #8a8a8a; }
.tile img { position: absolute; max-width: none; }
.cut { position: absolute; top: 0; bottom: 0; border-left: .35mm dashed #1c1c1c; outline: .2mm solid rgba(255, 255, 255, .7); }
.cut.level { left: 0; right: 0; bottom: auto; border-left: 0; border-top: .35mm dashed #1c1c1c; }
.bar { margin: 3mm 0 0; font-size: 3.5mm; }
.bar span { display: inline-block; height: 3mm; margin-right: 2mm; vertical-align: -.4mm; border: .3mm solid #1c1c1c;
  background: linear-gradient(90deg, #1c1c1c 50%, #fff 50%); }
@media print {
  @page { margin: 12mm; }
  body { margin: 0; }
  header { display: none; }
  section { margin: 0; break-after: page; break-inside: avoid; overflow: visible; }
  section:last-of-type { break-after: auto; }
  * { print-color-adjust: exact; -webkit-print-color-adjust: exact; }
}
`.trim();
