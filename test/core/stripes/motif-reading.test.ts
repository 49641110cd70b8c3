import { describe, expect, it } from 'vitest';
import { ciede2000 } from '../../../src/core/colour/ciede2000.js';
import { labFromRgb8 } from '../../../src/core/colour/lab.js';
import { rgb8FromHex } from '../../../src/core/colour/srgb.js';
import { type MotifReading, readMotifs } from '../../../src/core/stripes/motif-reading.js';
import type { PrintShares } from '../../../src/core/stripes/motif-shares.js';
import {
  arrow,
  type Drawing,
  disc,
  INKS,
  type Lattice,
  latticePrint,
  MADDER,
  type Print,
  type PrintedSheet,
  printedSheet,
  REPEAT_MM,
  SAGE,
  zed,
} from '../../support/printed-sheet.js';

const LATTICE: Lattice = { alongMm: 31.4, drop: 0, atUMm: 10.5, atVMm: 4.2 };

const read = (print: Print, rest: Partial<PrintedSheet> = {}): MotifReading =>
  readMotifs(printedSheet({ ...rest, print }));

/** Distance on a circle of the circumference given. */
const apart = (p: number, q: number, round: number): number =>
  Math.abs(p - q - round * Math.round((p - q) / round));

/** Every painted lattice is known in closed form: 0.5 % of the repeat, 0.03 of a drop is what is promised. */
function expectLattice(reading: MotifReading, alongMm: number, drop: number): void {
  expect(reading.alongMm, 'along').not.toBeNull();
  expect(Math.abs((reading.alongMm ?? 0) / alongMm - 1), 'along').toBeLessThan(0.005);
  expect(reading.dropFraction, 'drop').not.toBeNull();
  expect(apart(reading.dropFraction ?? 0, drop, 1), 'drop').toBeLessThan(0.03);
  expect(reading.dropFraction).toBeGreaterThanOrEqual(0);
  expect(reading.dropFraction).toBeLessThan(1);
}

