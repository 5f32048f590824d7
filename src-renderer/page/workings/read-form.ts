import { isAskedBy, isEmptyNode, type FormNode, type Leaf } from './form-node.svelte.ts';
import { readLeaf } from './read-leaf.ts';

/** A required value that nobody has typed yet. */
export interface Missing {
  readonly node: FormNode;
  /** Where it is: `Readings, row 2: Test-coil volts`. */
  readonly words: string;
}

/** A form as its calculation would take it. */
export interface FormRead {
  readonly input: unknown;
  readonly missing: readonly Missing[];
  /** Texts that are no value, with what would be taken. */
  readonly unread: ReadonlyMap<Leaf, string>;
  /** Every node by the path that the calculation gives it, those left out too. */
  readonly places: ReadonlyMap<string, FormNode>;
}

/** Reads a whole form. Rows in which nothing is typed do not count; neither does an optional group that is empty. */
export function readForm(root: FormNode): FormRead {
  const missing: Missing[] = [];
  const unread = new Map<Leaf, string>();
  const places = new Map<string, FormNode>();

  const place = (node: FormNode, path: readonly string[]) => {
    places.set(path.join('.'), node);
    if (node.kind === 'group') for (const { field, node: part } of node.fields) place(part, [...path, field.key]);
  };

  const read = (node: FormNode, path: readonly string[], words: string, isRequired: boolean): unknown => {
    places.set(path.join('.'), node);
    if (node.kind === 'leaf') {
      const found = readLeaf(node.shape, node);
      if (found.kind === 'value') return found.value;
      if (found.kind === 'unread') unread.set(node, found.message);
      else if (isRequired) missing.push({ node, words });
      return undefined;
    }
    if (node.kind === 'list') {
      const used = node.rows.filter((row) => !isEmptyNode(row.node));
      if (used.length === 0 && !isRequired) return undefined;
      if (used.length < node.shape.atLeast && isRequired) {
        missing.push({
          node,
          words: `${words}: ${node.shape.atLeast === 1 ? 'one' : `at least ${node.shape.atLeast}`}`,
        });
      }
      return used.map((row, index) =>
        read(row.node, [...path, String(index)], `${words}, row ${node.rows.indexOf(row) + 1}`, true),
      );
    }
    if (!isRequired && !node.isGiven && isEmptyNode(node)) {
      place(node, path);
      return undefined;
    }
    const before = words === '' ? '' : `${words}: `;
    const entries = node.fields.flatMap(({ field, node: part }): [string, unknown][] => {
      const required = field.required || isAskedBy(node, field.shape) === true;
      const value = read(part, [...path, field.key], `${before}${field.label}`, required);
      return value === undefined ? [] : [[field.key, value]];
    });
    return Object.fromEntries(entries);
  };

  const input = read(root, [], '', true);
  return { input, missing, unread, places };
}

/** The node that a refusal's path means: the nearest that the form has. */
export function nodeAt(places: ReadonlyMap<string, FormNode>, path: string): FormNode | null {
  const keys = path === '' ? [] : path.split('.');
  for (let count = keys.length; count > 0; count -= 1) {
    const node = places.get(keys.slice(0, count).join('.'));
    if (node !== undefined) return node;
  }
  return null;
}
