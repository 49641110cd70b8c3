import { describe, expect, it } from 'vitest';
import { paintedScenes } from '../../scripts/benchmark/painted-scenes.js';
import type { Row } from '../../scripts/benchmark/table.js';
import { withFigures } from '../../scripts/figures/marked-text.js';
import { paintedFigures } from '../../scripts/figures/painted-figures.js';
import { accuracyText } from '../../scripts/figures/readme-figures.js';

const OF = { tree: 'abc', date: '2026-01-02', cores: 2 };

/** A row of the benchmark with what figures are made of. */
const row = (name: string, tilt: number, exit: number, errors: readonly number[] | null): Row =>
  ({
    truth: { name, tilt_deg: tilt, expected_outcome: errors === null ? 'no-scale' : 'measure' },
    run: { exitCode: exit, seconds: tilt, model: { repeat: { repeats_seen: 3.5 } } },
    comparison:
      errors === null || exit !== 0
        ? null
        : {
            repeatPercent: errors[0],
            worstBandMm: errors[1],
            sharePoints: errors[2],
            bandsFound: 4,
            bandsTrue: errors[3] ?? 4,
          },
  }) as unknown as Row;

describe('figures of painted scenes', () => {
  const rows = [
    row('a', 1, 0, [0.1, 0.01, 0.2]),
    row('b', 2, 0, [-0.3, 0.05, 0.1]),
    row('c', 7, 0, [0.2, 0.02, 0.6, 5]),
    row('tilted', 9, 0, [5, 5, 5]),
    row('lost', 3, 4, [0, 0, 0]),
    row('blank', 4, 4, null),
    row('taken', 5, 0, null),
  ];

  it('count outcomes over all, and errors over those tilted little', () => {
    expect(paintedFigures(rows, OF)).toEqual({
      ...{ tree: 'abc', date: '2026-01-02' },
      ...{
        measurable: 5,
        measured: 4,
        bands_right: 3,
        refusable: 2,
        refused: 1,
        tilt_under_deg: 8,
        scenes: 3,
      },
      repeat_percent: { median: 0.2, worst: 0.3, worst_scene: 'b' },
      width_mm: { median: 0.02, worst: 0.05, worst_scene: 'b', worst_repeats_seen: 3.5 },
      share_points: { median: 0.2, worst: 0.6, worst_scene: 'c' },
      seconds: { median: 4, longest: 9, cores: 2 },
    });
    expect(paintedFigures([], OF)).toBeNull();
  });

  it('are told in words that follow what happened', () => {
    const scenes = paintedScenes();
    const measurable = scenes.filter((scene) => scene.expectedOutcome === 'measure').length;
    const refusable = scenes.length - measurable;
    const figures = paintedFigures(rows, OF);
    if (figures === null) throw new Error('no figures');
    const all = { ...figures, measurable, measured: measurable, bands_right: measurable };
    const whole = { ...all, refusable, refused: refusable };
    expect(accuracyText(scenes, whole)).toContain(
      `All ${measurable} such photos were measured, with the right number of bands; all ${refusable} that cannot be were refused.`,
    );
    expect(accuracyText(scenes, { ...whole, measured: measurable - 1, refused: 1 })).toContain(
      `${measurable - 1} of ${measurable} such photos were measured, ${measurable} of them with`,
    );
    // A scene that was added since the run counts as none of the run's.
    expect(
      accuracyText(scenes, { ...whole, measurable: measurable - 1, measured: measurable - 1 }),
    ).toContain(
      `When they were last run, all ${measurable - 1} that can be measured were, ${measurable} of them`,
    );
    expect(accuracyText(scenes, whole)).toContain('| repeat | 0.20 % | 0.30 % |');
  });

  it('go between the marks of their name, and nowhere else', () => {
    const mark = '<!-- figures: one (written by scripts/refresh-readme) -->';
    const text = `before\n${mark}\nold\n<!-- end of figures -->\nafter`;
    const once = withFigures(text, { one: 'new' });
    expect(once).toBe(text.replace('old', 'new'));
    expect(withFigures(once, { one: 'new' })).toBe(once);
    expect(() => withFigures(text, { two: 'new' })).toThrow('figures: two');
  });
});
