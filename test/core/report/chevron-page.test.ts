import { describe, expect, it } from 'vitest';
import { numberedRepeats } from '../../../src/core/model/numbered-repeats.js';
import { cutPlans } from '../../../src/core/pipeline/cut-plans.js';
import { DEFAULT_CHEVRON, previewSeams } from '../../../src/core/pipeline/preview-seam.js';
import { chevronPage } from '../../../src/core/report/chevron-page.js';
import { checkNesting } from '../../support/check-nesting.js';
import { tickingMeasurement, tickingModel } from '../../support/ticking-measurement.js';

function pageOf(angles: readonly (readonly [number, number])[], centres: readonly string[] | null) {
  const model = tickingModel();
  const preview = previewSeams(model, { ...DEFAULT_CHEVRON, seamMm: 60, angles, centres });
  if (!preview.ok) throw new Error(preview.refusal.found);
  const ground = {
    texture: tickingMeasurement().cloth(),
    repeats: numberedRepeats(model),
    originWords: 'Count from <here>.',
  };
  const plans = cutPlans(preview.value, ground, 'mm');
  const cloth = { uri: 'data:image/webp;base64,AAAA', plans };
  const html = chevronPage(preview.value, {
    title: 'A & B',
    unit: 'mm',
    pictures: null,
    cloth,
    source: null,
  });
  return { html, plans, preview: preview.value };
}

describe('chevronPage', () => {
  it('is one well-formed page that fetches nothing and holds the cloth once', () => {
    const { html } = pageOf(DEFAULT_CHEVRON.angles, null);
    checkNesting(html);
    expect(html).not.toMatch(/<(script|link|iframe)|@import|url\(/);
    for (const [, address] of html.matchAll(/(?:src|href)="([^"]*)"/g)) expect(address).toMatch(/^(data:|#)/);
    expect(html.match(/data:image/g)).toHaveLength(1);
    expect(html).toContain('A &amp; B');
    expect(html).toContain('Count from &lt;here&gt;.');
    expect(html).not.toMatch(/NaN|undefined|null/);
  });

  it('has a card for every seam, with words for its pictures, and shows where to cut when asked', () => {
    const { html, preview } = pageOf(DEFAULT_CHEVRON.angles, null);
    expect(html.match(/<h3>/g)).toHaveLength(preview.rows.flat().length);
    expect(html.match(/<details>/g)).toHaveLength(preview.rows.flat().length);
    for (const [tag] of html.matchAll(/<svg [^>]*>/g)) expect(tag).toMatch(/aria-label="[^"]+"|aria-hidden/);
    expect(pageOf([[45, 45]], ['b3']).html).toMatch(/<details open>/);
  });
});

describe('cutPlans', () => {
  it('puts each ring in the middle of the band named, in the repeat named', () => {
    const { plans, preview } = pageOf(DEFAULT_CHEVRON.angles, null);
    preview.rows.forEach((row, i) => {
      row.forEach(({ match, best }, k) => {
        const plan = plans[i][k]!;
        const [half, half2] = [plan.left, plan.right];
        for (const [{ ring }, place, words] of [
          [half, best!.left, plan.words[0]],
          [half2, best!.right, plan.words[1]],
        ] as const) {
          expect(words).toContain(`in repeat ${place.repeat},`);
          const band = tickingModel().instances.find(
            (one) => one.start_mm <= ring[0] && ring[0] < one.end_mm && one.repeat === place.repeat,
          );
          // A place beyond what was seen has no instance.
          if (band) expect(ring[0]).toBeCloseTo((band.start_mm + band.end_mm) / 2, 6);
          const [above, below] = [ring[1] > 0, ring[1] < 0];
          if (Math.abs(ring[1]) > 0.05) expect(words).toContain(above && !below ? 'above 0' : 'below 0');
        }
        expect(match.request.centre).toBe(k);
      });
    });
  });
});
