import { deflateSync, gzipSync } from 'node:zlib';
import sharp from 'sharp';
import type { SeededRandom } from '../../test/support/photo-painter/seeded-random.js';

export interface NamedFile {
  readonly what: string;
  readonly ending: string;
  readonly bytes: Buffer;
}

/** Files made on purpose to exhaust memory or time, to reach other files, or to lead a reader round in circles. */
export async function hostileFiles(random: SeededRandom): Promise<NamedFile[]> {
  const jpeg = await sharp({ create: { width: 2000, height: 1500, channels: 3, background: '#8a7a5a' } })
    .jpeg({ quality: 40 })
    .toBuffer();
  return [
    ...absurdPngs(),
    ...absurdJpegs(jpeg),
    ...hostileExif(jpeg, random),
    ...hostileProfiles(jpeg, random),
    ...notPhotos(),
    ...(await deepPictures()),
  ];
}

const chunk = (type: string, body: Buffer): Buffer => {
  const out = Buffer.alloc(12 + body.length);
  out.writeUInt32BE(body.length, 0);
  out.write(type, 4, 'latin1');
  body.copy(out, 8);
  out.writeUInt32BE(crc32(out.subarray(4, 8 + body.length)), 8 + body.length);
  return out;
};

/** Of PNG (ISO 3309), so that its readers look at the chunk at all. */
function crc32(bytes: Buffer): number {
  let crc = 0xffffffff;
  for (const byte of bytes) {
    crc ^= byte;
    for (let k = 0; k < 8; k++) crc = crc & 1 ? (crc >>> 1) ^ 0xedb88320 : crc >>> 1;
  }
  return (crc ^ 0xffffffff) >>> 0;
}

function png(
  width: number,
  height: number,
  depth: number,
  colour: number,
  data: Buffer,
  extra: Buffer[] = [],
): Buffer {
  const header = Buffer.alloc(13);
  header.writeUInt32BE(width, 0);
  header.writeUInt32BE(height, 4);
  header[8] = depth;
  header[9] = colour;
  const mark = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
  return Buffer.concat([
    mark,
    chunk('IHDR', header),
    ...extra,
    chunk('IDAT', data),
    chunk('IEND', Buffer.alloc(0)),
  ]);
}

function absurdPngs(): NamedFile[] {
  const nothing = deflateSync(Buffer.alloc(1000));
  const bomb = deflateSync(Buffer.alloc(60e6));
  const sizes: readonly [number, number][] = [
    [0, 0],
    [1, 3_000_000],
    [3_000_000, 1],
    [100_000, 1000],
    [65_535, 65_535],
    [2 ** 31 - 1, 2 ** 31 - 1],
    [2 ** 31, 1],
    [1_000_000, 99],
    [10_001, 10_000],
  ];
  return [
    ...sizes.map(([width, height]) => ({
      what: `PNG that says ${width} x ${height}`,
      ending: 'png',
      bytes: png(width, height, 8, 2, nothing),
    })),
    { what: 'PNG of 100 megapixels in 60 KB', ending: 'png', bytes: png(7745, 7745, 8, 0, bomb) },
    {
      what: 'PNG of 16 bits, 25 megapixels, data for a part',
      ending: 'png',
      bytes: png(5000, 5000, 16, 6, bomb),
    },
    {
      what: 'PNG with a text that unpacks to 60 MB',
      ending: 'png',
      bytes: png(2000, 1500, 8, 0, nothing, [chunk('zTXt', Buffer.concat([Buffer.from('a\0\0'), bomb]))]),
    },
    {
      what: 'PNG with a profile that unpacks to 60 MB',
      ending: 'png',
      bytes: png(2000, 1500, 8, 2, nothing, [chunk('iCCP', Buffer.concat([Buffer.from('a\0\0'), bomb]))]),
    },
    {
      what: 'PNG with ten thousand chunks',
      ending: 'png',
      bytes: png(
        2000,
        1500,
        8,
        2,
        nothing,
        Array.from({ length: 10_000 }, () => chunk('tEXt', Buffer.from('a\0b'))),
      ),
    },
  ];
}

/** The size in the frame header changed: FF C0, length, precision, height, width. */
function absurdJpegs(jpeg: Buffer): NamedFile[] {
  const frame = jpeg.indexOf(Buffer.from([0xff, 0xc0, 0x00, 0x11]));
  const sizes: readonly [number, number][] = [
    [0, 0],
    [65_535, 65_535],
    [65_500, 1500],
    [1, 65_535],
    [10_000, 10_000],
  ];
  return sizes.map(([width, height]) => {
    const bytes = Buffer.from(jpeg);
    bytes.writeUInt16BE(height, frame + 5);
    bytes.writeUInt16BE(width, frame + 7);
    return { what: `JPEG that says ${width} x ${height}`, ending: 'jpg', bytes };
  });
}

const segment = (marker: number, body: Buffer): Buffer => {
  const head = Buffer.from([0xff, marker, 0, 0]);
  head.writeUInt16BE(Math.min(0xffff, body.length + 2), 2);
  return Buffer.concat([head, body]);
};
const withSegments = (jpeg: Buffer, segments: readonly Buffer[]): Buffer =>
  Buffer.concat([jpeg.subarray(0, 2), ...segments, jpeg.subarray(2)]);

