import { type Lab, rgb8FromLab } from '../colour/lab.js';
import { plainName } from '../colour/plain-name.js';
import { hexFromRgb8 } from '../colour/srgb.js';
import type { BandMix } from './band-mix.js';

/** Colours by falling share, called A, B, C ...; `weights`: each band's width and what shows on it, by index into the colours. */
export function colourFacts(
  all: readonly Lab[],
  weights: readonly { readonly widthMm: number; readonly mix: BandMix['mixes'][number] }[],
) {
  const area = all.map((_, c) =>
    weights.reduce(
      (s, w) => s + w.widthMm * w.mix.filter((m) => m.colour === c).reduce((t, m) => t + m.share, 0),
      0,
    ),
  );
  const total = area.reduce((s, v) => s + v, 0);
  const used = all.map((_, c) => c).filter((c) => area[c] > 0);
  used.sort((p, q) => area[q] - area[p]);
  const letters = new Map(used.map((c, i) => [c, letterOf(i)]));
  return {
    idOf: (c: number): string => letters.get(c) ?? 'A',
    isUsed: (c: number): boolean => letters.has(c),
    facts: used.map((c) => ({
      id: letters.get(c) as string,
      srgb: hexFromRgb8(rgb8FromLab(all[c])),
      lab: all[c],
      name: plainName(all[c]),
      share: area[c] / total,
    })),
  };
}

/** A .. Z, then AA, AB ... */
const letterOf = (i: number): string =>
  i < 26 ? String.fromCharCode(65 + i) : letterOf(Math.floor(i / 26) - 1) + letterOf(i % 26);
