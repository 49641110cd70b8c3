declare module 'fft-js' {
  export type Phasor = [number, number];
  /** CommonJS: the functions hang on the default export. Lengths a power of two. */
  const fourier: {
    /** Real numbers in, phasors out, in the same array. Several times faster than the form that returns a new one. */
    fftInPlace(signal: (number | Phasor)[]): void;
  };
  export default fourier;
}
