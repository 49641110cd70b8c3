/**
 * The contract of chevron.json as a JSON Schema, draft 2020-12. Kept as a module because any runtime can
 * load it; the package carries it as chevron.schema.json.
 */

const text = { type: 'string', minLength: 1 };
const number = { type: 'number' };
const positive = { type: 'number', exclusiveMinimum: 0 };
const atLeast0 = { type: 'number', minimum: 0 };
const share = { type: 'number', minimum: 0, maximum: 1.00001 };
const angle = { type: 'number', exclusiveMinimum: 0, maximum: 90 };
const whole = { type: 'integer' };
const yes = { type: 'boolean' };
const lay = { enum: ['same-way', 'head-to-tail', 'wrong-side', 'run-on'] };
const allowed = { enum: ['yes', 'check', 'no'] };
const list = (items: object) => ({ type: 'array', items });
const pair = (item: object) => ({ type: 'array', prefixItems: [item, item], items: false, minItems: 2 });
const orNull = (schema: object) => ({ anyOf: [schema, { type: 'null' }] });
const record = (properties: Record<string, object>, description?: string) => ({
  type: 'object',
  required: Object.keys(properties),
  properties,
  ...(description === undefined ? {} : { description }),
});

const figuresOf = (what: string) => ({
  ...orNull(record({ median_mm: atLeast0, p90_mm: atLeast0, greatest_mm: atLeast0 })),
  description: `${what} mm along the seam: half of all seams, nine in ten, all but one in 370 keep within. Null: not known, or other colours meet.`,
});
const edgeFigures = figuresOf(
  'What this edge alone may miss by, halves from any two repeats, from the cloth alone.',
);
const worstFigures = figuresOf(
  'What the worst edge of the seam may miss by, halves from any two repeats, from the unevenness of the cloth alone.',
);
const sewnFigures = figuresOf(
  'The same with the halves slipping against each other as they are laid, cut and sewn (seam.handling_mm).',
);
const end = { ...pair(number), description: 'Across and along the stripes, cloth frame.' };
const place = record({
  repeat: { ...whole, description: "The repeat's number in bands.json." },
  across_mm: { ...number, description: 'Middle of the band, across the stripes, cloth frame.' },
  seam_mm: {
    ...pair(end),
    description:
      "The seam of this half on the cloth, from its top to its foot, with the marked point at 0 along the stripes: along them the half may be moved anywhere (on printed cloth and checks by the print's rule).",
  },
  reach_along_mm: {
    ...pair(number),
    description: 'How far that seam reaches along the stripes, lowest and highest.',
  },
});
const shares = list(record({ colour: text, share }));

const clearing = record({
  along_mm: { ...number, description: 'Cloth v at the middle of the band; repeats with the print.' },
  clearance_mm: { ...number, description: 'Negative inside a motif.' },
  clean: yes,
  motif_edges_cut: { ...whole, description: 'Outlines of motifs that the whole seam crosses.' },
});