/** One directory whose entries are [tag, type, count, value]; `next` is where the following one would be. */
function exif(entries: readonly (readonly [number, number, number, number])[], next = 0): Buffer {
  const out = Buffer.alloc(8 + 2 + 12 * entries.length + 4);
  out.write('MM\0*', 0, 'latin1');
  out.writeUInt32BE(8, 4);
  out.writeUInt16BE(entries.length, 8);
  entries.forEach(([tag, type, count, value], k) => {
    out.writeUInt16BE(tag, 10 + 12 * k);
    out.writeUInt16BE(type, 12 + 12 * k);
    out.writeUInt32BE(count, 14 + 12 * k);
    out.writeUInt32BE(value, 18 + 12 * k);
  });
  out.writeUInt32BE(next, out.length - 4);
  return Buffer.concat([Buffer.from('Exif\0\0'), out]);
}

function hostileExif(jpeg: Buffer, random: SeededRandom): NamedFile[] {
  const rubbish = Buffer.from(Array.from({ length: 3000 }, () => Math.floor(256 * random.uniform())));
  const blocks: readonly [string, Buffer][] = [
    ['a directory that points to itself', exif([[0x8769, 4, 1, 8]], 8)],
    ['a pointer far outside', exif([[0x8769, 4, 1, 0xfffffff0]])],
    ['a pointer to its last byte', exif([[0x8769, 4, 1, 25]])],
    [
      '65535 entries and none of them',
      Buffer.concat([Buffer.from('Exif\0\0MM\0*\0\0\0\x08\xff\xff', 'latin1')]),
    ],
    ['a count of four thousand millions', exif([[0x010f, 2, 0xffffffff, 8]])],
    ...[0, 9, 255, 65_535].map((turn): [string, Buffer] => [
      `orientation ${turn}`,
      exif([[0x0112, 3, 1, turn * 0x10000]]),
    ]),
    ['an orientation of type 99', exif([[0x0112, 99, 7, 1]])],
    [
      'a focal length of 65535 mm',
      exif([
        [0x8769, 4, 1, 26],
        [0xa405, 3, 1, 0xffff0000],
      ]),
    ],
    ['rubbish', Buffer.concat([Buffer.from('Exif\0\0II*\0'), rubbish])],
    ['nothing but its name', Buffer.from('Exif\0\0')],
    ['less than its name', Buffer.from('Ex')],
  ];
  return blocks.map(([what, block]) => ({
    what: `EXIF: ${what}`,
    ending: 'jpg',
    bytes: withSegments(jpeg, [segment(0xe1, block)]),
  }));
}

function hostileProfiles(jpeg: Buffer, random: SeededRandom): NamedFile[] {
  const rubbish = (length: number): Buffer =>
    Buffer.from(Array.from({ length }, () => Math.floor(256 * random.uniform())));
  const part = (k: number, of: number, body: Buffer): Buffer =>
    segment(0xe2, Buffer.concat([Buffer.from('ICC_PROFILE\0'), Buffer.from([k, of]), body]));
  const header = (size: number, tags: number): Buffer => {
    const out = Buffer.alloc(400);
    out.writeUInt32BE(size, 0);
    out.write('mntrRGB XYZ ', 12, 'latin1');
    out.write('acsp', 36, 'latin1');
    out.writeUInt32BE(tags, 128);
    for (let at = 132; at + 12 <= 400; at += 12) {
      out.write('rXYZ', at, 'latin1');
      out.writeUInt32BE(0xfffffff0, at + 4);
      out.writeUInt32BE(0xffffffff, at + 8);
    }
    return out;
  };
  const cases: readonly [string, Buffer[]][] = [
    ['rubbish', [part(1, 1, rubbish(600))]],
    ['part 2 of 1', [part(2, 1, rubbish(100))]],
    ['part 0 of 0', [part(0, 0, rubbish(100))]],
    ['255 parts, of which one is there', [part(7, 255, rubbish(100))]],
    ['the same part twice', [part(1, 2, rubbish(100)), part(1, 2, rubbish(100))]],
    ['a size of 4 GB', [part(1, 1, header(0xffffffff, 3))]],
    ['four thousand million tags', [part(1, 1, header(400, 0xffffffff))]],
    ['tags that lie outside', [part(1, 1, header(400, 20))]],
    ['nothing in it', [part(1, 1, Buffer.alloc(0))]],
    [
      '65 KB of rubbish in each of 40 parts',
      Array.from({ length: 40 }, (_, k) => part(k + 1, 40, rubbish(64_000))),
    ],
  ];
  return cases.map(([what, parts]) => ({
    what: `colour profile: ${what}`,
    ending: 'jpg',
    bytes: withSegments(jpeg, parts),
  }));
}

