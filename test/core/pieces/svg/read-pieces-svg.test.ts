import { describe, expect, it } from 'vitest';
import { areaMm2, perimeterMm } from '../../../../src/core/pieces/geometry/outline.js';
import { seamLengthMm } from '../../../../src/core/pieces/geometry/whole-piece.js';
import type { PiecesFile } from '../../../../src/core/pieces/piece/pieces-file.js';
import { readPiecesSvg } from '../../../../src/core/pieces/svg/read-pieces-svg.js';
import { writePiecesSvg } from '../../../../src/core/pieces/svg/write-pieces-svg.js';
import { expectSamePieces } from '../../../support/pieces/same-pieces.js';
import { fileOf, gore } from '../../../support/pieces/small-pieces.js';

const read = (text: string): PiecesFile => {
  const outcome = readPiecesSvg(text);
  if (!outcome.ok) throw new Error(outcome.refusal.found);
  return outcome.value;
};
const drawing = (body: string, size = 'width="300mm" height="400mm" viewBox="0 0 300 400"'): string =>
  `<svg xmlns="http://www.w3.org/2000/svg" xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape" ${size}>${body}</svg>`;
const refusal = (body: string, size?: string) => {
  const outcome = readPiecesSvg(drawing(body, size));
  return outcome.ok ? null : outcome.refusal;
};
const SQUARE = '<path id="stitching" d="M10 10H110V110H10Z"/>';
const GRAIN = '<path id="grain" d="M60 100V20"/>';

describe('pieces written as a drawing and read again', () => {
  it('are the same to 0.01 mm', () => {
    const file = fileOf(
      gore({ notches: ['hem'], points: { ...gore().points, mark: [33.3333, 77.7777] } }),
      gore({
        id: 'half, "odd" & <name>',
        fold: 'centre',
        stripes: { to: 'side', angle_deg: -12.5 },
        copies: [
          { id: 'a, b', mirrored: false },
          { id: 'left mirrored', mirrored: true },
        ],
      }),
      gore({
        id: 'cut',
        copies: [{ id: 'cut', mirrored: true }],
        allowance_mm: null,
        cutting: [
          [-10, -10],
          [140.123, -10],
          [90, 215],
          [-10, 215],
        ],
        stitching: [...gore().stitching].reverse(),
        seams: [
          { id: 'side', from: 'top', to: 'hem' },
          { id: 'all', from: 'neck', to: 'neck' },
        ],
      }),
    );
    expectSamePieces(read(writePiecesSvg(file)), file);
    expect(read(writePiecesSvg(file)).warnings).toBeUndefined();
  });
});

describe('units', () => {
  // CSS Values 3, section 6.2: 1 in = 25.4 mm = 72 pt = 6 pc; 1 Q = 1/40 cm.
  it.each([
    ['width="100mm" height="100mm" viewBox="0 0 100 100"', 1],
    ['width="10in" height="10in" viewBox="0 0 100 100"', 2.54],
    ['width="72pt" viewBox="0 0 254 254"', 0.1],
    ['height="6pc" viewBox="5 -3 254 254"', 0.1],
    ['width="793.70079mm" height="1122.5197mm" viewBox="0 0 210 297"', 793.70079 / 210],
    ['width="400q" height="400q" viewBox="0 0 100 100"', 1],
  ])('takes a unit of %s as %f mm', (size, mm) => {
    const [piece] = read(drawing(`<g id="piece-sash">${SQUARE}${GRAIN}</g>`, size)).pieces;
    expect(Math.sqrt(areaMm2(piece.stitching))).toBeCloseTo(100 * mm, 3);
  });

  it('turns y up', () => {
    const [piece] = read(drawing(`<g id="piece-sash">${SQUARE}${GRAIN}</g>`)).pieces;
    expect(piece.stitching[0]).toEqual([10, 390]);
    expect(piece.grain).toEqual([
      [60, 300],
      [60, 380],
    ]);
  });

  it.each([
    'width="300" height="400" viewBox="0 0 300 400"',
    'width="300px" height="400px" viewBox="0 0 300 400"',
    'width="100%" viewBox="0 0 1 1"',
    'viewBox="0 0 300 400"',
    'width="300mm" height="400mm"',
    'width="300mm" viewBox="0 0 0 400"',
  ])('refuses %s as without units', (size) => {
    const found = refusal(`<g id="piece-sash">${SQUARE}${GRAIN}</g>`, size);
    expect(found?.reason).toBe('no-scale');
    expect(found?.remedy).toMatch(/mm/);
  });

  it('says when width and height disagree', () => {
    const file = read(
      drawing(
        `<g id="piece-sash">${SQUARE}${GRAIN}</g>`,
        'width="100mm" height="102mm" viewBox="0 0 100 100"',
      ),
    );
    expect(file.warnings?.[0]).toMatchObject({ code: 'uneven-scale' });
  });
});

