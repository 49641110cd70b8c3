import type { Point } from '../../math/matrix3.js';
import type { AxisProblems, CopyChoices } from '../search/problem.js';
import type { CopyShape, NamedPath } from '../shape/copy-shape.js';
import type { Wish } from './plan.js';
import { findJoinsSwapped, type PlanNames, planTerms } from './plan-terms.js';

/** A plan on a check as either direction alone sees it; null on stripes and on plain cloth. */
export function axisProblems(
  { wishes }: { readonly wishes: readonly Wish[] },
  names: PlanNames,
  choices: readonly CopyChoices[],
): AxisProblems | null {
  const { cloth } = names;
  if (cloth === null || cloth.along === null) return null;
  const shapes = names.shapes.map(swapped);
  const alongNames: PlanNames = {
    ...names,
    shapes,
    cloth: { ...cloth, copies: shapes, across: cloth.along, along: null },
    joins: findJoinsSwapped(names.joins),
  };
  const asked = (wish: Wish, direction: 'across' | 'along'): boolean =>
    !('direction' in wish) || wish.direction === direction;
  return {
    across: {
      terms: planTerms(
        wishes.filter((wish) => asked(wish, 'across')),
        { ...names, cloth: { ...cloth, along: null } },
      ),
      copies: choices.map((one) => ({ ...one, along: null })),
      axes: null,
    },
    along: {
      terms: planTerms(
        wishes
          .filter((wish) => asked(wish, 'along'))
          .map((wish) => ('direction' in wish ? { ...wish, direction: 'across' } : wish)),
        alongNames,
      ),
      copies: choices.map(({ options, along, still }) => ({
        options: options.map((option) => ({ ...option, across: option.along, along: option.across })),
        across: along,
        along: null,
        still: [still[1], still[0]],
      })),
      axes: null,
    },
  };
}

/** A copy with its axes changed over. Signs of areas and turns change with it, which no miss of one direction asks for. */
function swapped(shape: CopyShape): CopyShape {
  const over = ([p, q]: Point): Point => [q, p];
  const points = (of: ReadonlyMap<string, Point>): Map<string, Point> =>
    new Map([...of].map(([id, at]) => [id, over(at)]));
  const seams = (of: ReadonlyMap<string, NamedPath>): Map<string, NamedPath> =>
    new Map(
      [...of].map(([id, seam]) => [
        id,
        { ...seam, path: { ...seam.path, pMm: seam.path.qMm, qMm: seam.path.pMm } },
      ]),
    );
  return {
    ...shape,
    points: { given: points(shape.points.given), mirrored: points(shape.points.mirrored) },
    seams: { given: seams(shape.seams.given), mirrored: seams(shape.seams.mirrored) },
    outline: shape.outline.map(over),
  };
}
