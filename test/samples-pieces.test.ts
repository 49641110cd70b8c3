import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { tunicPieces } from '../scripts/drafting/tunic.js';
import { areaMm2 } from '../src/core/pieces/geometry/outline.js';
import { seamLengthMm, wholeStitching } from '../src/core/pieces/geometry/whole-piece.js';
import { parsePieces, readPiecesDxf, readPiecesSvg } from '../src/index.js';
import { expectSamePieces } from './support/pieces/same-pieces.js';
import { fileOf } from './support/pieces/small-pieces.js';

const sample = (name: string): string =>
  readFileSync(new URL(`../samples/pieces/${name}`, import.meta.url), 'utf8');

const piecesOf = (outcome: ReturnType<typeof parsePieces>) => {
  if (!outcome.ok) throw new Error(outcome.refusal.found);
  return outcome.value;
};
const tunic = piecesOf(parsePieces(sample('tunic.pieces.json')));
const length = (piece: string, seam: string): number =>
  seamLengthMm(tunic.pieces.find((one) => one.id === piece)!, seam);

describe('the tunic', () => {
  it('is what its script drafts', () => {
    expectSamePieces(tunic, fileOf(...tunicPieces()), 1e-4);
  });

  it('is the same as JSON, drawing and DXF', () => {
    expectSamePieces(piecesOf(readPiecesSvg(sample('tunic.svg'))), tunic);
    expectSamePieces(piecesOf(readPiecesDxf(sample('tunic.dxf'))), tunic);
  });

  it('goes together: seams that are sewn are as long, the cap eased in by 12 mm', () => {
    for (const seam of ['side', 'gore side', 'shoulder'])
      expect(length('front', seam)).toBeCloseTo(length('back', seam), 3);
    expect(length('gore', 'front side')).toBeCloseTo(length('front', 'gore side'), 3);
    expect(length('back', 'dart outer leg')).toBeCloseTo(length('back', 'dart inner leg'), 3);
    expect(length('sleeve', 'underarm front')).toBeCloseTo(length('sleeve', 'underarm back'), 3);
    const cap = length('sleeve', 'cap front') + length('sleeve', 'cap back');
    expect(cap - length('front', 'armhole') - length('back', 'armhole')).toBeCloseTo(12, 2);
    const neck = length('front', 'neck') + length('back', 'neck outer') + length('back', 'neck inner');
    expect(Math.abs(length('collar', 'neck') - neck)).toBeLessThan(1);
  });

  it('has a collar that unfolds to twice its half', () => {
    const collar = tunic.pieces.find((piece) => piece.id === 'collar')!;
    expect(areaMm2(wholeStitching(collar))).toBeCloseTo(2 * areaMm2(collar.stitching), 3);
  });
});

it('the template is read without a word', () => {
  const file = piecesOf(readPiecesSvg(sample('template.svg')));
  expect(file.warnings).toBeUndefined();
  expect(file.pieces).toMatchObject([
    {
      id: 'gore',
      name: 'Side gore',
      allowance_mm: 15,
      notches: ['n1'],
      copies: [
        { id: 'gore right', mirrored: false },
        { id: 'gore left', mirrored: true },
      ],
    },
  ]);
  expect(file.pieces[0].seams.map((seam) => seam.id)).toEqual(['back side', 'front side', 'hem']);
  // The line drawn rises by 12 over 32: atan(12 / 32) = 20.556 degrees, 69.444 clockwise of upright.
  expect(file.pieces[0].stripes.angle_deg).toBeCloseTo(-69.444, 3);
});