describe('shapes', () => {
  const outlineOf = (shape: string) =>
    read(drawing(`<g id="piece-a"><g id="stitching">${shape}</g>${GRAIN}</g>`)).pieces[0].stitching;

  // Closed forms: areas of the circle, the ellipse, the rounded rectangle.
  it.each([
    ['<circle cx="150" cy="200" r="100"/>', Math.PI * 1e4],
    ['<ellipse cx="150" cy="200" rx="120" ry="60"/>', Math.PI * 7200],
    ['<rect x="10" y="10" width="200" height="100"/>', 2e4],
    ['<rect x="10" y="10" width="200" height="100" rx="20"/>', 2e4 - (4 - Math.PI) * 400],
    ['<polygon points="0,0 100,0 0,100"/>', 5000],
    ['<path d="M50 50 a50 50 0 1 0 100 0 50 50 0 1 0 -100 0z"/>', Math.PI * 2500],
    [
      '<path transform="translate(200 20) rotate(30) skewX(20) scale(2 .5)" d="M0 0a50 50 0 1 0 100 0 50 50 0 1 0 -100 0z"/>',
      Math.PI * 2500,
    ],
    [
      '<path transform="matrix(0 -1 1 0 10 350)" d="m0 0 100 0 0 50-100 0"/><path transform="matrix(0 -1 1 0 10 350)" d="M0 50V0"/>',
      5000,
    ],
    ['<path d="M0 100 Q 100 0 200 100 Z"/>', (2 / 3) * 200 * 50],
    ['<path d="M0 100 C 0 50 200 50 200 100 z"/>', 0.6 * 200 * 50],
  ])('measures %s', (shape, area) => {
    const outline = outlineOf(shape);
    expect(Math.abs(areaMm2(outline) - area)).toBeLessThan(0.01 * perimeterMm(outline));
  });

  it('keeps within 0.01 mm of a circle, with few points', () => {
    const circle = outlineOf('<circle cx="150" cy="200" r="100"/>');
    for (let i = 0; i < circle.length; i++) {
      const [p, q] = [circle[i], circle[(i + 1) % circle.length]];
      expect(Math.hypot(p[0] - 150, p[1] - 200)).toBeCloseTo(100, 6);
      expect(100 - Math.hypot((p[0] + q[0]) / 2 - 150, (p[1] + q[1]) / 2 - 200)).toBeLessThan(0.0101);
    }
    // pi / acos(1 - 0.01 / 100) chords would do.
    expect(circle.length).toBeLessThan(230);
  });

  it('shows what "use" copies and passes over what is hidden', () => {
    const file = read(
      drawing(
        `<defs><path id="half" d="M0 0H50V50H0Z"/></defs><g inkscape:label="piece a"><g inkscape:label="stitching"><use href="#half" x="20" y="30"/></g>${GRAIN}<path id="cutting" style="display:none" d="M0 0"/></g>`,
      ),
    );
    expect(file.pieces[0].stitching[0]).toEqual([20, 370]);
    expect(file.pieces[0].cutting).toBeNull();
    expect(refusal(`<g id="piece-a"><use href="#piece-a"/></g>`)?.found).toMatch(/without end/);
  });
});

