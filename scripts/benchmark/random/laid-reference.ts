import { laidReference } from '../../../test/support/photo-painter/laid-reference.js';
import { pinholeCamera } from '../../../test/support/photo-painter/pinhole-camera.js';
import { RULERS, type RulerType, SHEETS } from '../../../test/support/photo-painter/ruler-catalogue.js';
import type {
  CameraSpec,
  PlacedReference,
  ReferenceType,
} from '../../../test/support/photo-painter/scene.js';
import type { Draw } from './draw.js';

const RULER_TYPES = Object.keys(RULERS) as RulerType[];
const SHEET_TYPES = Object.keys(SHEETS) as (keyof typeof SHEETS)[];

const HEIGHT_MM: { readonly [type in ReferenceType]: readonly [number, number] } = {
  'metal-mm': [0.2, 0.6],
  'wood-inch': [0.3, 1],
  dual: [0.3, 0.9],
  'tape-mm': [0.1, 0.3],
  'grid-inch': [0, 0.1],
  'metre-stick': [0.3, 1],
  'black-mm': [0.3, 0.8],
  'half-mm': [0.2, 0.6],
  'tape-inch': [0.1, 0.3],
  'steel-32nds': [0.3, 0.8],
  'sheet-a4': [0, 0.2],
  'sheet-letter': [0, 0.2],
  'card-id1': [0.76, 0.76],
};

/** Which way the ruler lies, from across the stripes. */
const LAYS = ['across', 'along', 'oblique', 'oblique', 'upside-down'] as const;
export type Lay = (typeof LAYS)[number];

function angleOf(draw: Draw, lay: Lay): number {
  switch (lay) {
    case 'across':
      return draw.between(-4, 4);
    case 'along':
      return 90 * draw.sign() + draw.between(-4, 4);
    case 'oblique':
      return draw.sign() * draw.between(12, 78);
    case 'upside-down':
      return 180 + draw.between(-80, 80);
  }
}

/** Length of the ticks in view, mm, by walking along them. */
function ticksInView(placed: PlacedReference, camera: CameraSpec): number {
  const spec = RULERS[placed.type as RulerType];
  const { zeroMm, sense, divisionMm, divisions, side } = spec.rows[0];
  const view = pinholeCamera(camera);
  const laid = laidReference(placed, [spec.bodyMm, spec.widthMm]);
  const t = side === 'low' ? 3 : spec.widthMm - 3;
  const steps = 200;
  let seen = 0;
  for (let i = 0; i < steps; i++) {
    const s = zeroMm + (sense * divisionMm * divisions * (i + 0.5)) / steps;
    const [x, y] = view.photoFromCloth(...laid.clothFromOwn(s, t));
    const edge = 10;
    if (x > edge && y > edge && x < camera.widthPx - edge && y < camera.heightPx - edge) seen++;
  }
  return (seen / steps) * divisionMm * divisions;
}

/** Error of a whole rule's marks allowed to class II: 0.3 mm and 0.2 mm for every metre begun (2014/32/EU, MI-008). */
function drawStretch(draw: Draw, lengthMm: number): number {
  const mostMm = 0.3 + 0.2 * Math.ceil(lengthMm / 1000);
  return draw.between(-mostMm, mostMm) / lengthMm;
}

const SHINY: ReadonlySet<RulerType> = new Set([
  'metal-mm',
  'half-mm',
  'steel-32nds',
  'dual',
  'grid-inch',
  'black-mm',
]);
const TAPES: ReadonlySet<RulerType> = new Set(['tape-mm', 'tape-inch']);

export interface RulerWish {
  readonly lay?: Lay;
  readonly types?: readonly RulerType[];
  /** Least length of its ticks in view. */
  readonly leastMm?: number;
  /** Worn, shiny, bent: the chance of each. */
  readonly trouble?: number;
}