const seam = record({
  angle_left_deg: angle,
  angle_right_deg: angle,
  shift_mm: { ...number, description: "Slip of this seam's right half, across its stripes." },
  centre: { ...text, description: 'Band whose middle the left half brings to the reference point.' },
  centre_right: text,
  picture: orNull(record({ png: text, svg: text })),
  enclosed_deg: { type: 'number', exclusiveMinimum: 0, maximum: 180 },
  repeat_along_mm: pair(positive),
  bands_along_mm: list(record({ band: text, left: positive, right: positive })),
  crossings: list(
    record({
      edge: { ...whole, description: 'Counted down the seam: 0 is the upper edge of the centre band.' },
      left_mm: { ...number, description: "Down from the seam's top; may lie beyond the seam on one side." },
      left_bands: pair(text),
      right_mm: number,
      right_bands: pair(text),
      mismatch_mm: orNull(number),
      expected: edgeFigures,
    }),
  ),
  unmatched_mm: { ...list(pair(number)), description: 'Stretches where the halves show different colours.' },
  unmatched_share: share,
  expected_basis: {
    ...orNull({ enum: ['repeats', 'widths'] }),
    description:
      'repeats: from every edge in view. widths: from the spread of the widths alone, the repeat taken as steady.',
  },
  expected_worst: worstFigures,
  expected_worst_sewn: sewnFigures,
  same_bands: {
    ...yes,
    description: 'Both halves may be cut from the same bands, one further along the stripes.',
  },
  no_best_places: {
    ...orNull({
      enum: ['not-photographed', 'one-place', 'too-little-seen', 'forbidden', 'unequal-angles'],
    }),
    description: 'Why best_places is null.',
  },
  best_places: {
    ...orNull(
      record({
        left: place,
        right: place,
        worst_mm: { ...atLeast0, description: 'Largest misfit of the edges seen, as measured.' },
        rms_mm: { ...atLeast0, description: 'Root mean square misfit of the edges seen, as measured.' },
        expected: {
          ...worstFigures,
          description:
            'What the worst of the edges seen may miss by: as measured, with the wander of edges along their stripes.',
        },
        expected_sewn: sewnFigures,
        continued: {
          ...yes,
          description:
            'The seam runs partly beyond the photographed cloth; edges there are not judged and not listed.',
        },
        edges_seen: whole,
        edges_on_seam: whole,
        edges: list(record({ edge: whole, left_mm: number, right_mm: number, mismatch_mm: number })),
      }),
    ),
    description: 'The two photographed places to cut the halves from.',
  },
  clear: {
    ...orNull(record({ margin_mm: atLeast0, paired: yes, left: clearing, right: clearing })),
    description:
      'Where to cut so that the seam keeps clear of motifs on the centre band; null when not asked for.',
  },
  cross: {
    ...orNull(
      record({
        repeat_along_mm: pair(positive),
        unmatched_mm: list(pair(number)),
        expected_worst: worstFigures,
        expected_worst_sewn: sewnFigures,
        expected_basis: orNull({ enum: ['repeats', 'widths'] }),
      }),
    ),
    description: 'The cross stripes of a check at the same seam; null without them.',
  },
  drift: {
    ...orNull(
      record({
        per_repeat_mm: positive,
        per_100mm_mm: {
          ...number,
          description:
            'How far the sides part in 100 mm of seam. Negative: the right side falls short of the left one.',
        },
        half_repeat_at_mm: positive,
        agree: {
          ...list(record({ at_mm: atLeast0, band: text })),
          description: 'Where on the seam the sides agree, and which band lies there.',
        },
      }),
    ),
    description: 'Sides of unequal angle; null for equal ones.',
  },
  colour_shares: record({ left: shares, right: shares }),
  if_matched_at_cut_edge: record({
    points_move_mm: atLeast0,
    mirrored_mismatch_mm: atLeast0,
    run_on_mismatch_mm: atLeast0,
  }),
});

export const chevronSchema = {
  $schema: 'https://json-schema.org/draft/2020-12/schema',
  title: 'How two pieces of striped cloth meet at a seam',
  description: 'Lengths in mm, angles in degrees between stripe and seam.',
  ...record({
    format: { const: 'stripewright.chevron' },
    version: { const: 1 },
    units: { const: 'mm' },
    model: record(
      { file: text, sha256: { type: 'string', pattern: '^[0-9a-f]{64}$' } },
      'The file all of this follows from, and the SHA-256 of its bytes: another hash is another measurement.',
    ),
    repeat_mm: positive,
    bands: list(
      record({
        id: text,
        colour: text,
        name: text,
        srgb: { type: 'string', pattern: '^#[0-9a-fA-F]{6}$' },
        width_mm: positive,
      }),
    ),
    symmetry: record({
      sentence: text,
      check_by_eye: orNull(text),
      balanced: yes,
      residual_mm: orNull(atLeast0),
      tolerance_mm: orNull(atLeast0),
      mirror_axes_mm: list(number),
      directional: orNull(yes),
      motif_mirrors: orNull(
        list(record({ reverses: { enum: ['across', 'along'] }, axis_mm: number, slip_mm: number })),
      ),
      lays: list(record({ lay, allowed, reason: text })),
    }),
    lay: record({ chosen: lay, allowed, reason: text }),
    seam: record({
      length_mm: positive,
      at_mm: atLeast0,
      point: { enum: ['down', 'up'] },
      shift_mm: number,
      allowance_mm: atLeast0,
      handling_mm: {
        ...atLeast0,
        description:
          'How far laying, cutting and sewing were taken to slip the halves along the seam, nine times in ten.',
      },
      visible_mm: {
        ...atLeast0,
        description: 'Pictures of the photographed cloth mark no shorter difference.',
      },
      agree_at_mm: {
        ...orNull(atLeast0),
        description: 'Where sides of unequal angle were made to agree; null: not asked for.',
      },
    }),
    from: orNull({ enum: ['model', 'cloth'] }),
    seams: list(seam),
    files: list(text),
    warnings: list(record({ code: text, message: text })),
  }),
};