describe('names', () => {
  const body = `<g inkscape:label="piece front half" id="layer1">
    <path inkscape:label="stitching line" id="path3" d="M10 10H110V210H10Z"/>
    <path data-name="grain" id="grain1" d="M60 200V20M60 20l-3 6"/>
    <path id="seam_side" d="M110 10.00V210"/><path inkscape:label="fold centre" id="path9" d="M10 210V10"/>
    <g inkscape:label="points"><circle inkscape:label="hem" cx="110" cy="210" r="2"/><circle id="waist" cx="110" cy="100" r="2"/></g>
    <path inkscape:label="notch n7" d="M106 60h8"/>
    <text x="1" y="2"><tspan x="1" y="2">copies: left, right mirrored</tspan><tspan x="1" y="9">allowance: 5/8 in</tspan><tspan x="1" y="16">stripes: along seam side, turned 10 degrees</tspan></text>
    <text>seam waist up: waist to hem</text></g>`;

  it('says by layers, labels, kept names and ids what is what', () => {
    const [piece] = read(drawing(body)).pieces;
    expect(piece).toMatchObject({
      id: 'front half',
      allowance_mm: 15.875,
      stripes: { to: 'side', angle_deg: 10 },
      fold: 'centre',
      grain: [
        [60, 200],
        [60, 380],
      ],
      notches: ['n7'],
      copies: [
        { id: 'left', mirrored: false },
        { id: 'right', mirrored: true },
      ],
    });
    expect(piece.seams.map((seam) => seam.id)).toEqual(['side', 'centre', 'waist up']);
    expect(piece.seams[0]).toEqual({ id: 'side', from: 'side start', to: 'hem' });
    expect(piece.points).toMatchObject({ hem: [110, 190], waist: [110, 300], n7: [110, 340] });
    expect(seamLengthMm(piece, 'side')).toBeCloseTo(200, 6);
    expect(seamLengthMm(piece, 'waist up')).toBeCloseTo(110, 6);
  });

  it('lists the line the way most of its seams are drawn, and says which are not', () => {
    const turned = body
      .replace('M110 10.00V210', 'M110 210V10')
      .replace('M10 210V10', 'M10 10V210')
      .replace('waist to hem', 'hem to waist');
    const [piece] = read(drawing(turned)).pieces;
    expect(piece.stitching).toEqual([...read(drawing(body)).pieces[0].stitching].reverse());
    expect(piece.seams[0]).toEqual({ id: 'side', from: 'hem', to: 'side end' });
    const mixed = read(drawing(body.replace('M10 210V10', 'M10 10V210')));
    expect(mixed.warnings).toMatchObject([{ code: 'seam-turned' }]);
    expect(mixed.pieces[0].seams).toMatchObject(
      read(drawing(body)).pieces[0].seams.map(({ id }) => ({ id })),
    );
  });

  it('takes named closed lines for pieces where nothing is named as one', () => {
    const file = read(drawing('<path id="collar" d="M0 0H90V40H0z"/><path id="path77" d="M0 0H9V4H0z"/>'));
    expect(file.pieces.map((piece) => piece.id)).toEqual(['collar']);
    expect(file.warnings?.map((one) => one.code)).toEqual(['pieces-guessed', 'no-grain']);
    expect(refusal('<path d="M0 0H90V40H0z"/>')?.remedy).toMatch(/"piece front"/);
  });

  it.each([
    [
      'an open line',
      '<path id="stitching" d="M10 10H110V110H10"/>',
      /stitching line is open: it starts at \(10, 390\) mm and ends 100 mm away/,
    ],
    [
      'two lines',
      `${SQUARE}<path data-role="stitching" d="M200 10h50v50z"/>`,
      /2 closed lines for its stitching line/,
    ],
    [
      'a coordinate that is no number',
      '<path id="stitching" d="M10 10L110 abc"/>',
      /the path at line 1 cannot be read/,
    ],
    ['a number beyond numbers', '<path id="stitching" d="M10 10H1e400V50z"/>', /a coordinate is no number/],
    [
      'a crossing',
      '<path id="stitching" d="M0 0L100 100V0L0 100z"/>',
      /crosses or touches itself at \(50, 350\)/,
    ],
    [
      'a seam off the line',
      `${SQUARE}<path id="seam-side" d="M110 10L112 60L110 110"/>`,
      /seam "side" leaves the stitching line by 2 mm at \(112, 340\)/,
    ],
    ['an unknown transform', `<g transform="turn(3)">${SQUARE}</g>`, /transform "turn\(3\)" at line 1/],
    ['a nameless seam', `${SQUARE}<path id="seam" d="M110 10V110"/>`, /a seam has no name/],
    ['half a sentence', `${SQUARE}<text>stripes: sideways</text>`, /"stripes: sideways" is not understood/],
    ['an allowance without unit', `${SQUARE}<text>allowance: 15</text>`, /allowance is "15"/],
  ])('refuses %s with the piece and the place', (_, lines, words) => {
    const found = refusal(`<g id="piece-a">${lines}${GRAIN}</g>`)?.found;
    expect(found).toMatch(words);
    if (!/transform/.test(String(words))) expect(found).toMatch(/piece "a"/);
  });

  it.each([
    '',
    'not XML',
    '<svg',
    '<html/>',
    '<!DOCTYPE svg [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;">]><svg>&b;',
  ])('refuses what is no drawing: %s', (text) => {
    const outcome = readPiecesSvg(text);
    expect(!outcome.ok && outcome.refusal.reason).toBe('unreadable');
  });
});