describe('readMotifs: the lattice', () => {
  it.each([
    [31.4, 0],
    [27.3, 0.25],
    [44, 1 / 3],
    [52.7, 0.5],
    [19.6, 0.7],
    [14.9, 0.5],
  ])('reads a repeat of %f mm along with a drop of %f', (alongMm, drop) => {
    const print = latticePrint({ ...LATTICE, alongMm, drop }, () => arrow(5));
    const reading = read(print);
    expectLattice(reading, alongMm, drop);
    expect(reading.directional).toBe(true);
  });

  it.each([
    [110, 1 / 3],
    [120, 0.25],
    [140, 0.7],
    [170, 0.5],
  ])('reads a repeat of %f mm from 160 mm of cloth by its drop of %f alone', (alongMm, drop) => {
    const print = latticePrint({ ...LATTICE, alongMm, drop }, () => arrow(9));
    expectLattice(read(print, { heightMm: 160 }), alongMm, drop);
  });

  it('tells no repeat along that is longer than half the view where rows are straight', () => {
    const print = latticePrint({ ...LATTICE, alongMm: 110, drop: 0 }, () => arrow(9));
    expect(read(print, { heightMm: 160 }).alongMm).toBeNull();
  });

  it('does not care where on the cloth the print starts, or where the picture does', () => {
    const at = { ...LATTICE, alongMm: 36.2, drop: 0.25 };
    const first = read(latticePrint(at, () => arrow(6)));
    for (const [du, dv] of [
      [7.3, 11.9],
      [29.1, -8.4],
    ]) {
      const moved = latticePrint({ ...at, atUMm: at.atUMm + du, atVMm: at.atVMm + dv }, () => arrow(6));
      const reading = read(moved, { leftUMm: -70.3 - du, topVMm: 97.7 + dv });
      expectLattice(reading, 36.2, 0.25);
      expect(apart(reading.motifs[0].acrossMm, first.motifs[0].acrossMm + du, REPEAT_MM)).toBeLessThan(0.6);
    }
  });

  it('turns a drop d into 1 - d in a mirror, whichever way it stands, and keeps it under a half turn', () => {
    const print = latticePrint({ ...LATTICE, alongMm: 33.3, drop: 0.3 }, () => arrow(5));
    expectLattice(
      read((u, v) => print(2 * LATTICE.atUMm - u, v)),
      33.3,
      0.7,
    );
    expectLattice(
      read((u, v) => print(u, -v)),
      33.3,
      0.7,
    );
    expectLattice(
      read((u, v) => print(2 * LATTICE.atUMm - u, -v)),
      33.3,
      0.3,
    );
  });

  it('is not led astray by a ruler lying askew or by a frame that cuts the cloth askew', () => {
    const print = latticePrint({ ...LATTICE, alongMm: 41.8, drop: 0.5 }, () => arrow(6));
    const seen = (u: number, v: number): boolean =>
      Math.abs(0.8 * (u - 40) + 0.6 * v) > 14 && Math.abs(0.3 * u + v) < 95 && u - 0.4 * v > -60;
    expectLattice(read(print, { seen }), 41.8, 0.5);
  });

  it('reads a print that changes from one motif to the next at its whole repeat', () => {
    const print = latticePrint(LATTICE, (_, along) => disc(5, along % 2 === 0 ? MADDER : SAGE));
    expectLattice(read(print), 62.8, 0);
  });

  it('says that a print repeats across only at every other repeat of the stripes', () => {
    const print = latticePrint(LATTICE, (across) => disc(5, across % 2 === 0 ? MADDER : SAGE));
    const reading = read(print, { widthMm: 330 });
    expect(reading.alongMm).toBeCloseTo(31.4, 1);
    expect(reading.acrossRepeats).toBe(2);
    expect(reading.dropFraction).toBe(0);
  });

  it('tells neighbours that are only much alike from neighbours that are the same', () => {
    const print = latticePrint(LATTICE, (across) => disc(across % 2 === 0 ? 5 : 6.2));
    expect(read(print, { widthMm: 330 }).acrossRepeats).toBe(2);
    expect(
      read(
        latticePrint(LATTICE, () => disc(5)),
        { widthMm: 330 },
      ).acrossRepeats,
    ).toBe(1);
  });

  it('reads a half drop as one where the picture has few rows to a motif', () => {
    // So much cloth in view that a repeat is 13 rows of the raster the lattice is sought on: the drop falls between two.
    const print = latticePrint({ ...LATTICE, alongMm: 26, drop: 0.5 }, () => arrow(5.5));
    const reading = read(print, { widthMm: 620, heightMm: 700, topVMm: 350, leftUMm: -300 });
    expectLattice(reading, 26, 0.5);
    expect(reading.acrossRepeats).toBe(1);
  });

  it('is not led astray by a tape in a colour of the print lying across it', () => {
    const print = latticePrint({ ...LATTICE, alongMm: 34, drop: 0.5 }, () => arrow(6));
    const tape: Print = (u, v) => (Math.abs(v + 0.4 * u - 12) < 9 ? MADDER : print(u, v));
    const reading = read(tape);
    expectLattice(reading, 34, 0.5);
    expect(reading.directional).toBe(true);
    // An arrow of 12 mm height and 10.8 mm base to each 34 mm of a band 22 mm wide: the tape is no part of it.
    const printed = reading.shares?.mixes[0].find((part) => part.colour === MADDER)?.share ?? 0;
    expect(Math.abs(printed - (12 * 10.8) / 2 / (22 * 34))).toBeLessThan(0.01);
  });

  it('does not double the repeat where a ruler hides every other motif of some columns', () => {
    const print = latticePrint({ ...LATTICE, alongMm: 40, drop: 0 }, () => arrow(8));
    const seen = (u: number, v: number): boolean => Math.abs(v - 0.27 * u - 10) > 11;
    expectLattice(read(print, { seen, heightMm: 230, topVMm: 115 }), 40, 0);
  });

  it('reads the repeat along without one across', () => {
    const print = latticePrint({ ...LATTICE, drop: 0.5 }, () => arrow(5));
    const reading = read(print, { repeatMm: null, widthMm: 60, leftUMm: -9.7 });
    expect(Math.abs((reading.alongMm ?? 0) / 31.4 - 1)).toBeLessThan(0.005);
    expect(reading.dropFraction).toBeNull();
  });

  it('adds the error of the scale to that of the reading', () => {
    const input = printedSheet({ print: latticePrint(LATTICE, () => arrow(5)) });
    const exact = readMotifs(input);
    const scaled = readMotifs({ ...input, scaleRelativeSd: 0.002 });
    expect(scaled.alongSdMm).toBeCloseTo(Math.hypot(exact.alongSdMm ?? 0, 0.002 * 31.4), 4);
  });
});

