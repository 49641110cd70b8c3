import { describe, expect, it } from 'vitest';
import { batchCsv } from '../../../src/core/report/batch-csv.js';
import { type BatchEntry, entryFacts } from '../../../src/core/report/batch-entry.js';
import { contactSheet } from '../../../src/core/report/contact-sheet.js';
import { readCsv } from '../../support/read-csv.js';
import { tickingModel } from '../../support/ticking-measurement.js';

const measured: BatchEntry = {
  photo: 'tunics/ticking.jpg',
  folder: 'ticking #1',
  sha256: 'ab'.repeat(32),
  outcome: 'measured',
  failure: null,
  thumbnail: { uri: 'data:image/jpeg;base64,AAAA', widthPx: 320, heightPx: 240 },
  facts: entryFacts(
    tickingModel({ warnings: [{ code: 'tilt', message: 'The camera was tilted by 12 <degrees>.' }] }),
  ),
};
const failed: BatchEntry = {
  photo: '=cmd|"x",\n.jpg',
  folder: null,
  sha256: null,
  outcome: 'failed',
  failure: { reason: 'no-scale', message: 'No ruler found: lay one flat & "take" it again' },
  thumbnail: null,
  facts: null,
};

describe('the index of many photos as CSV', () => {
  const [heading, ...rows] = readCsv(batchCsv([measured, failed]));
  const column = (name: string) => rows.map((row) => row[heading.indexOf(name)]);

  it('has one row a photo, each of the same length', () => {
    expect(rows.map((row) => row.length)).toEqual([heading.length, heading.length]);
    expect(column('outcome')).toEqual(['measured', 'failed']);
    expect(column('folder')).toEqual(['ticking #1', '']);
  });

  it('gives the figures of the model, and none for a failed photo', () => {
    expect(column('repeat_mm')).toEqual(['30', '']);
    expect(column('repeat_sd_mm')).toEqual(['0.02', '']);
    expect(column('bands')).toEqual(['4', '']);
    expect(column('px_per_mm')).toEqual(['8', '']);
    expect(column('warnings')).toEqual(['tilt', '']);
    expect(column('sha256')).toEqual(['ab'.repeat(32), '']);
  });

  it('names the reason, and keeps a name from being run as a formula', () => {
    expect(column('reason')).toEqual(['', 'no-scale']);
    expect(column('message')[1]).toBe('No ruler found: lay one flat & "take" it again');
    expect(column('photo')).toEqual(['tunics/ticking.jpg', '\'=cmd|"x",\n.jpg']);
  });
});

describe('the contact sheet', () => {
  const page = contactSheet([measured, failed], 'cm');

  it('shows picture, repeat, bands and warnings of a measured photo, and links to its report', () => {
    expect(page).toContain('<img src="data:image/jpeg;base64,AAAA" width="320" height="240"');
    expect(page).toContain('3.00 cm');
    expect(page).toContain('4 bands');
    expect(page).toContain('The camera was tilted by 12 &lt;degrees&gt;.');
    expect(page).toContain('href="./ticking%20%231/report.html"');
    for (const { srgb } of measured.facts!.bands) expect(page).toContain(`fill="${srgb}"`);
  });

  it('shows what failed first, with the reason and no link', () => {
    expect(page).toContain('1 measured, 1 of them with warnings, 1 failed');
    const [before, after] = page.split('class="measured"');
    expect(before).toContain('No ruler found: lay one flat &amp; &quot;take&quot; it again');
    expect(before).toContain('=cmd|&quot;x&quot;');
    expect(before).not.toContain('href');
    expect(after).not.toContain('class="failed"');
  });

  it('fetches nothing', () => {
    for (const [, address] of page.matchAll(/(?:src|href)="([^"]*)"/g)) {
      expect(address).toMatch(/^(data:|\.\/)/);
    }
    expect(page).not.toMatch(/url\(|@import|<script/);
  });
});
