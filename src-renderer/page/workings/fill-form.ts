import { formatNumber } from '../../../src-shared/quantity/format.ts';
import { convert, isUnitSymbol } from '../../../src-shared/quantity/unit.ts';
import { meansOfShape } from './doubt-means.ts';
import { gaugeUnit, unitOf, type FormNode, type Leaf } from './form-node.svelte.ts';

const isObject = (thing: unknown): thing is Readonly<Record<string, unknown>> =>
  typeof thing === 'object' && thing !== null && !Array.isArray(thing);

/** Puts an input into an empty form, in the units that the form shows; what does not fit its shape is left out. */
export function fillForm(node: FormNode, input: unknown): void {
  if (node.kind === 'group') {
    if (!isObject(input)) return;
    node.isGiven = true;
    for (const { field, node: part } of node.fields) {
      if (Object.hasOwn(input, field.key)) fillForm(part, input[field.key]);
    }
  } else if (node.kind === 'list') {
    if (!Array.isArray(input)) return;
    const items: readonly unknown[] = input;
    node.resize(Math.max(1, items.length));
    node.rows.forEach((row, index) => fillForm(row.node, items[index]));
  } else if (isObject(input)) {
    fillMeasured(node, input);
  } else if (typeof input === 'number') {
    node.text = valueText(input, node);
  } else if (typeof input === 'boolean') {
    node.text = input ? 'yes' : 'no';
  } else if (typeof input === 'string') {
    node.text = input;
  }
}

function fillMeasured(leaf: Leaf, input: Readonly<Record<string, unknown>>): void {
  const { value, u, shape, dof, shared } = input;
  if (leaf.shape.kind !== 'measured' || typeof value !== 'number') return;
  leaf.text = valueText(value, leaf);
  leaf.doubt = u === null ? '?' : typeof u === 'number' ? stepText(u, leaf) : '';
  leaf.means = meansOfShape(shape);
  if (typeof dof === 'number') leaf.dof = String(dof);
  if (!isObject(shared) || typeof shared.id !== 'string' || typeof shared.u !== 'number') return;
  leaf.sharedId = shared.id;
  leaf.sharedDoubt = stepText(shared.u, leaf);
}

/** One digit more than a reading keeps, so that the value comes back as it was. */
const shownDigits = 9;

function valueText(value: number, leaf: Leaf): string {
  const from = unitOf(leaf.shape) ?? '';
  const to = leaf.unit;
  if (from === to || to === gaugeUnit || !isUnitSymbol(from) || !isUnitSymbol(to)) return String(value);
  return formatNumber(convert(value, from, to) ?? value, shownDigits);
}

function stepText(step: number, leaf: Leaf): string {
  const from = unitOf(leaf.shape) ?? '';
  const to = leaf.unit;
  if (from === to || !isUnitSymbol(from) || !isUnitSymbol(to)) return String(step);
  return formatNumber(step * ((convert(1, from, to) ?? 1) - (convert(0, from, to) ?? 0)), shownDigits);
}
