import { DOMParser, type Element, type Node } from '@xmldom/xmldom';
import type { Point } from '../../math/matrix3.js';
import { type Affine, applied, composed } from '../drawn/curves.js';
import type { DrawnLine } from '../drawn/join-lines.js';
import { affineOf, linesOfPath, pathDataOf } from './svg-lines.js';
import { ownName, type Role, roleNameOf } from './svg-names.js';
import { pageFrame, userLength } from './svg-units.js';

/** One shape or one block of text of a drawing, in mm on its page, y up. */
export interface SvgItem {
  /** Id of the piece it belongs to; null: to none. */
  readonly piece: string | null;
  readonly role: Role | null;
  readonly name: string | null;
  /** What a person called it, whether or not that stands for anything; null: only a program named it. */
  readonly called: string | null;
  readonly lines: readonly DrawnLine[];
  /** Lines of writing; of a shape none. */
  readonly text: readonly string[];
  readonly from: string | null;
  readonly to: string | null;
  /** Line of the file. */
  readonly row: number;
}

export interface SvgDrawing {
  readonly items: readonly SvgItem[];
  /** Where the pieces' own (0, 0) lies on the page, for those that say so. */
  readonly origins: ReadonlyMap<string, Point>;
  readonly pieces: readonly string[];
  readonly unevenness: number;
}

export type SvgFault = { readonly kind: 'unreadable' | 'no-scale'; readonly found: string };

/** What is never drawn itself. */
const UNSEEN = new Set([
  'defs',
  'symbol',
  'clipPath',
  'mask',
  'marker',
  'pattern',
  'metadata',
  'style',
  'script',
]);
const GROUPS = new Set(['svg', 'g', 'a', 'switch']);
/** A drawing that shows itself within itself would never end. */
const DEEPEST = 60;
const MOST_ITEMS = 20_000;

interface Place {
  readonly pageFromUser: Affine;
  readonly piece: string | null;
  readonly role: Role | null;
  readonly name: string | null;
  readonly plural: boolean;
  readonly depth: number;
}

/** Reads the text of an SVG: every shape and text that is shown, with what it stands for by its names. */
export function readSvgItems(text: string): SvgDrawing | SvgFault {
  const root = rootOf(text);
  if (typeof root === 'string') return { kind: 'unreadable', found: root };
  const frame = pageFrame((name) => root.getAttribute(name));
  if (typeof frame === 'string') return { kind: 'no-scale', found: frame };
  const walk = new Walk(root);
  const fault = walk.children(root, {
    pageFromUser: frame.pageFromUser,
    piece: null,
    role: null,
    name: null,
    plural: false,
    depth: 0,
  });
  return fault === null
    ? { items: walk.items, origins: walk.origins, pieces: walk.pieces, unevenness: frame.unevenness }
    : { kind: 'unreadable', found: fault };
}

function rootOf(text: string): Element | string {
  let root: Element | null;
  try {
    const parser = new DOMParser({
      onError: (level, message) => {
        if (level !== 'warning') throw new Error(message);
      },
    });
    root = parser.parseFromString(text.replace(/^\uFEFF/, ''), 'image/svg+xml').documentElement;
  } catch (error) {
    const { message, cause } = error as Error & { cause?: Error };
    return `the file is not XML (${(cause?.message ?? message).split('\n')[0]})`;
  }
  if (root === null || root.localName !== 'svg') {
    return `the file is no SVG: its outermost element is "${root?.tagName ?? 'missing'}"`;
  }
  return root;
}

/** Goes through a drawing from its root down and gathers what is shown. */
class Walk {
  readonly items: SvgItem[] = [];
  readonly origins = new Map<string, Point>();
  readonly pieces: string[] = [];
  private readonly byId = new Map<string, Element>();

  constructor(root: Element) {
    const all = root.getElementsByTagName('*');
    for (let i = 0; i < all.length; i++) {
      const element = all.item(i) as Element;
      const id = element.getAttribute('id');
      if (id !== null && !this.byId.has(id)) this.byId.set(id, element);
    }
  }

  children(parent: Node, place: Place): string | null {
    for (let node = parent.firstChild; node !== null; node = node.nextSibling) {
      if (node.nodeType !== 1) continue;
      const fault = this.element(node as Element, place);
      if (fault !== null) return fault;
    }
    return null;
  }

