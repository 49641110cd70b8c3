import type { SeededRandom } from '../photo-painter/seeded-random.js';
import { type PieceShape, pieceShape, type Side } from './piece-shape.js';

type Place = readonly [number, number];

/** Invented shapes of the kinds that patterns have, about the origin, counter-clockwise. `size`: longest extent, mm. */
export const SHAPES = ['half', 'sleeve', 'gore', 'collar', 'sash', 'yoke', 'facing'] as const;
export type ShapeName = (typeof SHAPES)[number];

export function drawnShape(name: ShapeName, size: number, random: SeededRandom): PieceShape {
  const r = (low: number, high: number) => size * random.between(low, high);
  switch (name) {
    case 'half': {
      // Half a tunic: hem, side, armhole, shoulder, neck, centre.
      const w = r(0.32, 0.4);
      const h = size;
      const dart = random.uniform() < 0.5;
      const [dartAt, dartWide, dartDeep] = [r(0.55, 0.6), r(0.02, 0.03), r(0.1, 0.16)];
      const side: Place = [w * random.between(0.85, 0.95), h * 0.68];
      const shoulder: Place = [w * random.between(0.72, 0.8), h * 0.93];
      const neck: Place = [w * 0.3, h];
      const centre: Place = [0, h * 0.86];
      const hem: Place = [w, 0];
      const onSide = (y: number): Place => [hem[0] + ((side[0] - hem[0]) * y) / side[1], y];
      const low = onSide(dartAt - dartWide / 2);
      const high = onSide(dartAt + dartWide / 2);
      const sides: Side[] = [
        {
          to: hem,
          by: [
            [w * 0.3, -0.0 * h],
            [w * 0.7, -0.02 * h],
          ],
        },
        ...(dart ? [{ to: low }, { to: [low[0] - dartDeep, dartAt + 0.01 * h] as Place }, { to: high }] : []),
        { to: side },
        {
          to: shoulder,
          by: [
            [side[0] - 0.2 * w, side[1] + 0.02 * h],
            [shoulder[0] - 0.12 * w, shoulder[1] - 0.1 * h],
          ],
        },
        { to: neck },
        {
          to: centre,
          by: [
            [neck[0] - 0.05 * w, neck[1] - 0.09 * h],
            [centre[0] + 0.16 * w, centre[1]],
          ],
        },
        { to: [0, 0] },
      ];
      return centred(pieceShape([0, 0], sides));
    }
    case 'sleeve': {
      const w = r(0.55, 0.7);
      const h = size;
      const cap = h * random.between(0.68, 0.75);
      const cuff = w * random.between(0.6, 0.75);
      const [l, rr]: [Place, Place] = [
        [-w / 2, cap],
        [w / 2, cap * random.between(0.96, 1)],
      ];
      return centred(
        pieceShape(
          [-cuff / 2, 0],
          [
            {
              to: [cuff / 2, 0],
              by: [
                [-cuff / 6, 0.02 * h],
                [cuff / 6, -0.02 * h],
              ],
            },
            { to: rr },
            {
              to: [0, h],
              by: [
                [rr[0] - 0.14 * w, rr[1] + 0.02 * h],
                [0.2 * w, h],
              ],
            },
            {
              to: l,
              by: [
                [-0.2 * w, h],
                [l[0] + 0.16 * w, l[1] + 0.03 * h],
              ],
            },
            { to: [-cuff / 2, 0] },
          ],
        ),
      );
    }
    case 'gore': {
      const top = r(0.1, 0.16);
      const low = r(0.3, 0.42);
      const h = size;
      const sag = r(0.01, 0.03);
      return centred(
        pieceShape(
          [-low / 2, 0],
          [
            {
              to: [low / 2, 0],
              by: [
                [-low / 6, -sag],
                [low / 6, -sag],
              ],
            },
            {
              to: [top / 2, h],
              by: [
                [low / 2 - 0.02 * h, 0.35 * h],
                [top / 2 + 0.02 * h, 0.8 * h],
              ],
            },
            { to: [-top / 2, h] },
            { to: [-low / 2, 0] },
          ],
        ),
      );
    }
    case 'collar': {
      const w = size;
      const h = r(0.16, 0.22);
      const rise = r(0.03, 0.08);
      return centred(
        pieceShape(
          [0, 0],
          [
            {
              to: [w, rise * 0.3],
              by: [
                [w * 0.3, -rise],
                [w * 0.7, -rise * 0.6],
              ],
            },
            { to: [w * 0.97, h + rise * random.between(0.5, 1)] },
            {
              to: [w * 0.02, h],
              by: [
                [w * 0.7, h - rise * 0.3],
                [w * 0.3, h - rise * 0.5],
              ],
            },
            { to: [0, 0] },
          ],
        ),
      );
    }
    case 'sash': {
      const w = size;
      const h = r(0.12, 0.2);
      return centred(
        pieceShape(
          [0, 0],
          [
            { to: [w - h * random.between(0, 0.8), 0] },
            { to: [w, h * random.between(0.4, 0.6)] },
            { to: [w - h * random.between(0, 0.8), h] },
            { to: [0, h] },
            { to: [0, 0] },
          ],
        ),
      );
    }
    case 'yoke': {
      const w = size;
      const h = r(0.35, 0.5);
      return centred(
        pieceShape(
          [0, 0],
          [
            { to: [w, 0] },
            {
              to: [w * random.between(0.92, 1), h * 0.7],
              by: [
                [w * 0.97, h * 0.2],
                [w * 0.95, h * 0.45],
              ],
            },
            { to: [w * 0.68, h] },
            {
              to: [w * 0.32, h],
              by: [
                [w * 0.6, h * 0.62],
                [w * 0.4, h * 0.62],
              ],
            },
            { to: [w * 0.04, h * 0.7] },
            {
              to: [0, 0],
              by: [
                [w * 0.05, h * 0.45],
                [w * 0.03, h * 0.2],
              ],
            },
          ],
        ),
      );
    }
    case 'facing': {
      // A bent band, concave on one side.
      const out = size * 0.52;
      const inn = out * random.between(0.55, 0.68);
      const k = 0.5523;
      return centred(
        pieceShape(
          [out, 0],
          [
            {
              to: [0, out],
              by: [
                [out, k * out],
                [k * out, out],
              ],
            },
            {
              to: [-out, 0],
              by: [
                [-k * out, out],
                [-out, k * out],
              ],
            },
            { to: [-inn, 0] },
            {
              to: [0, inn],
              by: [
                [-inn, k * inn],
                [-k * inn, inn],
              ],
            },
            {
              to: [inn, 0],
              by: [
                [k * inn, inn],
                [inn, k * inn],
              ],
            },
            { to: [out, 0] },
          ],
        ),
      );
    }
  }
}

function centred({ outline, corners }: PieceShape): PieceShape {
  const middle = (k: 0 | 1): number => {
    const list = outline.map((p) => p[k]);
    return (Math.min(...list) + Math.max(...list)) / 2;
  };
  const [cx, cy] = [middle(0), middle(1)];
  return {
    outline: outline.map(([x, y]) => [x - cx, y - cy]),
    corners: corners.map(({ at, turnDeg }) => ({ at: [at[0] - cx, at[1] - cy], turnDeg })),
  };
}
