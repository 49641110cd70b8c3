import { formatLength } from '../../base/length.js';
import type { BandModel } from '../../model/band-model.js';
import { checkBandModel } from '../../model/check-band-model.js';
import { missesByShare, type Wish } from './plan.js';

/** How bands and colours are called to a person. */
export interface Names {
  readonly band: (id: string) => string;
  readonly colour: (id: string) => string;
}

const AS_THEY_ARE: Names = { band: (id) => id, colour: (id) => id };

/** "b3 (ochre)" for a band, "ochre" for a colour. */
export function namesIn(model: BandModel | null): Names {
  if (model !== null) checkBandModel(model);
  const colour = (id: string): string => model?.colours.find((one) => one.id === id)?.name ?? id;
  return {
    colour,
    band: (id) => {
      const found = model?.bands.find((one) => one.id === id);
      return found === undefined ? id : `${id} (${colour(found.colour)})`;
    },
  };
}

/** What a wish asks for, in words that follow "while" or stand alone: "the middle of b3 lands on shoulder-tip of front". */
export function wishWords(wish: Wish, names: Names = AS_THEY_ARE): string {
  switch (wish.kind) {
    case 'lands':
      return `the ${wish.side} of ${names.band(wish.band)} lands on ${wish.point} of ${wish.copy}`;
    case 'stays': {
      const least = wish.leastMm > 0 ? `no nearer than ${formatLength(wish.leastMm, 'mm')}` : '';
      const most = wish.mostMm === null ? '' : `no farther than ${formatLength(wish.mostMm, 'mm')}`;
      const limits = [least, most].filter((one) => one !== '').join(' and ');
      return `${names.band(wish.band)} shows ${limits === '' ? 'anywhere' : limits} from ${wish.from} along ${wish.seam} of ${wish.copy}`;
    }
    case 'meets':
      return `the colours meet along ${wish.join}`;
    case 'agrees':
      return `the ${wish.by}s agree ${Math.round(100 * wish.at)} % of the way along ${wish.join}`;
    case 'shows':
      return `${wish.copy} shows ${wish.want === 'most' ? 'as much' : 'as little'} of ${names.colour(wish.colour)} as can be`;
    case 'clear':
      return `motifs keep ${formatLength(wish.marginMm, 'mm')} from ${wish.seam} of ${wish.copy}`;
    case 'alike':
      return `${wish.copies.join(' and ')} look alike`;
  }
}

/** A miss with its unit: "14.0 mm", or "12 % of the area". */
export const missWords = (wish: Wish, miss: number): string =>
  missesByShare(wish.kind) ? `${Math.round(1000 * miss) / 10} % of the area` : formatLength(miss, 'mm');

/** The nearest that can be had of a wish while others hold, as a whole clause. */
export function nearestWords(wish: Wish, miss: number, names: Names = AS_THEY_ARE): string {
  if (wish.kind === 'lands')
    return `the ${wish.side} of ${names.band(wish.band)} can come no nearer than ${formatLength(miss, 'mm')} to ${wish.point} of ${wish.copy}`;
  return `"${wishWords(wish, names)}" is out by at least ${missWords(wish, miss)}`;
}