describe('readMotifs: no second period', () => {
  const none = (reading: MotifReading): void => {
    expect(reading.alongMm).toBeNull();
    expect(reading.alongSdMm).toBeNull();
    expect(reading.dropFraction).toBeNull();
    expect(reading.motifs).toEqual([]);
    expect(reading.intrusions).toEqual([]);
    expect(reading.directional).toBeNull();
    expect(reading.directionScore).toBeNull();
  };

  it('answers so for plain stripes', () => none(read(() => null)));

  it('answers so for plain stripes when no colour of a print is named', () =>
    none(read(() => null, { printColours: [] })));

  it('answers so for one stain, for two alike, and for a line along the stripes', () => {
    const stain =
      (u0: number, v0: number): Print =>
      (u, v) =>
        disc(7)(u - u0, v - v0);
    none(read(stain(12, 3)));
    none(read((u, v) => stain(12, 3)(u, v) ?? stain(12, -41)(u, v)));
    none(read((u) => (u > 10 && u < 12.5 ? MADDER : null)));
  });

  it('answers so for blots strewn without order', () => {
    // Places from a linear congruential generator, so that they are the same on every run.
    let state = 20;
    const next = (): number => {
      state = (1103515245 * state + 12345) % 2147483648;
      return state / 2147483648;
    };
    const blots = Array.from({ length: 40 }, () => [-70 + 250 * next(), -118 + 230 * next(), 2 + 4 * next()]);
    const strewn: Print = (u, v) =>
      blots.some(([a, b, r]) => disc(r)(u - a, v - b) !== null) ? MADDER : null;
    none(read(strewn));
    none(read(strewn, { printColours: [] }));
  });

  it('answers so for three alike in one row: that may be chance', () =>
    none(
      read(
        latticePrint({ ...LATTICE, alongMm: 60 }, () => arrow(6)),
        {
          repeatMm: null,
          widthMm: 44,
          leftUMm: -9.7,
        },
      ),
    ));

  it('answers so with one motif in view along the stripes', () =>
    none(read(latticePrint({ ...LATTICE, alongMm: 170 }, () => arrow(8)))));
});

describe('readMotifs: which way it points', () => {
  it('calls a print two-way that a half turn or a mirror keeps', () => {
    for (const drawing of [disc(5), zed(6), arrowSideways]) {
      const reading = read(latticePrint({ ...LATTICE, drop: 0.5 }, () => drawing));
      expect(reading.directional).toBe(false);
      expect(reading.directionScore).toBeLessThan(0.1);
    }
  });

  it('calls arrows one-way, and arrows by turns up and down two-way', () => {
    expect(read(latticePrint(LATTICE, () => arrow(6))).directional).toBe(true);
    const tossed = latticePrint({ ...LATTICE, alongMm: 24 }, (_, along) =>
      along % 2 === 0 ? arrow(6) : (x, y) => arrow(6)(x, -y),
    );
    const reading = read(tossed);
    expect(Math.abs((reading.alongMm ?? 0) / 48 - 1)).toBeLessThan(0.005);
    expect(reading.directional).toBe(false);
  });

  it('gives the same verdict and score when the cloth is turned round', () => {
    const print = latticePrint({ ...LATTICE, drop: 0.3 }, () => arrow(6));
    const one = read(print);
    const other = read((u, v) => print(2 * LATTICE.atUMm - u, -v));
    expect(other.directional).toBe(one.directional);
    expect(Math.abs((other.directionScore ?? 0) - (one.directionScore ?? 0))).toBeLessThan(0.06);
  });

  it('tells which mirrors each drawing has', () => {
    const mirrors = (drawing: ReturnType<typeof arrow>) => {
      const [motif] = read(latticePrint(LATTICE, () => drawing)).motifs;
      return [motif.mirrorsAcross, motif.mirrorsAlong];
    };
    expect(mirrors(disc(5))).toEqual([true, true]);
    expect(mirrors(arrow(6))).toEqual([true, false]);
    expect(mirrors(arrowSideways)).toEqual([false, true]);
    expect(mirrors(zed(6))).toEqual([false, false]);
  });
});

