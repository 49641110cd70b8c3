import { ciede2000 } from '../colour/ciede2000.js';
import { labFromLinear, linearFromLab, rgb8FromLab } from '../colour/lab.js';
import { plainName } from '../colour/plain-name.js';
import { hexFromRgb8 } from '../colour/srgb.js';
import type { ColourFacts } from '../model/band-model.js';
import type { StripeSummary } from '../stripes/stripe-summary.js';
import { SAME_YARN, yarnColours } from '../stripes/yarn-colours.js';

type Direction = Pick<StripeSummary, 'bands' | 'colours'>;
type Bands = StripeSummary['bands'];

export interface CheckColours {
  /** Yarns; each direction makes half of the cloth. */
  readonly colours: readonly ColourFacts[];
  readonly acrossBands: Bands;
  readonly alongBands: Bands;
}

/** Both directions' bands in the colours of their yarns: what a band shows along its length is mixed with the other direction. */
export function checkColours(across: Direction, along: Direction): CheckColours {
  const yarns = yarnColours(across.bands.map(mixedOf(across)), along.bands.map(mixedOf(along)));
  const found: { lab: ColourFacts['lab']; share: number }[] = [];
  const named = (bands: Bands, linear: (typeof yarns)['across']): Bands => {
    const total = bands.reduce((sum, band) => sum + band.width_mm, 0);
    return bands.map((band, i) => {
      const lab = labFromLinear([...linear[i]]);
      let at = found.findIndex((one) => ciede2000(one.lab, lab) < SAME_YARN);
      if (at < 0) at = found.push({ lab, share: 0 }) - 1;
      found[at].share += band.width_mm / total / 2;
      const colour = idOf(at);
      return { ...band, colour, mix: [{ colour, share: 1 }] };
    });
  };
  const acrossBands = named(across.bands, yarns.across);
  const alongBands = named(along.bands, yarns.along);
  const colours = found.map(
    ({ lab, share }, i): ColourFacts => ({
      id: idOf(i),
      srgb: hexFromRgb8(rgb8FromLab(lab)),
      lab,
      name: plainName(lab),
      share,
    }),
  );
  return { colours, acrossBands, alongBands };
}

const mixedOf =
  ({ colours }: Direction) =>
  (band: Bands[number]) => {
    const colour = colours.find((one) => one.id === band.colour) ?? colours[0];
    return { linear: linearFromLab(colour.lab), widthMm: band.width_mm };
  };

const idOf = (i: number): string => (i < 26 ? String.fromCharCode(65 + i) : `A${idOf(i - 26)}`);
