import type { InputField } from '../../../src-shared/calculation/input-shape.ts';
import type { FormNode, Leaf, ListNode } from './form-node.svelte.ts';

/** The columns of a list whose rows hold plain values; null when a row holds lists or groups of its own. */
export function columnsOf({ shape }: ListNode, label: string): readonly InputField[] | null {
  const { of } = shape;
  if (of.kind === 'list') return null;
  if (of.kind !== 'group') return [{ key: '', label, help: null, required: true, preset: null, shape: of }];
  const isPlain = of.fields.every((field) => field.shape.kind !== 'group' && field.shape.kind !== 'list');
  return isPlain ? of.fields : null;
}

/** The value of a column in a row. */
export function cellOf(row: FormNode, key: string): Leaf | null {
  const node = row.kind === 'group' ? row.fields.find(({ field }) => field.key === key)?.node : row;
  return node?.kind === 'leaf' ? node : null;
}

export const columnCells = (list: ListNode, key: string): readonly Leaf[] =>
  list.rows.flatMap(({ node }) => cellOf(node, key) ?? []);
