import { createHash } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { type Stage, UsageError } from '../../src/index.js';
import { measurePhoto } from '../../src/node/measure-photo.js';

const PHOTO = fileURLToPath(new URL('../../samples/painted/balanced-dual-rule.jpg', import.meta.url));

describe('measurePhoto', { timeout: 30_000 }, () => {
  it('measures a file, tells its stages in order and where the model came from', async () => {
    const stages: Stage[] = [];
    const outcome = await measurePhoto(PHOTO, undefined, { onStage: (stage) => stages.push(stage) });
    if (!outcome.ok) throw new Error(outcome.refusal.found);
    const { model, photo, stageMs } = outcome.value;
    expect(stages[0]).toBe('reading');
    expect(stages[1]).toBe('reference');
    expect(stages.slice(1)).toEqual(stageMs.map((one) => one.stage));
    expect(stageMs.every((one) => one.ms > 0)).toBe(true);
    expect(model.photo).toEqual({
      file: 'balanced-dual-rule.jpg',
      width_px: photo.widthPx,
      height_px: photo.heightPx,
      sha256: createHash('sha256')
        .update(await readFile(PHOTO))
        .digest('hex'),
    });
  });

  it('throws for points that lie outside the photo, before any measuring', async () => {
    const stages: Stage[] = [];
    const onStage = (stage: Stage) => stages.push(stage);
    const points = { kind: 'points', from: [10, 10], to: [5000, 10], lengthMm: 100 } as const;
    await expect(measurePhoto(PHOTO, points, { onStage })).rejects.toThrow(UsageError);
    const corners = [
      [10, 10],
      [900, 10],
      [900, 9000],
      [10, 900],
    ] as const;
    const sheet = { kind: 'sheet', size: 'a4', corners } as const;
    await expect(measurePhoto(PHOTO, sheet, { onStage })).rejects.toThrow(
      /corners\[\d\]: the point 900,9000 lies outside/,
    );
    expect(new Set(stages)).toEqual(new Set(['reading']));
  });

  it('hands on the refusal of a file that cannot be read', async () => {
    const outcome = await measurePhoto('no-such-photo.jpg');
    expect(outcome).toMatchObject({ ok: false, refusal: { reason: 'unreadable' } });
  });
});
