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
  const a = (placed.angleDeg * Math.PI) / 180;
  const t = (side === 'low' ? 3 : spec.widthMm - 3) - spec.widthMm / 2;
  const steps = 200;
  let seen = 0;
  for (let i = 0; i < steps; i++) {
    const s = zeroMm + (sense * divisionMm * divisions * (i + 0.5)) / steps - spec.bodyMm / 2;
    const [x, y] = view.photoFromCloth(
      placed.atMm[0] + s * Math.cos(a) - t * Math.sin(a),
      placed.atMm[1] + s * Math.sin(a) + t * Math.cos(a),
    );
    const edge = 10;
    if (x > edge && y > edge && x < camera.widthPx - edge && y < camera.heightPx - edge) seen++;
  }
  return (seen / steps) * divisionMm * divisions;
}

/** A ruler with at least leastMm of its ticks in view; it may run out of the photo. */
export function layRuler(
  draw: Draw,
  camera: CameraSpec,
  shortMm: number,
  lay: Lay = draw.pick(LAYS),
): PlacedReference {
  const leastMm = Math.min(110, shortMm * 0.55);
  // A ruler wider than a third of the view would hide the cloth.
  const narrow = RULER_TYPES.filter((type) => RULERS[type].widthMm < shortMm / 3);
  for (;;) {
    const type = draw.pick(narrow);
    const angleDeg = angleOf(draw, lay);
    const a = (angleDeg * Math.PI) / 180;
    const slide = draw.between(-0.5, 0.5) * Math.max(0, RULERS[type].bodyMm - leastMm);
    const placed: PlacedReference = {
      type,
      atMm: [
        camera.aimMm[0] + draw.between(-0.38, 0.38) * shortMm + slide * Math.cos(a),
        camera.aimMm[1] + draw.between(-0.38, 0.38) * shortMm + slide * Math.sin(a),
      ],
      angleDeg,
      heightMm: draw.between(...HEIGHT_MM[type]),
      wear: draw.chance(0.3) ? draw.between(0.4, 0.9) : draw.between(0, 0.3),
    };
    if (ticksInView(placed, camera) >= leastMm) return placed;
  }
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
    if (inView) return { type, atMm, angleDeg, heightMm: draw.between(...HEIGHT_MM[type]), wear: 0 };
  }
}
