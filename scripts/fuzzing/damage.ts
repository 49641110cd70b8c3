import type { SeededRandom } from '../../test/support/photo-painter/seeded-random.js';

/** Numbers that break what counts with them. */
const AWKWARD = [
  0, 1, 2, 0x7f, 0x80, 0xff, 0x7fff, 0x8000, 0xffff, 0x10000, 0x7fffffff, 0x80000000, 0xffffffff,
];

type Damage = (bytes: Buffer, random: SeededRandom) => Buffer;

const place = (length: number, random: SeededRandom): number => Math.floor(random.uniform() * length);
/** A place near the beginning, where headers are, more often than not. */
const early = (length: number, random: SeededRandom): number =>
  random.uniform() < 0.7 ? place(Math.min(length, 700), random) : place(length, random);

/** What happens to files on their way, and what somebody would do to them on purpose. */
export const DAMAGES: Readonly<Record<string, Damage>> = {
  'cut short': (bytes, random) => bytes.subarray(0, place(bytes.length, random)),
  'first bytes lost': (bytes, random) => bytes.subarray(1 + early(bytes.length - 1, random)),
  'bytes changed': (bytes, random) => {
    const out = Buffer.from(bytes);
    const count = 1 + place(20, random);
    for (let k = 0; k < count; k++) out[early(out.length, random)] = place(256, random);
    return out;
  },
  'bits turned': (bytes, random) => {
    const out = Buffer.from(bytes);
    const count = 1 + place(60, random);
    for (let k = 0; k < count; k++) out[place(out.length, random)] ^= 1 << place(8, random);
    return out;
  },
  'a stretch blanked': (bytes, random) => {
    const out = Buffer.from(bytes);
    const from = early(out.length, random);
    const to = Math.min(out.length, from + 1 + place(5000, random));
    return out.fill(random.uniform() < 0.5 ? 0 : 0xff, from, to);
  },
  'a stretch twice': (bytes, random) => {
    const from = place(bytes.length, random);
    const to = Math.min(bytes.length, from + 1 + place(3000, random));
    return Buffer.concat([bytes.subarray(0, to), bytes.subarray(from)]);
  },
  'a stretch left out': (bytes, random) => {
    const from = early(bytes.length, random);
    return Buffer.concat([bytes.subarray(0, from), bytes.subarray(from + 1 + place(3000, random))]);
  },
  'rubbish put in': (bytes, random) => {
    const rubbish = Buffer.from(Array.from({ length: 1 + place(500, random) }, () => place(256, random)));
    const from = early(bytes.length, random);
    return Buffer.concat([bytes.subarray(0, from), rubbish, bytes.subarray(from)]);
  },
  'a number made awkward': (bytes, random) => {
    const out = Buffer.from(bytes);
    const value = AWKWARD[place(AWKWARD.length, random)];
    const at = Math.min(out.length - 4, early(out.length, random));
    if (at < 0) return out;
    const way = place(3, random);
    if (way === 0) out.writeUInt16BE(value & 0xffff, at);
    else if (way === 1) out.writeUInt32BE(value, at);
    else out.writeUInt32LE(value, at);
    return out;
  },
};
