import { createRequire } from 'node:module';
import type * as OpenCv from '@techstark/opencv-js';

/**
 * The outside library that pictures and homographies are compared with: OpenCV 4.12 built for WebAssembly, package
 * @techstark/opencv-js. Required, not imported: the module has a `then` of its own that never settles, so neither it
 * nor a namespace that forwards to it may be awaited.
 */
export const cv = createRequire(import.meta.url)('@techstark/opencv-js') as typeof OpenCv;

if (!cv.Mat) {
  await new Promise<void>((ready) => {
    (cv as { onRuntimeInitialized?: () => void }).onRuntimeInitialized = ready;
  });
}

/** A column of points, doubles. */
export const pointsMat = (points: readonly (readonly [number, number])[]) =>
  cv.matFromArray(points.length, 1, cv.CV_64FC2, points.flat());
