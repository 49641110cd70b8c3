/** Style of report.html. System fonts only; prints on A4 and letter without cutting a table or a picture in two. */
export const REPORT_STYLE = `
:root { color-scheme: light; }
* { box-sizing: border-box; }
body { font: 16px/1.5 system-ui, -apple-system, "Segoe UI", Roboto, Arial, sans-serif; color: #1c1c1c; background: #fff;
  max-width: 60rem; margin: 0 auto; padding: 1.5rem 1rem 3rem; }
h1 { font-size: 1.6rem; line-height: 1.25; margin: 0 0 .25rem; overflow-wrap: anywhere; }
h2 { font-size: 1.2rem; margin: 2rem 0 .5rem; border-bottom: 2px solid #1c1c1c; padding-bottom: .15rem; }
p { margin: .4rem 0; max-width: 46rem; }
figure { margin: 1rem 0; }
figure img, figure svg { display: block; max-width: 100%; height: auto; border: 1px solid #8a8a8a; }
figcaption { font-size: .9rem; color: #444; margin-top: .3rem; }
dl.facts { display: grid; grid-template-columns: repeat(auto-fit, minmax(13rem, 1fr)); gap: .6rem 1.2rem; margin: 1rem 0; }
dl.facts div { border-left: 4px solid #1c1c1c; padding-left: .7rem; }
dt { font-size: .85rem; color: #444; }
dd { margin: 0; font-size: 1.15rem; font-weight: 600; }
dd small { display: block; font-size: .85rem; font-weight: 400; color: #444; }
table { border-collapse: collapse; width: 100%; font-variant-numeric: tabular-nums; }
caption { text-align: left; font-size: .9rem; color: #444; padding-bottom: .3rem; }
th, td { padding: .3rem .6rem; border-bottom: 1px solid #c4c4c4; text-align: right; vertical-align: baseline; }
thead th { border-bottom: 2px solid #1c1c1c; vertical-align: bottom; }
th:first-child, .text { text-align: left; }
td.text { min-width: 14rem; }
td:not(.text) { white-space: nowrap; }
table.narrow { width: auto; }
table.narrow caption { white-space: nowrap; }
.chip { width: 1.05em; height: 1.05em; vertical-align: -.15em; margin-right: .45em; }
.warnings { border: 2px solid #1c1c1c; padding: .4rem 1rem; }
li { margin: .25rem 0; max-width: 46rem; }
.small { font-size: .85rem; color: #444; overflow-wrap: anywhere; }
.seams { display: grid; grid-template-columns: repeat(auto-fill, minmax(9.5rem, 1fr)); gap: 1rem; align-items: end; }
.seams figure { margin: 0; }
.seams figure:first-child { grid-column: span 2; }
.seams svg { width: 100%; }
@media screen and (max-width: 34rem) {
  table.cards, .cards caption, .cards tbody, .cards th[scope=row] { display: block; }
  .cards thead { position: absolute; clip-path: inset(50%); height: 1px; width: 1px; overflow: hidden; }
  .cards tr { display: grid; grid-template-columns: 1fr 1fr; column-gap: 1.2rem; padding: .4rem 0; border-bottom: 1px solid #8a8a8a; }
  .cards th, .cards td { padding: .1rem 0; border-bottom: 0; min-width: 0; }
  .cards td { display: flex; justify-content: space-between; gap: .4rem; font-size: .95rem; }
  .cards td.text { display: block; }
  .cards td[data-heading]::before { content: attr(data-heading); color: #444; font-size: .85rem; white-space: normal; text-align: left; }
}
@media print {
  @page { margin: 12mm; }
  body { font-size: 9.5pt; line-height: 1.35; max-width: none; padding: 0; }
  main { padding-right: 1px; }
  h1 { font-size: 15pt; }
  h2 { break-after: avoid; margin-top: 1rem; font-size: 12pt; }
  p, li { orphans: 3; widows: 3; }
  dl.facts { grid-template-columns: repeat(4, 1fr); margin: .5rem 0; }
  table, figure, .warnings, dl.facts, tr, li, .seams { break-inside: avoid; }
  table.long { break-inside: auto; }
  thead { display: table-header-group; }
  th, td { padding: .15rem .5rem; }
  figure { margin: .5rem 0; }
  figure.photo img { max-height: 112mm; width: auto; margin: 0 auto; }
  .seams { grid-template-columns: repeat(5, 1fr); gap: 4mm; }
  .chevron { break-inside: avoid; }
  td.text { min-width: 8rem; }
  * { print-color-adjust: exact; -webkit-print-color-adjust: exact; }
}
`.trim();
