import {
  bytes,
  check,
  type Expectation,
  numberWithin,
  oneOf,
  optional,
  orNull,
  record,
  text,
  textLike,
  wholeNumber,
} from '../base/expectation.js';
import { UsageError } from '../base/outcome.js';
import type { Photo } from './photo.js';

/** Smaller shows no stripe along its length, and no ruler. */
const LEAST_PX = 100;

const pictureOf = (leastPx: number, channels: number): Expectation =>
  record(
    {
      width: wholeNumber({ least: leastPx }),
      height: wholeNumber({ least: leastPx }),
      channels: oneOf([channels]),
      data: bytes,
    },
    `a picture of ${channels} channels`,
  );

/** Throws UsageError unless it is an 8-bit picture of so many channels with as many values as its size asks for. */
export function checkPicture(picture: unknown, parameter: string, channels: number, leastPx = 1): void {
  check(picture, parameter, pictureOf(leastPx, channels));
  const { width, height, data } = picture as Photo['picture'];
  checkLength(data, `${parameter}.data`, width * height * channels);
}

/** Throws UsageError unless these are so many bytes. */
export function checkLength(data: unknown, parameter: string, length: number): void {
  check(data, parameter, bytes);
  const received = (data as Uint8Array).length;
  if (received !== length) throw new UsageError(`expected ${length} values, received ${received}`, parameter);
}

const PHOTO = record(
  {
    photoPerPicture: numberWithin({ least: 1 }),
    widthPx: wholeNumber({ least: 1 }),
    heightPx: wholeNumber({ least: 1 }),
    // Shorter sees half round, longer is a telescope's; the field holds no more.
    focal35Mm: orNull(numberWithin({ above: 0, most: 65535 }, 'mm')),
    file: optional(text),
    sha256: optional(textLike(/^[0-9a-f]{64}$/, '64 hexadecimal digits')),
  },
  'a photo',
);

/** Throws UsageError unless it can be a photo: see `Photo`. */
export function checkPhoto(photo: Photo, parameter: string): void {
  check(photo, parameter, PHOTO);
  checkPicture(photo.picture, `${parameter}.picture`, 3, LEAST_PX);
  for (const [side, wholePx, shownPx] of [
    ['widthPx', photo.widthPx, photo.picture.width],
    ['heightPx', photo.heightPx, photo.picture.height],
  ] as const) {
    // A shrunk side is a whole number of pixels.
    if (Math.abs(wholePx / photo.photoPerPicture - shownPx) > 1) {
      throw new UsageError(
        `expected the picture's ${shownPx} pixels times photoPerPicture, received ${wholePx}`,
        `${parameter}.${side}`,
      );
    }
  }
}
