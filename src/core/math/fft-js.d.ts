declare module 'fft-js' {
  type Phasor = [number, number];
  /** CommonJS: the functions hang on the default export. Lengths a power of two. */
  const fourier: {
    fft(signal: readonly (number | Phasor)[]): Phasor[];
    ifft(phasors: readonly Phasor[]): Phasor[];
  };
  export default fourier;
}
