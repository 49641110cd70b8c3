/** The package carries no types of its own. */
declare module 'heic-decode' {
  export interface Decoded {
    readonly width: number;
    readonly height: number;
    /** RGBA, 8 bit, upright: the container's turn and mirror are applied, its colour profile is not. */
    readonly data: Uint8ClampedArray;
  }
  interface Listed {
    readonly width: number;
    readonly height: number;
    decode(): Promise<Decoded>;
  }
  const decode: {
    (input: { buffer: Uint8Array }): Promise<Decoded>;
    /** Every top-level picture; dispose() frees the decoder's memory. */
    all(input: { buffer: Uint8Array }): Promise<readonly Listed[] & { dispose(): void }>;
  };
  export default decode;
}
