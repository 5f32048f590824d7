import { choiceWord, type InputField } from '../../../src-shared/calculation/input-shape.ts';
import { formatNumber } from '../../../src-shared/quantity/format.ts';
import { parseNumber } from '../../../src-shared/quantity/parse-number.ts';
import type { UnitSystem } from '../../../src-shared/quantity/unit.ts';
import { doubtMeanings } from './doubt-means.ts';
import { unitOf, type Leaf, type LeafShape, type LeafTexts } from './form-node.svelte.ts';
import { shownQuantity } from './own-units.ts';

/** What is taken when a field is left out: `20 °C`; null when nothing is. */
export function presetWords({ preset, shape }: InputField, system: UnitSystem): string | null {
  if (preset === null || shape.kind === 'list' || shape.kind === 'group') return null;
  if (typeof preset === 'boolean') return preset ? 'yes' : 'no';
  if (typeof preset === 'string') return shape.kind === 'choice' ? choiceWord(shape.words, preset) : preset;
  const unit = unitOf(shape) ?? '';
  const shown = shownQuantity({ value: preset, u: null, unit }, system);
  return [formatNumber(shown.value, 6), shown.unit].filter((part) => part !== '').join(' ');
}

/** What stands behind the label of a field that may stay empty. */
export function optionalWords(field: InputField, system: UnitSystem): string | false {
  if (field.required) return false;
  const preset = presetWords(field, system);
  return preset === null ? 'optional' : `else ${preset}`;
}

/** The choices of a field as options. */
export const choiceOptions = (shape: LeafShape): readonly { readonly value: string; readonly label: string }[] =>
  shape.kind === 'choice'
    ? shape.choices.map((each) => ({ value: String(each), label: choiceWord(shape.words, String(each)) }))
    : [];

/** A typed number without the tail that a computed one may have. */
function shortened(text: string): string {
  const parsed = parseNumber(text);
  return parsed.ok ? formatNumber(parsed.value, 4) : text.trim();
}

/** What is said of a doubt beyond its number; '' when it is the usual kind. */
export function doubtDetail({ doubt, means, dof, sharedId, sharedDoubt }: LeafTexts): string {
  return [
    doubt === '?' ? '± not known' : doubt === '' ? '' : doubtMeanings[means].short,
    dof.trim() === '' ? '' : `dof ${dof.trim()}`,
    sharedId.trim() === '' ? '' : `shared ± ${shortened(sharedDoubt)} with ${sharedId.trim()}`,
  ]
    .filter((part) => part !== '')
    .join(' · ');
}

/** The words of a leaf that other fields choose rows by: the first text of a row. */
export const rowName = (leaves: readonly Leaf[], at: number): string => {
  const name = leaves.find(({ shape, text }) => shape.kind === 'text' && text.trim() !== '')?.text.trim();
  return name === undefined ? `Row ${at + 1}` : `${at + 1}: ${name}`;
};
