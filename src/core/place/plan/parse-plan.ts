import { complaintLine } from '../../base/complaint.js';
import { anyText, check } from '../../base/expectation.js';
import { signedLengthMm } from '../../base/length.js';
import { type Outcome, refuse, succeed } from '../../base/outcome.js';
import { type SchemaError, schemaComplaint } from '../../base/schema-complaint.js';
import type { ClothLength, Half, Join, JoinedSeam, Plan, SeamOf, Wish } from './plan.js';
import { missesByShare } from './plan.js';
import { validatePlan } from './plan-validator.js';

type RawLength = number | string;
type Raw = Readonly<Record<string, unknown>>;

/** Least distance between cutting lines where a plan says nothing: scissors need room. Common practice. */
const DEFAULT_MARGIN_MM = 2;

/**
 * Reads the text of a plan: JSON, then the schema. Lengths come back as numbers of mm, and what may be left out is filled in. Refuses
 * with the field that is wrong. Names are not looked up yet.
 */
export function parsePlan(text: string): Outcome<Plan> {
  check(text, 'text', anyText);
  let value: unknown;
  try {
    // Some editors put a byte order mark first, which JSON forbids.
    value = JSON.parse(text.replace(/^\uFEFF/, ''));
  } catch (error) {
    return refuse('unreadable', `The plan is not JSON (${(error as Error).message})`, 'correct the file');
  }
  if (!validatePlan(value)) {
    const errors = validatePlan.errors as SchemaError[];
    // Of "if ... then" the branch itself is reported last, and says nothing.
    const error = errors.find(({ keyword }) => keyword !== 'if') ?? errors[0];
    return refuse('unreadable', `In the plan ${complaintLine(schemaComplaint(error))}`, 'correct the file');
  }
  return succeed(completePlan(value as Raw));
}

function completePlan(raw: Raw): Plan {
  const cloth = raw.cloth as Raw;
  const pieces = [raw.pieces].flat();
  return {
    format: 'stripewright.plan',
    version: 1,
    units: 'mm',
    cloth: {
      model: cloth.model as string | null,
      oneWay: (cloth.one_way ?? null) as boolean | null,
      nap: (cloth.nap ?? 'along') as 'along' | 'across',
      wrongSide: (cloth.wrong_side ?? false) as boolean,
      instances: (cloth.instances ?? false) as boolean,
    },
    pieceFiles: pieces.filter((one): one is string => typeof one === 'string'),
    ownPieces: pieces.filter((one) => typeof one !== 'string'),
    joins: ((raw.joins ?? []) as Raw[]).map(
      (join): Join => ({
        id: join.id as string,
        left: joinedSeam(join.left as Raw),
        right: joinedSeam(join.right as Raw),
      }),
    ),
    wishes: ((raw.wishes ?? []) as Raw[]).map(completeWish),
    lengths: ((raw.lengths ?? []) as Raw[]).map(completeLength),
    marginMm: mmOf(raw.margin_mm, DEFAULT_MARGIN_MM),
  };
}

const joinedSeam = (raw: Raw): JoinedSeam => ({
  ...seamOf(raw),
  reversed: (raw.reversed ?? false) as boolean,
});

const seamOf = (raw: Raw): SeamOf => ({
  copy: raw.copy as string,
  seam: raw.seam as string,
  half: halfOf(raw),
});

const halfOf = (raw: Raw): Half => (raw.half ?? 'given') as Half;

function mmOf(value: unknown, otherwise: number): number {
  if (value === undefined || value === null) return otherwise;
  // The schema has passed it, so a text is a length.
  return typeof value === 'number' ? value : (signedLengthMm(value as string) as number);
}

function completeWish(raw: Raw): Wish {
  const kind = raw.kind as Wish['kind'];
  const any = {
    id: raw.id as string,
    must: (raw.must ?? false) as boolean,
    within: mmOf(raw.within, missesByShare(kind) ? 0.02 : 1),
    weight: (raw.weight ?? 1) as number,
  };
  const direction = (raw.direction ?? 'across') as 'across' | 'along';
  const band = raw.band as string;
  switch (kind) {
    case 'lands': {
      const side = (raw.side ?? 'middle') as 'middle' | 'start' | 'end';
      return {
        ...any,
        kind,
        copy: raw.copy as string,
        point: raw.point as string,
        half: halfOf(raw),
        band,
        side,
        direction,
      };
    }
    case 'stays':
      return {
        ...any,
        kind,
        ...seamOf(raw),
        from: raw.from as string,
        band,
        leastMm: mmOf(raw.least_mm, 0),
        mostMm: raw.most_mm == null ? null : mmOf(raw.most_mm, 0),
        direction,
      };
    case 'meets':
      return { ...any, kind, join: raw.join as string };
    case 'agrees':
      return {
        ...any,
        kind,
        join: raw.join as string,
        at: raw.at as number,
        by: (raw.by ?? 'band') as 'band' | 'colour',
        direction,
      };
    case 'shows': {
      const near = (raw.near ?? null) as Raw | null;
      return {
        ...any,
        kind,
        copy: raw.copy as string,
        colour: raw.colour as string,
        want: raw.want as 'most' | 'least',
        near: near && { seam: near.seam as string, half: halfOf(near), withinMm: mmOf(near.within_mm, 0) },
      };
    }
    case 'clear':
      return { ...any, kind, ...seamOf(raw), marginMm: mmOf(raw.margin_mm, 0) };
    case 'alike':
      return { ...any, kind, copies: raw.copies as string[] };
  }
}

const completeLength = (raw: Raw): ClothLength => ({
  id: raw.id as string,
  widthMm: mmOf(raw.width_mm, 0),
  lengthMm: mmOf(raw.length_mm, 0),
  stripes: raw.stripes as 'lengthwise' | 'crosswise',
  b1StartMm: raw.b1_start_mm == null ? null : mmOf(raw.b1_start_mm, 0),
  alongStartMm: mmOf(raw.along_start_mm, 0),
  flaws: ((raw.flaws ?? []) as RawLength[][]).map(
    ([x, y, w, h]) => [mmOf(x, 0), mmOf(y, 0), mmOf(w, 0), mmOf(h, 0)] as const,
  ),
});
