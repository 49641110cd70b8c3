import { type Refusal, refusalLine, type Setting } from '../node.js';

/** The option by which a parameter of the library is given, where its name is not that of the option. */
const OPTION_OF: Readonly<Record<string, string>> = {
  widthsMm: '--widths',
  repeatsMm: '--repeats',
  rulerClass: '--ruler-class',
  pxPerMm: '--density',
  lengthMm: '--points',
  from: '--points',
  to: '--points',
  directionDeg: '--direction',
  centres: '--centre',
  atMm: '--at',
  seamMm: '--seam',
  shiftMm: '--shift',
  allowanceMm: '--allowance',
  clearMm: '--clear',
  fileUnit: '--file-unit',
  handlingMm: '--handling',
  visibleMm: '--visible',
  agreeAt: '--agree-at',
  agreeAtMm: '--agree-at',
};

const SAME_NAME = [
  'ruler',
  'points',
  'sheet',
  'corners',
  'density',
  'direction',
  'region',
  'bands',
  'names',
  'units',
  'cloth',
  'angles',
  'centre',
  'at',
  'seam',
  'shift',
  'allowance',
  'clear',
  'handling',
  'visible',
  'lay',
  'anyway',
  'size',
  'boundary',
  'rounds',
  'seconds',
  'placement',
  'seed',
  'out',
];

/** "--seam" for `seamMm`, "--angles" for `request.angles[1]`; a parameter that no option gives keeps its name. */
export function optionOf(parameter: string): string {
  const names = parameter.split('.').map((part) => part.replace(/\[\d+\]/g, ''));
  for (const name of names.reverse()) {
    const option = OPTION_OF[name] ?? (SAME_NAME.includes(name) ? `--${name}` : null);
    if (option !== null) return option;
  }
  return parameter;
}

/** Something told by the library, which knows parameters and no options: an error, a warning, a failure. */
interface Told {
  readonly message: string;
  /** What the message begins with. */
  readonly parameter?: string | null;
  readonly settings?: readonly Setting[];
}

/** The same as the command says it: the option's name for the parameter's, and which options would settle it at the end. */
export function withOptions({ message, parameter, settings = [] }: Told): string {
  const start = parameter ? `${parameter}: ` : '';
  const words =
    parameter && message.startsWith(start)
      ? `${optionOf(parameter)}: ${message.slice(start.length)}`
      : message;
  return settings.length === 0 ? words : `${words} (${settings.map(optionOf).join(', ')})`;
}

export const refusalWithOptions = (refusal: Refusal): string =>
  withOptions({ message: refusalLine(refusal), settings: refusal.settings });