describe('readMotifs: the cell', () => {
  it('finds each drawing of a cell with its place, colour and size', () => {
    const at = { ...LATTICE, alongMm: 46.5, drop: 0.25 };
    const round = latticePrint(at, () => disc(6));
    const small = latticePrint({ ...at, atUMm: 28, atVMm: at.atVMm + 21 }, () => disc(3, SAGE));
    const { motifs } = read((u, v) => round(u, v) ?? small(u, v));
    expect(motifs.map((m) => m.colour)).toEqual([MADDER, SAGE]);
    const expected = [
      { u: 10.5, v: 4.2, size: 12 },
      { u: 28, v: 25.2, size: 6 },
    ];
    motifs.forEach((motif, k) => {
      const { u, v, size } = expected[k];
      expect(Math.abs(motif.acrossMm - u)).toBeLessThan(0.6);
      expect(apart(motif.alongMm, v, 46.5)).toBeLessThan(0.6);
      expect(Math.abs(motif.extentMm[0] - size)).toBeLessThan(1.2);
      expect(Math.abs(motif.extentMm[1] - size)).toBeLessThan(1.2);
    });
  });

  it('tells how far motifs reach over the edges of the bands, and only where they were seen', () => {
    // Of radius 7 about an edge 1.5 mm from its middle: 8.5 into the ivory band, 5.5 into the indigo one.
    const print = latticePrint({ ...LATTICE, atUMm: 20.5 }, () => disc(7));
    const seen = (_: number, v: number): boolean => v > -60;
    const { intrusions } = read(print, { seen });
    const input = printedSheet({ print: () => null });
    expect(intrusions.length).toBeGreaterThan(10);
    for (const one of intrusions) {
      const { band } = input.stretches[one.stretch];
      expect(['end', 'start'][band]).toBe(one.edge);
      expect(Math.abs(one.depthMm - (band === 0 ? 8.5 : 5.5))).toBeLessThan(0.8);
      expect(Math.abs(one.alongToMm - one.alongFromMm - 14)).toBeLessThan(1.2);
      const middle = (one.alongFromMm + one.alongToMm) / 2;
      expect(apart(middle, 4.2, 31.4)).toBeLessThan(0.6);
      expect(middle).toBeGreaterThan(-60.6);
    }
  });

  it('calls a motif that keeps to its band inside', () => {
    const { intrusions } = read(latticePrint(LATTICE, () => disc(5)));
    expect(new Set(intrusions.map((one) => one.edge))).toEqual(new Set(['inside']));
    expect(Math.abs(intrusions[0].depthMm - 10)).toBeLessThan(1.2);
  });
});

/** An arrow that points across the stripes. */
function arrowSideways(x: number, y: number): number | null {
  return arrow(6)(y, x);
}