/** Other things under a photo's name. */
function notPhotos(): NamedFile[] {
  const laughs = Array.from({ length: 12 }, (_, k) => `<!ENTITY l${k + 1} "${`&l${k};`.repeat(10)}">`).join(
    '',
  );
  const texts: readonly [string, string][] = [
    [
      'SVG',
      '<svg xmlns="http://www.w3.org/2000/svg" width="2000" height="1500"><rect width="9" height="9"/></svg>',
    ],
    [
      'SVG of a thousand million px',
      '<svg xmlns="http://www.w3.org/2000/svg" width="1000000000" height="1000000000"/>',
    ],
    [
      'SVG that takes in another file',
      '<?xml version="1.0"?><!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/hostname">]><svg xmlns="http://www.w3.org/2000/svg" width="2000" height="1500"><text y="50">&x;</text><image href="file:///etc/hostname" width="9" height="9"/></svg>',
    ],
    [
      'SVG of entities in entities',
      `<?xml version="1.0"?><!DOCTYPE svg [<!ENTITY l0 "x">${laughs}]><svg xmlns="http://www.w3.org/2000/svg" width="2000" height="1500"><text>&l12;</text></svg>`,
    ],
    [
      'SVG that uses itself',
      '<svg xmlns="http://www.w3.org/2000/svg" width="2000" height="1500"><g id="a"><use href="#a"/><use href="#a"/></g></svg>',
    ],
    [
      'SVG nested ten thousand deep',
      `<svg xmlns="http://www.w3.org/2000/svg" width="2000" height="1500">${'<g>'.repeat(10_000)}`,
    ],
    ['HTML', '<!doctype html><title>Not found</title>'],
    ['JSON', '{"format":"stripewright.band-model"}'],
    ['PDF', '%PDF-1.7\n1 0 obj<</Type/Catalog>>endobj\ntrailer<</Root 1 0 R>>'],
    ['a portable anymap', 'P6 2000 1500 255\n'],
    ['nothing', ''],
    ['one byte', 'x'],
  ];
  return [
    ...texts.map(([what, text]) => ({ what, ending: 'jpg', bytes: Buffer.from(text) })),
    {
      what: 'SVG, packed, of 60 MB',
      ending: 'jpg',
      bytes: gzipSync(`<svg xmlns="http://www.w3.org/2000/svg">${' '.repeat(60e6)}</svg>`),
    },
    { what: 'noughts', ending: 'png', bytes: Buffer.alloc(1e6) },
    {
      what: 'a TIFF whose directory is itself',
      ending: 'tif',
      bytes: Buffer.from([0x49, 0x49, 0x2a, 0, 8, 0, 0, 0, 0, 0, 8, 0, 0, 0]),
    },
    { what: 'a TIFF of strips of 4 GB', ending: 'tif', bytes: hugeTiff() },
    {
      what: 'a HEIF box of 4 GB',
      ending: 'heic',
      bytes: Buffer.concat([
        Buffer.from([0, 0, 0, 24]),
        Buffer.from('ftypheic\0\0\0\0heicmif1'),
        Buffer.from([0xff, 0xff, 0xff, 0xff]),
        Buffer.from('meta'),
      ]),
    },
  ];
}

function hugeTiff(): Buffer {
  const entries: readonly (readonly [number, number, number])[] = [
    [256, 4, 9000],
    [257, 4, 9000],
    [258, 3, 8],
    [259, 3, 1],
    [262, 3, 1],
    [273, 4, 0xfffffff0],
    [277, 3, 1],
    [278, 4, 0xffffffff],
    [279, 4, 0xffffffff],
  ];
  const out = Buffer.alloc(8 + 2 + 12 * entries.length + 4);
  out.write('II*\0', 0, 'latin1');
  out.writeUInt32LE(8, 4);
  out.writeUInt16LE(entries.length, 8);
  entries.forEach(([tag, type, value], k) => {
    out.writeUInt16LE(tag, 10 + 12 * k);
    out.writeUInt16LE(type, 12 + 12 * k);
    out.writeUInt32LE(1, 14 + 12 * k);
    out.writeUInt32LE(value, 18 + 12 * k);
  });
  return out;
}

/** Whole pictures of kinds that no phone makes. */
async function deepPictures(): Promise<NamedFile[]> {
  const flat = (channels: 3 | 4) =>
    sharp({
      create: { width: 2000, height: 1500, channels, background: { r: 90, g: 80, b: 70, alpha: 0.5 } },
    });
  return [
    {
      what: 'a TIFF of one bit',
      ending: 'tif',
      bytes: await flat(3).toColourspace('b-w').tiff({ bitdepth: 1 }).toBuffer(),
    },
    {
      what: 'a PNG of 16 bits with alpha',
      ending: 'png',
      bytes: await flat(4).toColourspace('rgb16').png().toBuffer(),
    },
    { what: 'a JPEG in CMYK', ending: 'jpg', bytes: await flat(3).toColourspace('cmyk').jpeg().toBuffer() },
    { what: 'a grey JPEG', ending: 'jpg', bytes: await flat(3).toColourspace('b-w').jpeg().toBuffer() },
    {
      what: 'a TIFF in floating point',
      ending: 'tif',
      bytes: await flat(3).toColourspace('scrgb').tiff().toBuffer(),
    },
  ];
}
