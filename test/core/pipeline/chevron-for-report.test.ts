import { describe, expect, it } from 'vitest';
import { chevronForReport } from '../../../src/core/pipeline/chevron-for-report.js';
import { DEFAULT_CHEVRON, previewSeams } from '../../../src/core/pipeline/preview-seam.js';
import { chevronSection } from '../../../src/core/report/chevron-section.js';
import { tickingModel } from '../../support/seam/models.js';

describe('the chevrons of a report', () => {
  it('are those of a whole preview for the widest band, at the default angles', () => {
    const model = tickingModel();
    const widest = [...model.bands].sort((p, q) => q.width_mm - p.width_mm)[0].id;
    const preview = previewSeams(model, { ...DEFAULT_CHEVRON, centres: [widest], anyway: true });
    if (!preview.ok) throw new Error(preview.refusal.found);
    expect(chevronForReport(model, 'mm')).toBe(chevronSection(preview.value, 'mm'));
  });
});
