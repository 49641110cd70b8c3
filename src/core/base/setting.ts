/**
 * What can be asked for and so settles a refusal or a doubt, by the name it has where it is asked for (`ReferenceWords`,
 * `StripeWords`, `ChevronWords`, or the folder for results). Whoever shows the words to a person adds how it is set there: a command
 * the names of its options, a page its fields.
 */
export type Setting =
  | 'ruler'
  | 'rulerClass'
  | 'points'
  | 'sheet'
  | 'corners'
  | 'density'
  | 'direction'
  | 'region'
  | 'bands'
  | 'names'
  | 'lay'
  | 'anyway'
  | 'fileUnit'
  | 'size'
  | 'boundary'
  | 'out';
