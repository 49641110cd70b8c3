/** How the scale is to be had. Points in the photo frame, px. */
export type ReferenceRequest =
  | { readonly kind: 'ruler'; readonly unit: 'auto' | 'mm' | 'inch' }
  | {
      readonly kind: 'points';
      readonly from: readonly [number, number];
      readonly to: readonly [number, number];
      readonly lengthMm: number;
    }
  | {
      readonly kind: 'sheet';
      readonly size: SheetSize;
      /** Four corners in order round the sheet, or null to find them. */
      readonly corners: readonly (readonly [number, number])[] | null;
    }
  | { readonly kind: 'density'; readonly pxPerMm: number };

export type SheetSize = 'a4' | 'letter' | 'id1';

/** Stages in the order they run; progress is told by these names. */
export type Stage =
  | 'reading'
  | 'reference'
  | 'stripes'
  | 'plane'
  | 'edges'
  | 'repeat'
  | 'pictures'
  | 'writing';
