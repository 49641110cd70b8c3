import type { Matrix3 } from '../../math/matrix3.js';
import type { PlaneFacts, ScaleFacts, Warning } from '../../model/band-model.js';
import type { Piece, PiecesFile } from '../../pieces/piece/pieces-file.js';

/** Pattern pieces with what is known of the photo they were traced from: pieces.json as the trace writes it. */
export interface TracedFile extends PiecesFile {
  readonly photo: {
    readonly file: string;
    readonly width_px: number;
    readonly height_px: number;
    readonly sha256: string;
  };
  readonly scale: ScaleFacts;
  /** Photo px without lens curvature to mm of the plane, x right, y up. */
  readonly plane: PlaneFacts;
  readonly pieces: readonly TracedPiece[];
  readonly warnings: readonly Warning[];
}

export interface TracedPiece extends Piece {
  readonly traced: TracedFacts;
}

export interface TracedFacts {
  readonly outline: 'edge' | 'drawn';
  readonly outline_sd_mm: number;
  readonly grain_found: boolean;
  readonly grain_sd_deg: number | null;
  readonly grain_heads: 0 | 1 | 2;
  /** Piece frame mm -> photo px without lens curvature, row-major. */
  readonly to_photo: Matrix3;
}
