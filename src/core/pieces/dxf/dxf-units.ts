import { MM_PER_INSUNIT } from './layers.js';

/** What a file's numbers may be told to be. */
export type FileUnit = 'mm' | 'cm' | 'm' | 'inch';

const MM_PER: Readonly<Record<FileUnit, number>> = { mm: 1, cm: 10, m: 1000, inch: 25.4 };

export interface FileUnits {
  readonly mmPerUnit: number;
  /** What was passed over for the unit that was asked for. */
  readonly warning: string | null;
}

/**
 * What a unit of the file is: as asked for; else as $INSUNITS says; else as the style's own text "Units: METRIC" or "ENGLISH" says, which the
 * standard wants (from memory). A text that says what is missing or at odds, since a wrong guess is wrong by 25.
 */
export function fileUnits(
  asked: FileUnit | null,
  insunits: unknown,
  texts: readonly string[],
): FileUnits | string {
  const code = typeof insunits === 'number' && insunits !== 0 ? insunits : null;
  const byHeader = code === null ? null : (MM_PER_INSUNIT[code] ?? null);
  const words = texts.map((text) => /^\s*units?\s*:\s*([a-z]+)/i.exec(text)?.[1].toLowerCase());
  const byText = words.some((word) => word === 'metric' || word === 'mm')
    ? 1
    : words.some((word) => word === 'english' || word === 'imperial' || word === 'inch' || word === 'inches')
      ? 25.4
      : null;
  if (asked !== null) {
    const said = byHeader ?? byText;
    const mmPerUnit = MM_PER[asked];
    return {
      mmPerUnit,
      warning:
        said === null || said === mmPerUnit
          ? null
          : `the file says that its unit is ${unitWords(said)}; it is read as ${unitWords(mmPerUnit)}, as was asked for`,
    };
  }
  if (code !== null && byHeader === null) return `$INSUNITS is ${code}, which is no unit for cloth`;
  if (byHeader !== null && byText !== null && byHeader !== byText) {
    return `$INSUNITS says ${unitWords(byHeader)}, the text of the style ${unitWords(byText)}`;
  }
  const mmPerUnit = byHeader ?? byText;
  return mmPerUnit === null
    ? `the file does not say what its unit is: $INSUNITS is ${insunits === 0 ? '0 (unitless)' : 'missing'}`
    : { mmPerUnit, warning: null };
}

const unitWords = (mm: number): string =>
  ({ 1: '1 mm', 10: '1 cm', 25.4: '1 inch', 1000: '1 m' })[mm] ?? `${mm} mm`;
