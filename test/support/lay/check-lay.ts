import type { BandModel } from '../../../src/core/model/band-model.js';
import { wholeCutting } from '../../../src/core/pieces/geometry/whole-piece.js';
import type { Piece } from '../../../src/core/pieces/piece/pieces-file.js';
import type { ClothLength, Plan } from '../../../src/core/place/plan/plan.js';
import type { LayAnswer, Placement, Transform } from '../../../src/index.js';
import { apartMm, type Corner } from './outlines.js';

/** Rounding of the numbers in a lay, mm. */
const ROUNDING_MM = 1e-5;
/** Whole repeats are whole to this, mm. */
const PHASE_MM = 0.1;

/**
 * All that is wrong with a lay, in words; nothing where it is one. Asks of each copy what the definition asks: within the cloth, margins kept, off flaws,
 * and moved from its placement by a motion that carries the cloth to itself. Knows nothing of how lays are found.
 */
export function faultsOfLay(
  lay: LayAnswer,
  plan: Plan,
  pieces: readonly Piece[],
  model: BandModel | null,
  placement: Placement,
): string[] {
  const faults: string[] = [];
  const answer = placement.answers.find(({ rank }) => rank === lay.answer);
  if (answer === undefined) return [`no answer of rank ${lay.answer}`];
  const laid = lay.lengths.flatMap(({ copies }) => copies.map(({ copy }) => copy));
  const expected = answer.copies.map(({ copy }) => copy).sort();
  if ([...laid, ...lay.unplaced].sort().join() !== expected.join()) faults.push('not every copy once');
  if (lay.fits !== (lay.unplaced.length === 0)) faults.push('fits, though copies are left over');
  if (lay.lengths.map(({ id }) => id).join() !== plan.lengths.map(({ id }) => id).join())
    faults.push('not the lengths of the plan');
  lay.lengths.forEach((length, k) => {
    const cloth = plan.lengths[k];
    const outlines = length.copies.map(({ copy, transform }) => {
      const placed = answer.copies.find((one) => one.copy === copy);
      const piece = pieces.find(({ id }) => id === placed?.piece);
      if (placed === undefined || piece === undefined) throw new Error(`no copy "${copy}"`);
      const wrong = phaseFault(transform, length.cloth_from_length, placed.transform, plan, model);
      if (wrong !== null) faults.push(`${copy}: ${wrong}`);
      return { copy, outline: wholeCutting(piece).map((at) => image(transform, at)) };
    });
    faults.push(...frameFaults(length.cloth_from_length, cloth, model));
    faults.push(...roomFaults(outlines, cloth, plan.marginMm));
    const top = Math.max(0, ...outlines.flatMap(({ outline }) => outline.map(([, y]) => y)));
    if (Math.abs(top - length.used_mm) > ROUNDING_MM)
      faults.push(`${length.id}: ${length.used_mm} mm used, not ${top}`);
  });
  return faults;
}

const image = ([a, b, c, d, e, f]: Transform, [x, y]: Corner): Corner => [
  a * x + c * y + e,
  b * x + d * y + f,
];

interface Laid {
  readonly copy: string;
  readonly outline: readonly Corner[];
}

function roomFaults(laid: readonly Laid[], cloth: ClothLength, marginMm: number): string[] {
  const faults: string[] = [];
  const least = marginMm - ROUNDING_MM;
  laid.forEach(({ copy, outline }, k) => {
    for (const [x, y] of outline)
      if (x < least || y < least || x > cloth.widthMm - least || y > cloth.lengthMm - least) {
        faults.push(`${copy} lies at ${x}, ${y}, outside ${cloth.id}`);
        break;
      }
    for (const [x, y, w, h] of cloth.flaws) {
      const flaw: Corner[] = [
        [x, y],
        [x + w, y],
        [x + w, y + h],
        [x, y + h],
      ];
      const apart = apartMm(outline, flaw, ROUNDING_MM);
      if (apart < least) faults.push(`${copy} lies ${apart} mm from a flaw`);
    }
    for (const other of laid.slice(0, k)) {
      const apart = apartMm(outline, other.outline, ROUNDING_MM);
      if (apart < least) faults.push(`${copy} lies ${apart} mm from ${other.copy}`);
    }
  });
  return faults;
}

