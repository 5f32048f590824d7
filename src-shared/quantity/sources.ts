import { isEstimate, type Estimate } from './estimate.ts';

/** The same tree with a plain number wherever an estimate was: what a formula works on. */
export type Values<T> = T extends Estimate
  ? number
  : T extends readonly (infer Item)[]
    ? readonly Values<Item>[]
    : T extends object
      ? { readonly [Key in keyof T]: Values<T[Key]> }
      : T;

/** One estimate of a tree: where it stands, and a way to put another value in its place. */
export interface Source {
  /** Keys and indices joined by dots: `readings.0.coilVolts`. */
  readonly path: string;
  readonly estimate: Estimate;
  readonly set: (value: number) => void;
}

/**
 * Takes a tree of groups, lists, estimates and plain values apart: the tree of plain values, and its estimates in order.
 * `set` of a source changes that one value in `values`, so a formula can be asked again without building the tree anew.
 * One and the same estimate object in two places is one source: it moves in both.
 */
export function takeApart<T extends object>(tree: T): { readonly values: Values<T>; readonly sources: Source[] };
export function takeApart(tree: object): { readonly values: unknown; readonly sources: Source[] } {
  const sources = new Map<Estimate, Source>();
  const values = copy(tree, '', sources);
  return { values, sources: [...sources.values()] };
}

function copy(tree: object, path: string, sources: Map<Estimate, Source>): object {
  const put = (key: string, thing: unknown, set: (value: unknown) => void) => {
    const here = path === '' ? key : `${path}.${key}`;
    if (isEstimate(thing)) {
      set(thing.value);
      const before = sources.get(thing);
      const both = (value: number) => {
        before?.set(value);
        set(value);
      };
      sources.set(thing, { path: before?.path ?? here, estimate: thing, set: both });
    } else set(typeof thing === 'object' && thing !== null ? copy(thing, here, sources) : thing);
  };
  if (Array.isArray(tree)) {
    const list: unknown[] = [];
    tree.forEach((item, index) => put(String(index), item, (value) => (list[index] = value)));
    return list;
  }
  const group: Record<string, unknown> = {};
  for (const [key, item] of Object.entries(tree)) put(key, item, (value) => (group[key] = value));
  return group;
}
