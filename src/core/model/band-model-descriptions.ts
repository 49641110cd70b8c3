import type { Descriptions } from '../base/described.js';

/** Written by scripts/describe-model.ts from the doc comments in band-model.ts: change them there. */
export const BAND_MODEL_DESCRIPTIONS: Descriptions = {
  PhotoFacts: {
    file: ['Name of the file, without its folder; empty where the pixels came without a file.'],
    width_px: ['Width of the upright photo, px.'],
    height_px: ['Height of the upright photo, px.'],
    sha256: [
      "SHA-256 of the file's bytes, 64 lower-case hexadecimal digits; empty where the pixels came without a file.",
    ],
  },
  ScaleFacts: {
    px_per_mm: ['Photo pixels to a mm of the cloth, at the middle of the reference.'],
    relative_sd: [
      "Standard deviation of the scale, as a part of it: reading and the reference's own permitted error together.",
    ],
    source: ['What the scale was taken from.'],
    unit: ['Unit that the ruler is marked in; null where the reference is no ruler.'],
    ends_px: [
      'Two places of known distance, photo px: first and last mark used of a ruler, the points given, or two corners of a sheet; absent where there are none.',
    ],
    corners_px: [
      'The four corners of a sheet or card in order round it, photo px; absent for other references.',
    ],
    length_mm: ['Distance between the ends, mm; null where there are none.'],
    ruler_class: [
      'Accuracy class (Directive 2014/32/EU, MI-008) that relative_sd allows a ruler, or a length between points; absent for other references.',
    ],
  },
  PlaneFacts: {
    homography: ['Undistorted photo px to cloth mm (u, v), nine numbers row by row.'],
    tilt_deg: ["Angle between the camera's axis and the upright of the cloth, degrees; 0: straight above."],
    residual_mm: [
      'How far edges and the marks of the reference lie from where the plane puts them, root mean square, mm.',
    ],
    k1: ['Radial term of the lens: x_d = c + (x - c)(1 + k1 r^2), r in half-diagonals of the photo.'],
  },
  RepeatFacts: {
    across_mm: ['Length of one repeat across the stripes, mm; null when no repeat was in view.'],
    across_sd_mm: ["Standard deviation of across_mm, mm, the scale's own included; null when not known."],
    repeats_seen: ['How many repeats were in view, parts counted as parts.'],
    confidence: ['That across_mm is the repeat, rather than one of the alternatives or none: 0 to 1.'],
    alternatives: ['Other lengths that might be the repeat, likeliest first.', 'RepeatFacts.alternatives'],
    along_mm: [
      'Length of one repeat of the print along the stripes, mm; null without a print, or when none was in view.',
    ],
    along_sd_mm: ['Standard deviation of along_mm, mm; null when not known.'],
    drop_fraction: [
      'From one cell of the print to the next across (motif_across_mm, else across_mm): shift along as a part of along_mm; null when there is none to tell.',
    ],
    motif_across_mm: [
      'One cell of the print across, mm: a whole number of across_mm. Absent or null: across_mm, or no print.',
    ],
  },
  'RepeatFacts.alternatives': {
    across_mm: ['Length across the stripes, mm.'],
    confidence: ['That it is the repeat, 0 to 1.'],
  },
  ColourFacts: {
    id: ['Letter by which bands and motifs name the colour; A covers most of the cloth.'],
    srgb: ['"#rrggbb", encoded sRGB as in the photo, light evened.'],
    lab: ['The same in CIELAB, D65 white, 2 degree observer.'],
    name: ['In plain words, as it looks in the photo; or as somebody named it.'],
    name_given: ['True where somebody named it; absent where not.'],
    share: ["Part of the cloth's area, 0 to 1; all together 1."],
  },
  BandFacts: {
    id: ['Name of the band: b1 is the widest as measured, the others follow by growing u.'],
    colour: ['Id of its colour.'],
    start_mm: ['Where it starts, mm from the start of the repeat; the first at 0.'],
    width_mm: ['Mean width over all instances seen, mm.'],
    width_sd_mm: [
      'Spread of the width from one instance to another, standard deviation, mm; null when too few were seen.',
    ],
    width_mean_sd_mm: [
      'Standard deviation of the mean width itself, mm: unevenness over the instances seen, edges, and scale; null or absent when not known.',
    ],
    width_min_mm: ['Narrowest instance seen whole, mm; null when none was.'],
    width_max_mm: ['Widest instance seen whole, mm; null when none was.'],
    edge_sd_mm: [
      'How far its edges lie from where an even repeat puts them, standard deviation, mm; null when fewer than two were seen.',
    ],
    mix: [
      'What colours are seen within the band, the largest share first; empty where that was not looked at.',
      'BandFacts.mix',
    ],
  },
  'BandFacts.mix': { colour: ['Id of the colour.'], share: ["Its part of the band's area, 0 to 1."] },
  InstanceFacts: {
    band: ['Id of the band it is one of.'],
    repeat: ['Number of the repeat it lies in: 0 at the origin, growing with u.'],
    start_mm: ['Where it starts, u on the cloth, mm.'],
    end_mm: ['Where it ends, u on the cloth, mm.'],
    width_mm: ['From start to end, mm.'],
    width_sd_mm: ['Standard deviation of width_mm, mm; null when not known.'],
    whole: ['Whether both its edges were seen; else it is cut by the edge of what was seen.'],
  },
  MotifFacts: {
    colour: ['Id of its colour.'],
    along_mm: ['Middle of its outer box, v, mm, in the first repeats from the origin.'],
    across_mm: ['Middle of its outer box, u, mm, in the first repeats from the origin.'],
    extent_mm: ['Size of its outer box along u and v, mm.'],
    mirrors_across: [
      'Whether the drawing it belongs to is its own mirror image with u reversed; null: too close to call.',
    ],
    mirrors_along: ['The same with v reversed.'],
  },
  IntrusionFacts: {
    instance: ['Which instance it reaches into: an index into instances.'],
    edge: ['The edge of the band that the print reaches over, or inside.'],
    along_from_mm: ['Where it begins, v on the cloth, mm.'],
    along_to_mm: ['Where it ends, v on the cloth, mm.'],
    depth_mm: ['How far it reaches into the band, mm.'],
  },
  LikenessFacts: {
    score: ['1: wholly the same, 0: not at all.'],
    same: ['Whether it counts as the same; null: too close to call.'],
    confidence: ['That the nearer answer is right, 0.5 to 1.'],
  },
  SymmetryFacts: {
    balanced: ['Whether the stripes read the same in both directions.'],
    balance_score: ['How near they are to doing so: 1 wholly, 0 not at all.'],
    mirror_axes_mm: [
      'Lines about which the stripes are their own mirror image, u within one repeat, mm; empty when not balanced.',
    ],
    directional: ['Whether the cloth has one way up; null when the photo cannot tell.'],
    direction_score: [
      'Part of the print that its image turned or mirrored end for end does not cover, 0 to 1; null when the photo cannot tell.',
    ],
    half_turn: [
      'The print with one end turned round; a shift along or across is allowed. Absent without print.',
      'LikenessFacts',
    ],
    mirror_along: ['The same for the print with v reversed. Absent without print.', 'LikenessFacts'],
    mirror_across: ['The same for the print with u reversed. Absent without print.', 'LikenessFacts'],
    verdict: [
      'Whether pieces may be turned round, be mirrored end for end only, or neither; null: too close to call. Absent without print.',
    ],
    verdict_confidence: ['That the verdict is right, 0 to 1. Absent without print.'],
    heavy_end: [
      'Of one-way print: the end of v (up: growing) at which most of the largest motif lies; null: too close to call. Absent without print.',
    ],
  },
  Warning: {
    code: ['Stable name of the warning, for programs.'],
    message: ['Whole sentences in plain words.'],
    settings: [
      "What the message speaks of that can be set, as the measurement's parameters are called; absent when nothing.",
    ],
  },
  SecondDirection: {
    repeat: ["The repeat of the second direction's stripes: its across is v of the first.", 'RepeatFacts'],
    bands: ['One repeat of them, by growing v.', 'BandFacts'],
    instances: [
      'Every band of the second direction seen, by growing v; start_mm and end_mm are v.',
      'InstanceFacts',
    ],
    symmetry: [
      "Its own balance; the model's symmetry is the first direction's. Absent in older or typed models.",
      'SymmetryFacts',
    ],
  },
  ClothFacts: {
    file: ['Name of the picture, which lies beside the model.'],
    px_per_mm: ['Pixels of the picture to a mm of cloth.'],
    left_u_mm: ["Cloth u of the picture's left edge, mm; u grows to the right."],
    top_v_mm: ["Cloth v of the picture's top edge, mm; v grows upwards."],
    frame_px: [
      'Width of the frame of numbers and lengths round the cloth, px, on every side; absent: none. Only alpha 255 is bare cloth.',
    ],
  },
  OriginFacts: {
    landmark: ['What kind of place it is.'],
    at_px: ['The landmark in the photo, px.'],
    place: ['In which part of the photo that is.'],
    u_mm: ['The landmark on the cloth, u, mm.'],
    v_mm: ['The landmark on the cloth, v, mm: 0 along the stripes lies so far from it.'],
    towards: ['Which way along the stripes 0 lies from the landmark, as seen in the photo.'],
    words: ['The same as a sentence, lengths in mm.'],
  },
  GivenFacts: {
    direction_deg: [
      'Direction of the stripes in the photo, degrees from +x counter-clockwise as seen; null: it was found.',
    ],
    region_px: ['The part of the photo that was read: x, y, width, height, photo px; null: all of it.'],
    bands: ['Bands in one repeat; null: they were counted.'],
  },
  BandModel: {
    format: ['Always stripewright.band-model.'],
    version: ['Of the format: 1.'],
    units: ['Of every length: mm.'],
    photo: ['The photo; null in a model typed in by hand.', 'PhotoFacts'],
    scale: [
      'How long a mm is in the photo, and how that is known; null in a model typed in by hand.',
      'ScaleFacts',
    ],
    plane: ['How the cloth lay before the camera; null in a model typed in by hand.', 'PlaneFacts'],
    stripes: ['How the stripes run.', 'BandModel.stripes'],
    repeat: ['What repeats, and how far apart.', 'RepeatFacts'],
    colours: ["The cloth's colours, the one that covers most of it first.", 'ColourFacts'],
    bands: ['One repeat, in order of growing u.', 'BandFacts'],
    instances: [
      'Every band seen, in order of growing u; empty in a model typed in by hand.',
      'InstanceFacts',
    ],
    motifs: ["The print's motifs in one cell; empty without a print.", 'MotifFacts'],
    intrusions: ['Where the print reaches over an edge of a band; empty without a print.', 'IntrusionFacts'],
    symmetry: ['Which way up and which way round the cloth reads the same.', 'SymmetryFacts'],
    warnings: ['What a person should know before relying on the figures.', 'Warning'],
    check: ['The second direction of a check; absent on plain stripes.', 'SecondDirection'],
    cloth: [
      'The rectified picture beside the model, and where on the cloth its top left corner lies; absent where there is none.',
      'ClothFacts',
    ],
    origin: [
      'A place on the cloth that a person can find again, and where 0 along the stripes lies from it; absent in a typed model.',
      'OriginFacts',
    ],
    given: [
      'What a person said of the stripes, where that was used instead of being found; absent when all was found.',
      'GivenFacts',
    ],
  },
  'BandModel.stripes': {
    direction_deg: [
      'Of the stripes in the photo, degrees from +x counter-clockwise as seen, 0 up to 180; null in a model typed in by hand.',
    ],
    layout: ['Stripes of one direction, or a check of two.'],
    bow_percent: [
      'Bow as ASTM D3882 counts it, percent: its depth over the length it spans; null in a model typed in by hand.',
    ],
    skew_percent: [
      'Skew as ASTM D3882 counts it, percent, by the other stripes of a check or a selvage; null where nothing square to the stripes is in view.',
    ],
  },
};
