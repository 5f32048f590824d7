import * as v from 'valibot';
import { isDoubtMeans } from './doubt-means.ts';
import type { FormNode, Leaf } from './form-node.svelte.ts';

const text = v.pipe(v.string(), v.maxLength(400));

const TypedLeaf = v.strictObject({
  text,
  unit: v.optional(text, ''),
  doubt: v.optional(text, ''),
  means: v.optional(v.pipe(text, v.check(isDoubtMeans)), 'standard'),
  dof: v.optional(text, ''),
  sharedId: v.optional(text, ''),
  sharedDoubt: v.optional(text, ''),
});

/** What is typed into a form, as a tree that can be kept: texts, never numbers. */
export type TypedForm =
  | v.InferInput<typeof TypedLeaf>
  | { readonly rows: readonly TypedForm[] }
  | { readonly fields: Readonly<Record<string, TypedForm>>; readonly isGiven?: boolean };

const TypedForm: v.GenericSchema<TypedForm> = v.union([
  TypedLeaf,
  v.strictObject({ rows: v.array(v.lazy(() => TypedForm)) }),
  v.strictObject({
    fields: v.record(
      v.string(),
      v.lazy(() => TypedForm),
    ),
  }),
]);

/** Reads what was kept; null when it is none of ours. */
export function readTyped(kept: unknown): TypedForm | null {
  const parsed = v.safeParse(TypedForm, kept);
  return parsed.success ? parsed.output : null;
}

/** What is typed, without what is empty. */
export function typedOf(node: FormNode): TypedForm {
  if (node.kind === 'list') return { rows: node.rows.map((row) => typedOf(row.node)) };
  if (node.kind === 'group') {
    const fields = Object.fromEntries(node.fields.map(({ field, node: part }) => [field.key, typedOf(part)]));
    return node.isGiven ? { fields, isGiven: true } : { fields };
  }
  const { doubt, means, dof, sharedId, sharedDoubt } = node;
  return {
    text: node.text,
    unit: node.unit,
    ...(doubt === '' ? {} : { doubt }),
    ...(means === 'standard' ? {} : { means }),
    ...(dof === '' ? {} : { dof }),
    ...(sharedId === '' ? {} : { sharedId }),
    ...(sharedDoubt === '' ? {} : { sharedDoubt }),
  };
}

/** Puts back what was typed; what has no place in the form any more is left out. */
export function putTyped(node: FormNode, typed: TypedForm): void {
  if (node.kind === 'leaf') {
    if ('text' in typed) putLeaf(node, typed);
  } else if (node.kind === 'group') {
    if (!('fields' in typed)) return;
    node.isGiven = typed.isGiven === true;
    for (const { field, node: part } of node.fields) {
      const known = typed.fields[field.key];
      if (known !== undefined) putTyped(part, known);
    }
  } else if ('rows' in typed) {
    node.resize(Math.max(1, typed.rows.length));
    node.rows.forEach((row, index) => {
      const known = typed.rows[index];
      if (known !== undefined) putTyped(row.node, known);
    });
  }
}

function putLeaf(leaf: Leaf, typed: v.InferInput<typeof TypedLeaf>): void {
  leaf.text = typed.text;
  leaf.unit = typed.unit ?? leaf.unit;
  leaf.doubt = typed.doubt ?? '';
  leaf.means = typed.means !== undefined && isDoubtMeans(typed.means) ? typed.means : 'standard';
  leaf.dof = typed.dof ?? '';
  leaf.sharedId = typed.sharedId ?? '';
  leaf.sharedDoubt = typed.sharedDoubt ?? '';
}
