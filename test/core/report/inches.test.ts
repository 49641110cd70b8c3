import { expect, it } from 'vitest';
import { chevronForReport } from '../../../src/core/pipeline/chevron-for-report.js';
import { DEFAULT_CHEVRON, previewSeams } from '../../../src/core/pipeline/preview-seam.js';
import { chevronTable } from '../../../src/core/report/chevron-table.js';
import { measureReport } from '../../../src/core/report/measure-report.js';
import { measureSummary } from '../../../src/core/report/measure-summary.js';
import { tickingModel } from '../../support/ticking-measurement.js';

const model = tickingModel();

function tableOf(angles: (typeof DEFAULT_CHEVRON)['angles']): string {
  const preview = previewSeams(model, { ...DEFAULT_CHEVRON, angles });
  if (!preview.ok) throw new Error(preview.refusal.found);
  return chevronTable(preview.value, 'inch');
}

/** Whoever asked for inches reads inches everywhere: no number of mm but the photo's pixels to one. */
it.each([
  ['the summary', () => measureSummary(model, 'inch')],
  [
    'the report',
    () =>
      measureReport(model, {
        unit: 'inch',
        overlay: { uri: 'data:,', widthPx: 10, heightPx: 10 },
        chevron: chevronForReport(model, 'inch'),
      }).replace(/<style>.*?<\/style>|<[^>]*>/gs, ' '),
  ],
  ['the table of seams', () => tableOf(DEFAULT_CHEVRON.angles)],
  ['the table of sides that part', () => tableOf([[45, 38]])],
])('%s has no length in mm where inches were asked for', (_, text) => {
  expect(text()).toMatch(/\d in\b/);
  expect(text()).not.toMatch(/\d ?mm\b|\d cm\b/);
  // "0.545 in in a repeat" is a riddle.
  expect(text()).not.toMatch(/\bin\s+in\b/);
});
