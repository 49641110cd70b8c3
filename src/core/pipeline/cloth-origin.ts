import type { OriginFacts, Point, ScaleFacts } from '../model/band-model.js';
import { originWords } from '../report/origin-words.js';
import type { ViewOfCloth } from './view-of-cloth.js';

/**
 * A place on the cloth that a person can find again, and where it lies: the end of the ruler, a corner of the sheet or card, a given
 * point; of a scan, or where none of those is in view, the photo's own corner. Of several the one nearest 0 along the stripes, from
 * which there is least to measure.
 */
export function originOf(scale: ScaleFacts, view: ViewOfCloth): OriginFacts {
  const { widthPx, heightPx } = view;
  const isInView = ([x, y]: Point): boolean => x >= 0 && y >= 0 && x <= widthPx && y <= heightPx;
  const given =
    (scale.source === 'ruler' || scale.source === 'points' ? scale.ends_px : scale.corners_px) ?? [];
  const seen = given.filter(isInView);
  const corners: readonly Point[] = [
    [0, 0],
    [widthPx, 0],
    [0, heightPx],
    [widthPx, heightPx],
  ];
  const awayFrom0 = (place: Point): number => Math.abs(view.clothFromPhoto(place)[1]);
  const at = [...(seen.length > 0 ? seen : corners)].sort((p, q) => awayFrom0(p) - awayFrom0(q))[0];
  const [u, v] = view.clothFromPhoto(at);
  const facts = {
    landmark: seen.length > 0 ? LANDMARKS[scale.source] : ('view-corner' as const),
    at_px: at,
    place: placeInPhoto(at, widthPx, heightPx),
    u_mm: u,
    v_mm: v,
    towards: wayFrom(at, view.photoFromCloth(u, 0)),
  };
  return { ...facts, words: originWords(facts, 'mm') };
}

const LANDMARKS: Readonly<Record<ScaleFacts['source'], OriginFacts['landmark']>> = {
  ruler: 'ruler-end',
  sheet: 'sheet-corner',
  card: 'card-corner',
  points: 'given-point',
  density: 'view-corner',
};

/** In which ninth of the photo. */
function placeInPhoto([x, y]: Point, width: number, height: number): OriginFacts['place'] {
  const row = y < height / 3 ? 'upper' : y > (2 * height) / 3 ? 'lower' : 'middle';
  const column = x < width / 3 ? 'left' : x > (2 * width) / 3 ? 'right' : 'middle';
  if (row === 'middle') return column === 'middle' ? 'middle' : column;
  return column === 'middle' ? row : `${row} ${column}`;
}

/** The nearest of the photo's four ways. */
function wayFrom([fromX, fromY]: Point, [toX, toY]: Point): OriginFacts['towards'] {
  const [dx, dy] = [toX - fromX, toY - fromY];
  if (Math.abs(dx) > Math.abs(dy)) return dx > 0 ? 'right' : 'left';
  return dy > 0 ? 'down' : 'up';
}
