import type { NoFit } from '../nofit/no-fit.js';
import type { Ring } from '../nofit/ring.js';
import type { Choice, FitProblem, Place } from './fit-problem.js';

/** A choice as the search sees it. */
export interface CompiledChoice {
  /** Index among `rings`. */
  readonly ring: number;
  /** Least and greatest shift across, then along the slide, that keep the outline in the bin. */
  readonly bounds: Float64Array;
  /** Shifts across to choose from, ascending; null: any. */
  readonly columns: Float64Array | null;
  /** First shift along of each column where slides go by steps; null: any. */
  readonly slideAt: Float64Array | null;
  readonly slideStepMm: number;
  /** Reach of the outline along the length beyond its shift. */
  readonly reachMm: number;
}

/** A problem with the tables that the search asks. */
export interface Compiled {
  readonly problem: FitProblem;
  /** For each item, bin, choice. Choices that have no place in a bin are left out. */
  readonly choices: readonly (readonly (readonly CompiledChoice[])[])[];
  /** Index of each choice left in among those of the problem. */
  readonly given: readonly (readonly (readonly number[])[])[];
  /** Axis that runs along the length: 0 across, 1 slide. */
  readonly alongAxis: readonly (0 | 1)[];
  /** Rings of blocks by bin, indices among `rings`. */
  readonly blocks: readonly (readonly number[])[];
  readonly noFitOf: (fixedRing: number, movingRing: number) => NoFit;
}

/** Bounds are kept though rounding puts an outline that fills the bin a hair outside. */
export const HAIR_MM = 1e-6;

export function compiled(problem: FitProblem): Compiled {
  const rings: Ring[] = problem.shapes.map(({ ring }) => ring);
  const blocks = problem.bins.map((bin) => bin.blocks.map((ring) => rings.push(ring) - 1));
  const kept = problem.items.map((item) =>
    item.choices.map((choices, bin) =>
      choices
        .map((choice, given) => ({ given, compiled: compiledChoice(problem, bin, choice) }))
        .filter((one): one is { given: number; compiled: CompiledChoice } => one.compiled !== null),
    ),
  );
  const known: (NoFit | undefined)[] = new Array(rings.length * rings.length);
  return {
    problem,
    choices: kept.map((bins) => bins.map((choices) => choices.map((one) => one.compiled))),
    given: kept.map((bins) => bins.map((choices) => choices.map((one) => one.given))),
    alongAxis: problem.bins.map(({ along }) => (along === 'across' ? 0 : 1)),
    blocks,
    noFitOf: (fixed, moving) => {
      const index = fixed * rings.length + moving;
      known[index] ??= problem.noFitOf(rings[fixed], rings[moving]);
      return known[index];
    },
  };
}

function compiledChoice(problem: FitProblem, bin: number, choice: Choice): CompiledChoice | null {
  const { room, along } = problem.bins[bin];
  const { left, right, bottom, top } = problem.shapes[choice.shape].extent;
  const bounds = Float64Array.of(room[0] - left, room[1] - right, room[2] - bottom, room[3] - top);
  for (const k of [0, 2]) {
    if (bounds[k] > bounds[k + 1] + HAIR_MM) return null;
    if (bounds[k] > bounds[k + 1]) bounds[k] = bounds[k + 1];
  }
  const { columns, slides } = choice;
  const turns: number[] = [];
  if (columns !== null) {
    const [from, to] = stepsWithin(columns.atMm, columns.stepMm, bounds[0], bounds[1]);
    for (let k = from; k <= to; k++) turns.push(k);
    if (turns.length === 0) return null;
  }
  return {
    ring: choice.shape,
    bounds,
    columns: columns === null ? null : Float64Array.from(turns, (k) => columns.atMm + k * columns.stepMm),
    slideAt: slides === null ? null : Float64Array.from(turns, (k) => slides.atMm + k * slides.dropMm),
    slideStepMm: slides?.stepMm ?? 0,
    reachMm: along === 'across' ? right : top,
  };
}

/** First and last k with at + k step within the bounds; of step 0, k = 0 if that lies there. */
function stepsWithin(at: number, step: number, low: number, high: number): [number, number] {
  if (step === 0) return at >= low - HAIR_MM && at <= high + HAIR_MM ? [0, 0] : [1, 0];
  return [Math.ceil((low - HAIR_MM - at) / step), Math.floor((high + HAIR_MM - at) / step)];
}

/** How far along the length a place reaches. */
export function reachOf({ choices, alongAxis }: Compiled, item: number, place: Place): number {
  const { reachMm } = choices[item][place.bin][place.choice];
  return reachMm + (alongAxis[place.bin] === 0 ? place.across : place.slide);
}
