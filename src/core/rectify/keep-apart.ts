import { type BlockDirection, blockDirections } from './block-directions.js';
import type { PictureLevels } from './picture-levels.js';

/** Side of a place, px of the small copy: a few hundredths of the picture, well under a run of stripes that a person would call one. */
const PLACE_PX = 12;
/** Edges this near a direction are of it, radians. */
const GATE = 0.2;

export interface Meeting {
  /** In what part of the picture each direction shows, 0..1. */
  readonly spreads: readonly [number, number];
  /** How each runs where it shows, on average, radians. */
  readonly angles: readonly [number, number];
  /** How often both show in one place, over how often they would by chance. */
  readonly timesChance: number;
}

/**
 * Whether two directions of edges (radians) share their places. In a check they do as often as chance says, whatever the size of its
 * repeat, for where one runs has nothing to do with the other; the edges of one print come together, and meet more often; runs of stripes
 * that change direction from place to place keep apart.
 */
export function meetingOf({ small }: PictureLevels, one: number, other: number): Meeting {
  const blocksOf = (angle: number): BlockDirection[] =>
    blockDirections(small.field(), () => angle, GATE, PLACE_PX);
  const blocks = [blocksOf(one), blocksOf(other)];
  const [first, second] = blocks.map((own) => new Set(own.map(({ x, y }) => y * small.picture.width + x)));
  let open = 0;
  for (const mark of small.hidden) open += mark ? 0 : 1;
  const places = Math.max(1, open / (PLACE_PX * PLACE_PX));
  let both = 0;
  for (const place of first) if (second.has(place)) both++;
  const byChance = (first.size * second.size) / places;
  return {
    spreads: [first.size / places, second.size / places],
    angles: [meanDirection(blocks[0]), meanDirection(blocks[1])],
    timesChance: byChance > 0 ? both / byChance : 1,
  };
}

/** Directions are alike after half a turn: the mean is that of their doubles. */
function meanDirection(blocks: readonly BlockDirection[]): number {
  let cos = 0;
  let sin = 0;
  for (const { angle, weight } of blocks) {
    cos += weight * Math.cos(2 * angle);
    sin += weight * Math.sin(2 * angle);
  }
  return Math.atan2(sin, cos) / 2;
}