  private element(element: Element, outer: Place): string | null {
    const kind = element.localName ?? '';
    if (UNSEEN.has(kind) || isHidden(element)) return null;
    const where = `line ${element.lineNumber ?? '?'}`;
    if (outer.depth > DEEPEST || this.items.length > MOST_ITEMS) {
      return `the drawing is nested or repeated without end at ${where}`;
    }
    const transform = affineOf(element.getAttribute('transform') ?? '');
    if (transform === null) {
      return `the transform "${element.getAttribute('transform')}" at ${where} is not understood`;
    }
    const inner = this.named(element, {
      ...outer,
      depth: outer.depth + 1,
      pageFromUser: composed(outer.pageFromUser, transform),
    });
    if (kind === 'use') return this.used(element, inner, where);
    if (kind === 'svg' && (element.hasAttribute('viewBox') || element.hasAttribute('width'))) {
      return `a drawing within the drawing at ${where} has a size of its own: take it out of there`;
    }
    if (GROUPS.has(kind)) return this.children(element, inner);
    if (kind === 'text') {
      this.items.push({ ...bare(inner, element), lines: [], text: writingOf(element) });
      return null;
    }
    const data = pathDataOf(kind, (name) => element.getAttribute(name));
    if (data === null || data.trim() === '') return null;
    const lines = linesOfPath(data, inner.pageFromUser);
    if (typeof lines === 'string') {
      return `${inner.piece === null ? '' : `piece "${inner.piece}": `}the ${kind} at ${where} cannot be read: ${lines}`;
    }
    this.items.push({ ...bare(inner, element), lines, text: [] });
    return null;
  }

  /** What the element adds to what it stands in. */
  private named(element: Element, place: Place): Place {
    const attribute = (name: string): string | null => element.getAttribute(name);
    const own = roleNameOf(attribute, place.piece);
    if (own === null) {
      if (!place.plural) return place;
      return { ...place, name: ownName(attribute), plural: GROUPS.has(element.localName ?? '') };
    }
    if (own.role !== 'piece') return { ...place, role: own.role, name: own.name, plural: own.plural };
    const piece = own.name ?? 'piece';
    this.pieces.push(piece);
    const origin = (attribute('data-origin') ?? '')
      .trim()
      .split(/[\s,]+/)
      .map(Number);
    if (origin.length === 2 && origin.every(Number.isFinite)) {
      this.origins.set(piece, applied(place.pageFromUser, [origin[0], origin[1]]));
    }
    // A line that is itself called a piece is its stitching line.
    const isGroup = GROUPS.has(element.localName ?? '') || element.localName === 'use';
    return { ...place, piece, role: isGroup ? null : 'stitching', name: null, plural: false };
  }

  private used(element: Element, place: Place, where: string): string | null {
    const href = element.getAttribute('href') ?? element.getAttribute('xlink:href') ?? '';
    const target = this.byId.get(href.replace(/^#/, ''));
    if (target === undefined) return `the copy at ${where} is of "${href}", which is not in the file`;
    const [x, y] = ['x', 'y'].map((name) => userLength(element.getAttribute(name)));
    const shifted = { ...place, pageFromUser: composed(place.pageFromUser, [1, 0, 0, 1, x, y]) };
    return target.localName === 'symbol' ? this.children(target, shifted) : this.element(target, shifted);
  }
}

const bare = ({ piece, role, name }: Place, element: Element): Omit<SvgItem, 'lines' | 'text'> => ({
  piece,
  role,
  name,
  called: ownName((attribute) => element.getAttribute(attribute)),
  from: element.getAttribute('data-from'),
  to: element.getAttribute('data-to'),
  row: element.lineNumber ?? 0,
});

const isHidden = (element: Element): boolean =>
  element.getAttribute('display') === 'none' ||
  /(^|;)\s*display\s*:\s*none/.test(element.getAttribute('style') ?? '');

/** Lines of writing: each part of a text that is set on its own line. */
function writingOf(element: Element): string[] {
  const lines: string[] = [];
  for (let node = element.firstChild; node !== null; node = node.nextSibling) {
    const isLine =
      node.nodeType === 1 &&
      ['x', 'y', 'dy', 'sodipodi:role'].some((name) => (node as Element).hasAttribute(name));
    const words = node.textContent ?? '';
    if (isLine || lines.length === 0) lines.push(words);
    else lines[lines.length - 1] += words;
  }
  return lines
    .flatMap((line) => line.split('\n'))
    .map((line) => line.replace(/\s+/g, ' ').trim())
    .filter((line) => line !== '');
}