/** cloth_from_length is what the definition of frames says. */
function frameFaults(told: Transform, cloth: ClothLength, model: BandModel | null): string[] {
  const start = model?.bands[0].start_mm ?? 0;
  const b1 = model === null ? 0 : (cloth.b1StartMm as number);
  return (
    [
      [0, 0],
      [731, 12],
      [20, 1517],
    ] as const
  ).flatMap((at) => {
    const [u, v] = image(told, at);
    const uThere = cloth.stripes === 'lengthwise' ? at[0] - b1 + start : b1 - at[1] + start;
    const vThere = (cloth.stripes === 'lengthwise' ? at[1] : at[0]) - cloth.alongStartMm;
    const off = model === null ? 0 : Math.hypot(u - uThere, v - vThere);
    return off > ROUNDING_MM ? [`${cloth.id}: cloth_from_length is off by ${off} mm at ${at}`] : [];
  });
}

const fromWhole = (mm: number, repeatMm: number): number =>
  Math.abs(mm - repeatMm * Math.round(mm / repeatMm));

/** Piece to length to cloth, against the placement's piece to cloth: what moves one onto the other, and whether the cloth allows it. */
function phaseFault(
  lengthFromPiece: Transform,
  clothFromLength: Transform,
  placed: Transform,
  plan: Plan,
  model: BandModel | null,
): string | null {
  const there = (at: Corner): Corner => image(clothFromLength, image(lengthFromPiece, at));
  const [o, x, y] = (
    [
      [0, 0],
      [1000, 0],
      [0, 1000],
    ] as const
  ).map(there);
  const [p, q, r] = (
    [
      [0, 0],
      [1000, 0],
      [0, 1000],
    ] as const
  ).map((at) => image(placed, at));
  const isSame = (sign: 1 | -1): boolean =>
    [
      [x, q],
      [y, r],
    ].every(([moved, own]) => [0, 1].every((k) => Math.abs(moved[k] - o[k] - sign * (own[k] - p[k])) < 1e-4));
  if (isSame(1)) return shiftFault([o[0] - p[0], o[1] - p[1]], plan, model);
  if (!isSame(-1)) return 'turned by other than half a turn';
  const oneWay = plan.cloth.oneWay ?? model?.symmetry.directional ?? null;
  if (oneWay === true) return 'turned half round on one-way cloth';
  if (model === null) return null;
  if (plan.cloth.instances) return 'turned half round, though actual stripes are used';
  // A half turn takes w to own + moved - w: the colours there must be those of w.
  const sum: Corner = [o[0] + p[0], o[1] + p[1]];
  let unlike = 0;
  for (let k = 0; k < 4000; k++) {
    const at: Corner = [0.0917 * k, 0.1731 * k];
    const turned: Corner = [sum[0] - at[0], sum[1] - at[1]];
    if (colourAt(model, at) !== colourAt(model, turned)) unlike++;
  }
  if (model.motifs.length > 0) return 'turned half round on a print';
  // Edges that are off by the tenth of a mm that is allowed.
  return unlike > 60 ? `turned half round, and ${unlike} of 4000 places change colour` : null;
}

function shiftFault([du, dv]: Corner, plan: Plan, model: BandModel | null): string | null {
  if (model === null) return null;
  const repeatMm = model.repeat.across_mm as number;
  const alongMm =
    model.stripes.layout === 'check' ? (model.check?.repeat.across_mm as number) : model.repeat.along_mm;
  if (plan.cloth.instances && Math.abs(du) > PHASE_MM) return `moved ${du} mm across, which may not be`;
  const columnMm =
    model.stripes.layout === 'check' || alongMm === null
      ? repeatMm
      : (model.repeat.motif_across_mm ?? repeatMm);
  if (fromWhole(du, columnMm) > PHASE_MM) return `moved ${du} mm across: no whole repeats`;
  if (alongMm === null) return null;
  const dropMm = model.stripes.layout === 'check' ? 0 : (model.repeat.drop_fraction ?? 0) * alongMm;
  const off = fromWhole(dv - Math.round(du / columnMm) * dropMm, alongMm);
  return off > PHASE_MM ? `moved ${dv} mm along: no place of the print` : null;
}

function colourAt(model: BandModel, [u, v]: Corner): string {
  const own = bandColour(model.bands, model.repeat.across_mm as number, u);
  if (model.stripes.layout !== 'check' || !model.check) return own;
  return `${own} ${bandColour(model.check.bands, model.check.repeat.across_mm as number, v)}`;
}

function bandColour(bands: BandModel['bands'], repeatMm: number, at: number): string {
  const from = (at - bands[0].start_mm) % repeatMm;
  const rest = from < 0 ? from + repeatMm : from;
  return [...bands].reverse().find(({ start_mm }) => start_mm - bands[0].start_mm <= rest)?.colour ?? '';
}