/** A ruler that may run out of the photo. */
export function layRuler(
  draw: Draw,
  camera: CameraSpec,
  shortMm: number,
  {
    lay = draw.pick(LAYS),
    types = RULER_TYPES,
    leastMm = Math.min(110, shortMm * 0.55),
    trouble = 0.25,
  }: RulerWish = {},
): PlacedReference {
  // A ruler wider than a third of the view would hide the cloth.
  const narrow = types.filter((type) => RULERS[type].widthMm < shortMm / 3);
  for (;;) {
    const type = draw.pick(narrow);
    const { bodyMm, rows } = RULERS[type];
    const angleDeg = angleOf(draw, lay);
    const a = (angleDeg * Math.PI) / 180;
    const slide = draw.between(-0.5, 0.5) * Math.max(0, bodyMm - leastMm);
    const lengthMm = rows[0].divisionMm * rows[0].divisions;
    const shines = SHINY.has(type) && draw.chance(trouble);
    const bent = TAPES.has(type) && draw.chance(trouble + 0.2);
    const placed: PlacedReference = {
      type,
      atMm: [
        camera.aimMm[0] + draw.between(-0.38, 0.38) * shortMm + slide * Math.cos(a),
        camera.aimMm[1] + draw.between(-0.38, 0.38) * shortMm + slide * Math.sin(a),
      ],
      angleDeg,
      heightMm: draw.between(...HEIGHT_MM[type]),
      wear: draw.chance(trouble) ? draw.between(0.4, 0.9) : draw.between(0, 0.3),
      stretch: drawStretch(draw, lengthMm),
      ...(bent ? { bendPerMm: draw.sign() * draw.between(1e-5, 7e-5) } : {}),
      ...(shines
        ? {
            gloss: {
              atMm: bodyMm / 2 - slide + draw.between(-60, 60),
              widthMm: draw.between(8, 35),
              strength: draw.between(0.15, 0.9),
            },
          }
        : {}),
    };
    if (ticksInView(placed, camera) >= leastMm) return placed;
  }
}

/** A second ruler, as high and as true as the first and clear of it; null where there is no room. */
export function secondRuler(
  draw: Draw,
  camera: CameraSpec,
  shortMm: number,
  first: PlacedReference,
): PlacedReference | null {
  for (let tries = 0; tries < 200; tries++) {
    const next = layRuler(draw, camera, shortMm);
    if (next.type === 'grid-inch' || next.type === first.type) continue;
    const placed: PlacedReference = { ...next, angleDeg: first.angleDeg + draw.between(-4, 4) };
    const a = (first.angleDeg * Math.PI) / 180;
    const apart = Math.abs(
      -(placed.atMm[0] - first.atMm[0]) * Math.sin(a) + (placed.atMm[1] - first.atMm[1]) * Math.cos(a),
    );
    const widths = RULERS[placed.type as RulerType].widthMm + RULERS[first.type as RulerType].widthMm;
    if (apart < widths / 2 + 50 || ticksInView(placed, camera) < 60) continue;
    return { ...placed, heightMm: first.heightMm, stretch: first.stretch ?? 0 };
  }
  return null;
}

/** A sheet or card, turned at will, wholly in view. */
export function laySheet(draw: Draw, camera: CameraSpec, shortMm: number): PlacedReference {
  const view = pinholeCamera(camera);
  for (;;) {
    const type = draw.pick(SHEET_TYPES);
    const angleDeg = draw.between(0, 360);
    const atMm: [number, number] = [
      camera.aimMm[0] + draw.between(-0.4, 0.4) * shortMm,
      camera.aimMm[1] + draw.between(-0.4, 0.4) * shortMm,
    ];
    const { widthMm, heightMm } = SHEETS[type];
    const a = (angleDeg * Math.PI) / 180;
    const inView = [-1, 1].every((i) =>
      [-1, 1].every((j) => {
        const [x, y] = [(i * widthMm) / 2, (j * heightMm) / 2];
        const [px, py] = view.photoFromCloth(
          atMm[0] + x * Math.cos(a) - y * Math.sin(a),
          atMm[1] + x * Math.sin(a) + y * Math.cos(a),
        );
        return px > 30 && py > 30 && px < camera.widthPx - 30 && py < camera.heightPx - 30;
      }),
    );
    if (!inView) continue;
    // A card is made to a tenth of a millimetre or so (ISO/IEC 7810); paper is cut to about one.
    const stretch = type === 'card-id1' ? draw.between(-0.0015, 0.0015) : draw.between(-0.002, 0.002);
    return { type, atMm, angleDeg, heightMm: draw.between(...HEIGHT_MM[type]), wear: 0, stretch };
  }
}
