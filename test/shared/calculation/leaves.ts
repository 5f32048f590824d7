/** Anything that JSON can hold. */
export type Json = number | string | boolean | null | undefined | readonly Json[] | { readonly [key: string]: Json };

/** One place in a tree: keys and indices from the root. */
export type Path = readonly (string | number)[];

/** Every place that holds a plain value. */
export function leavesOf(tree: Json, path: Path = []): { readonly path: Path; readonly value: Json }[] {
  if (typeof tree !== 'object' || tree === null) return [{ path, value: tree }];
  return entriesOf(tree).flatMap(([key, part]) => leavesOf(part, [...path, key]));
}

/** Every place that has a key of its own, groups and lists included. */
export function placesOf(tree: Json, path: Path = []): Path[] {
  if (typeof tree !== 'object' || tree === null) return [];
  return entriesOf(tree).flatMap(([key, part]) => [[...path, key], ...placesOf(part, [...path, key])]);
}

const entriesOf = (tree: readonly Json[] | { readonly [key: string]: Json }): [string | number, Json][] =>
  isList(tree) ? tree.map((item, index) => [index, item]) : Object.entries(tree);

const isList = (tree: Json): tree is readonly Json[] => Array.isArray(tree);

/** The tree with another value in one place. */
export function withValue(tree: Json, path: Path, value: Json): Json {
  const [key, ...rest] = path;
  if (key === undefined) return value;
  if (isList(tree)) {
    return tree.map((item, index) => (index === key ? withValue(item, rest, value) : item));
  }
  return Object.fromEntries(
    Object.entries<Json>(typeof tree === 'object' && tree !== null ? tree : {}).map(([name, part]) => [
      name,
      name === key ? withValue(part, rest, value) : part,
    ]),
  );
}

/** The tree without one key, or with another name for it; list items are left out. */
export function withKey(tree: Json, path: Path, rename: (key: string) => string | null): Json {
  const [key, ...rest] = path;
  if (key === undefined || typeof tree !== 'object' || tree === null) return tree;
  if (isList(tree)) {
    if (rest.length === 0) return tree.filter((_, index) => index !== key);
    return tree.map((item, index) => (index === key ? withKey(item, rest, rename) : item));
  }
  return Object.fromEntries(
    Object.entries(tree).flatMap(([name, part]): [string, Json][] => {
      if (name !== key) return [[name, part]];
      if (rest.length > 0) return [[name, withKey(part, rest, rename)]];
      const other = rename(name);
      return other === null ? [] : [[other, part]];
    }),
  );
}

/** Paths of numbers that are not finite, in anything. */
export function notFinite(thing: unknown, path = ''): string[] {
  if (typeof thing === 'number') return Number.isFinite(thing) ? [] : [path];
  if (typeof thing !== 'object' || thing === null) return [];
  return Object.entries(thing).flatMap(([key, part]) => notFinite(part, `${path}.${key}`));
}
