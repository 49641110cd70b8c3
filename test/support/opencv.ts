import cvModule from '@techstark/opencv-js';

/**
 * The outside library that pictures and homographies are compared with: OpenCV 4.12 built for WebAssembly, package
 * @techstark/opencv-js. The module calls back when it is ready; it has a `then` of its own that never settles, so it must
 * not be awaited or returned from an async function.
 */
if (!cvModule.Mat) {
  await new Promise<void>((ready) => {
    cvModule.onRuntimeInitialized = () => ready();
  });
}

export const cv = cvModule;

/** A matrix of doubles, one row a point. */
export const pointsMat = (points: readonly (readonly [number, number])[]) =>
  cv.matFromArray(points.length, 1, cv.CV_64FC2, points.flat());
