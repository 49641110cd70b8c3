/** Style of the index page. System fonts only; on paper three cards a row, none cut in two, colours as they are. */
export const CONTACT_SHEET_STYLE = `
:root { color-scheme: light; }
* { box-sizing: border-box; }
body { font: 16px/1.4 system-ui, -apple-system, "Segoe UI", Roboto, Arial, sans-serif; color: #1c1c1c; background: #fff;
  max-width: 90rem; margin: 0 auto; padding: 1.5rem 1rem 3rem; }
h1 { font-size: 1.6rem; line-height: 1.25; margin: 0 0 .25rem; }
h2 { font-size: 1.2rem; margin: 2rem 0 .75rem; border-bottom: 2px solid #1c1c1c; padding-bottom: .15rem; }
h3 { font-size: 1rem; font-weight: 600; margin: .5rem 0 0; overflow-wrap: anywhere; }
p { margin: .15rem 0; }
a { color: inherit; }
.cards { list-style: none; margin: 1rem 0 0; padding: 0; display: grid; gap: 1rem;
  grid-template-columns: repeat(auto-fill, minmax(13rem, 1fr)); }
.cards > li { border: 1px solid #8a8a8a; padding: .6rem; min-width: 0; }
.cards > li.failed { border: 2px solid #a83c00; }
.photo, .none { height: 10rem; background: #f1f1f1; display: flex; align-items: center; justify-content: center; }
.none { color: #444; font-size: .85rem; }
.photo img { max-width: 100%; max-height: 100%; width: auto; height: auto; display: block; }
.cards svg { display: block; width: 100%; height: auto; margin-top: .4rem; border: 1px solid #8a8a8a; }
.repeat { font-size: 1.15rem; font-weight: 600; font-variant-numeric: tabular-nums; }
.repeat small { white-space: nowrap; font-size: .85rem; font-weight: 400; color: #444; }
.place, .own { font-size: .85rem; color: #444; overflow-wrap: anywhere; }
.why { color: #8a3200; overflow-wrap: anywhere; }
.warnings { margin: .4rem 0 0; padding: .3rem 0 0 1.1rem; border-top: 1px solid #c4c4c4; font-size: .85rem; }
@media (max-width: 30rem) {
  .photo { height: auto; }
  .photo img { width: 100%; max-height: none; }
}
@media print {
  main { padding-right: 1px; }
  @page { margin: 12mm; }
  body { font-size: 9pt; max-width: none; padding: 0; }
  h1 { font-size: 14pt; }
  h2 { break-after: avoid; margin-top: 1rem; }
  .cards { grid-template-columns: repeat(3, 1fr); gap: 4mm; }
  .cards > li { break-inside: avoid; padding: 2mm; }
  .photo, .none { height: 44mm; }
  * { print-color-adjust: exact; -webkit-print-color-adjust: exact; }
}
`.trim();
