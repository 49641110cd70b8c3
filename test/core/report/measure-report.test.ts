import { describe, expect, it } from 'vitest';
import { measureReport } from '../../../src/core/report/measure-report.js';
import { checkNesting } from '../../support/check-nesting.js';
import { tickingModel } from '../../support/ticking-measurement.js';

const parts = {
  unit: 'mm' as const,
  overlay: { uri: 'data:image/jpeg;base64,AAAA', widthPx: 1400, heightPx: 1000 },
  chevron: '<section id="seams"></section>',
};

describe('measureReport', () => {
  it('is one well-formed page that fetches nothing', () => {
    const html = measureReport(tickingModel(), parts);
    checkNesting(html);
    expect(html).toMatch(/^<!DOCTYPE html>/);
    expect(html).not.toMatch(/<(script|link|iframe)|@import|url\(/);
    for (const [, address] of html.matchAll(/(?:src|href)="([^"]*)"/g)) expect(address).toMatch(/^data:/);
    expect(html).toContain(parts.chevron);
  });

  it('gives every picture words and every table its headings', () => {
    const html = measureReport(tickingModel(), parts);
    for (const [tag] of html.matchAll(/<img [^>]*>/g)) expect(tag).toMatch(/alt="[^"]{20,}"/);
    for (const [tag] of html.matchAll(/<svg [^>]*>/g)) expect(tag).toMatch(/aria-label="[^"]+"|aria-hidden/);
    for (const [table] of html.matchAll(/<table.*?<\/table>/gs)) {
      expect(table).toMatch(/<th scope="col"/);
      expect(table).toMatch(/<th scope="row"/);
    }
  });

  it('shows widths, spread and repeat in the unit asked for', () => {
    expect(measureReport(tickingModel(), parts)).toMatch(
      /30\.0 mm.*"Width, mm">12\.0<\/td><td data-heading="Give or take, mm">0\.21<\/td><td data-heading="Least, mm">11\.7<\/td><td data-heading="Greatest, mm">12\.3<\/td>/s,
    );
    const inches = measureReport(tickingModel(), { ...parts, unit: 'inch' });
    expect(inches).toMatch(
      /1 3\/16 in \(1\.181\).*"Width, in">1\/2 \(0\.472\)<\/td><td data-heading="Give or take, in">0\.008<\/td><td data-heading="Least, in">0\.461<\/td>/s,
    );
  });

  it('holds the warnings and no markup that a name could smuggle in', () => {
    const model = tickingModel({ warnings: [{ code: 'few', message: 'Only <two> repeats & a bit.' }] });
    const html = measureReport(
      { ...model, photo: { ...model.photo!, file: '"><script>alert(1)</script>.jpg' } },
      parts,
    );
    checkNesting(html);
    expect(html).toContain('Only &lt;two&gt; repeats &amp; a bit.');
    expect(html).not.toContain('<script>');
  });

  it('is whole without a repeat, a scale or a photo', () => {
    const model = tickingModel();
    const bare = {
      ...model,
      photo: null,
      scale: null,
      plane: null,
      repeat: { ...model.repeat, across_mm: null, across_sd_mm: null, alternatives: [] },
    };
    const html = measureReport(bare, { ...parts, chevron: '' });
    checkNesting(html);
    expect(html).toContain('No repeat was found');
    expect(html).not.toMatch(/NaN|undefined|null/);
  });
});
