import {
  type LengthUnit,
  measurePhoto,
  type Outcome,
  parseReferenceRequest,
  parseStripeHints,
  type ReferenceWords,
  type Stage,
  type StripeWords,
  succeed,
  type WrittenMeasurement,
} from '../node.js';

/** What was asked for, as typed. */
export interface MeasureWords extends ReferenceWords, StripeWords {
  readonly units: LengthUnit;
}

/** As written, or only the model where no files were asked for. */
export type Measured = Pick<WrittenMeasurement, 'model'> & Partial<WrittenMeasurement>;

/** Measures one photo and writes what it gave into a folder, unless that is null. */
export async function measureOne(
  path: string,
  words: MeasureWords,
  folder: string | null,
  onStage?: (stage: Stage) => void,
): Promise<Outcome<Measured>> {
  const hints = parseStripeHints(words);
  const measured = await measurePhoto(path, parseReferenceRequest(words), { hints, onStage });
  if (!measured.ok) return measured;
  if (folder === null) return succeed({ model: measured.value.model });
  onStage?.('pictures');
  // Nothing that only writes is loaded before the photo is: see importFromSource in the build.
  const { writeMeasurement } = await import('../node.js');
  const written = await writeMeasurement(folder, measured.value, {
    unit: words.units,
    photoPath: path,
    onWriting: () => onStage?.('writing'),
  });
  return succeed(written);
}