describe('readMotifs: prints too small to show in the shares of the bands', () => {
  it.each([
    [1.6, 0.5],
    [2.2, 1 / 3],
  ])('finds discs of %f mm radius unaided, with their colour', (radiusMm, drop) => {
    const at = { ...LATTICE, alongMm: 26.3, drop };
    const reading = read(
      latticePrint(at, () => disc(radiusMm)),
      { printColours: [] },
    );
    expectLattice(reading, 26.3, drop);
    const { mixes, colours } = reading.shares as PrintShares;
    const [, printed] = mixes[0];
    expect(
      ciede2000(colours[printed.colour], printedSheet({ print: () => null }).colours[MADDER].lab),
    ).toBeLessThan(8);
    // A disc to each 26.3 mm of a band 22 mm wide.
    expect(Math.abs(printed.share - (Math.PI * radiusMm ** 2) / (22 * 26.3))).toBeLessThan(0.01);
  });

  it('finds bars across an edge', () => {
    const bar = (x: number, y: number): number | null =>
      Math.abs(x) < 1.2 && Math.abs(y) < 2.2 ? MADDER : null;
    const at = { ...LATTICE, alongMm: 29, drop: 0.5, atUMm: 22 };
    expectLattice(
      read(
        latticePrint(at, () => bar),
        { printColours: [] },
      ),
      29,
      0.5,
    );
  });
});

describe('readMotifs: what the print covers', () => {
  const share = (reading: MotifReading, band: number, colour: number): number =>
    reading.shares?.mixes[band].find((part) => part.colour === colour)?.share ?? 0;

  it('deals thin lines and rims out by the area they cover, colours given or not', () => {
    // A disc of 7 mm with seven lines of 0.6 mm: at 1.6 px to the mm no pixel shows a line alone.
    const ribbed: Drawing = (x, y) => {
      if (x * x + y * y >= 49) return null;
      return Math.abs(x - 2 * Math.round(x / 2)) < 0.3 ? 1 : MADDER;
    };
    const lines = [-3, -2, -1, 0, 1, 2, 3].reduce(
      (sum, k) => sum + chordArea(7, 2 * k - 0.3, 2 * k + 0.3),
      0,
    );
    const at = { ...LATTICE, alongMm: 30, atUMm: 11 };
    // The band is ivory as the lines are: what is left of it is what neither disc nor line covers, and the lines.
    const reading = read(
      latticePrint(at, () => ribbed),
      { printColours: [MADDER], pxPerMm: 2.4 },
    );
    const disc7 = Math.PI * 49;
    expect(Math.abs(share(reading, 0, MADDER) - (disc7 - lines) / (22 * 30))).toBeLessThan(0.012);
    expect(reading.shares?.mixes[0].reduce((sum, part) => sum + part.share, 0)).toBeCloseTo(1, 9);
  });

  it('finds a second colour of the print that was not named', () => {
    const two: Drawing = (x, y) => (Math.abs(x) < 5 && Math.abs(y) < 5 ? (x < 0 ? MADDER : SAGE) : null);
    const reading = read(
      latticePrint({ ...LATTICE, alongMm: 30, atUMm: 11 }, () => two),
      { printColours: [MADDER] },
    );
    const { colours, mixes } = reading.shares as PrintShares;
    const added = colours.length - 1;
    expect(ciede2000(colours[added], labFromRgb8(rgb8FromHex(INKS[SAGE])))).toBeLessThan(3);
    for (const colour of [MADDER, added]) {
      const found = mixes[0].find((part) => part.colour === colour)?.share ?? 0;
      expect(Math.abs(found - 50 / (22 * 30)), `colour ${colour}`).toBeLessThan(0.006);
    }
    expect(reading.motifs.map((m) => m.colour).sort()).toEqual([MADDER, added]);
  });
});

/** Area of a disc about the origin between two lines x = from and x = to: by its primitive. */
function chordArea(radius: number, from: number, to: number): number {
  const primitive = (x: number): number => {
    const at = Math.max(-radius, Math.min(radius, x));
    return at * Math.sqrt(radius ** 2 - at ** 2) + radius ** 2 * Math.asin(at / radius);
  };
  return primitive(to) - primitive(from);
}
