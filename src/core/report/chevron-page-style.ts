/** Style of chevron.html. System fonts only; one card a row on a phone, three on A4 and letter. */
export const CHEVRON_PAGE_STYLE = `
:root { color-scheme: light; }
* { box-sizing: border-box; }
body { font: 16px/1.45 system-ui, -apple-system, "Segoe UI", Roboto, Arial, sans-serif; color: #1c1c1c; background: #fff;
  max-width: 76rem; margin: 0 auto; padding: 1.2rem 1rem 3rem; }
h1 { font-size: 1.5rem; line-height: 1.25; margin: 0 0 .4rem; overflow-wrap: anywhere; }
h2 { font-size: 1.4rem; margin: 1.8rem 0 .4rem; border-bottom: 2px solid #1c1c1c; padding-bottom: .15rem; }
h3 { font-size: 1.05rem; margin: 0 0 .4rem; overflow-wrap: anywhere; }
p { margin: .4rem 0; max-width: 46rem; }
figure { margin: 1rem 0; max-width: 34rem; }
figcaption { font-size: .9rem; color: #444; }
svg, img { display: block; width: 100%; height: auto; }
svg.shared { position: absolute; width: 0; height: 0; }
.cards { list-style: none; margin: .8rem 0 0; padding: 0; display: grid; gap: 1rem; align-items: start;
  grid-template-columns: repeat(auto-fill, minmax(min(100%, 10.4rem), 1fr)); }
.cards > li { border: 1px solid #8a8a8a; padding: .6rem; min-width: 0; }
.cards > li.open, .cards > li:has(details[open]) { grid-column: 1 / -1; }
.cards > li > svg, .cards > li > img { max-width: 15rem; }
.chip { display: inline-block; width: 1em; height: 1em; border: 1px solid #1c1c1c; vertical-align: -.12em; margin-right: .45em; }
dl { margin: .5rem 0 0; }
dl div { display: flex; flex-wrap: wrap; justify-content: space-between; column-gap: 1rem; border-top: 1px solid #c4c4c4; padding: .15rem 0; max-width: 30rem; }
dt { color: #444; font-size: .9rem; }
dd { margin: 0 0 0 auto; font-weight: 600; text-align: right; font-variant-numeric: tabular-nums; }
details { margin-top: .6rem; }
details > svg { max-width: 52rem; margin-top: .5rem; }
summary { font-weight: 600; cursor: pointer; padding: .4rem 0; }
summary:focus-visible { outline: 3px solid #0a46a6; }
.small { font-size: .85rem; color: #444; overflow-wrap: anywhere; }
@media print {
  @page { margin: 12mm; }
  body { font-size: 9.5pt; max-width: none; padding: 0; }
  main { padding-right: 1px; }
  h1 { font-size: 15pt; }
  h2, h3, summary { break-after: avoid; }
  h2 { margin-top: 1rem; font-size: 13pt; }
  .cards { grid-template-columns: repeat(3, 1fr); gap: 4mm; }
  .cards > li, figure, dl div { break-inside: avoid; }
  .cards > li > svg, .cards > li > img { max-width: 46mm; margin: 0 auto; }
  figure.lay { max-width: 90mm; }
  details:not([open]) { display: none; }
  section > p { break-after: avoid; }
  .cards > li.open { break-inside: auto; }
  .cards > li.open > img, .cards > li.open > svg { max-height: 55mm; width: auto; }
  details > svg { max-height: 120mm; }
  details > svg, details > p { break-inside: avoid; }
  * { print-color-adjust: exact; -webkit-print-color-adjust: exact; }
}
`.trim();
