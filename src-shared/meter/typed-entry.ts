import { inExpectedUnit, type ExpectedUnit } from './channel-reading.ts';
import type { DecimalMark } from './decimal-mark.ts';
import { readLine, type NumberValue, type OverloadValue } from './line-grammar.ts';
import type { MeterUnit } from './unit.ts';
import { sentenceOf } from './unreadable.ts';

export type TypedRefusal = 'empty' | 'two-marks' | 'comma-or-thousands' | 'unreadable' | 'wrong-unit';

/** What a person typed for a channel: a value in the channel's unit, or why not. `text` is what was typed, always. */
export type TypedEntry =
  | (NumberValue & { readonly unit: MeterUnit })
  | (OverloadValue & { readonly unit: MeterUnit })
  | { readonly kind: 'refused'; readonly code: TypedRefusal; readonly sentence: string; readonly text: string };

/** Which decimal marks a person may type: one of them only, or either. */
export type TypedMark = DecimalMark | 'either';

const thousands = /^[^\d]*[1-9]\d{0,2},\d{3}(?!\d)/u;

/**
 * Reads what was typed for a channel. Either decimal mark is taken; `1,234` alone is refused unless the person's mark is
 * the comma, because it could be thousands. The unit may be left out, have a prefix, or be refused as another than the
 * channel's, saying both. `OL` is an overload.
 */
export function readTyped(typed: string, expected: ExpectedUnit, mark: TypedMark = 'either'): TypedEntry {
  const refused = (code: TypedRefusal, sentence: string): TypedEntry => ({
    kind: 'refused',
    code,
    sentence,
    text: typed,
  });
  if (typed.trim() === '') return refused('empty', 'Nothing was typed.');
  if (typed.includes(',') && typed.includes('.')) {
    return refused(
      'two-marks',
      'There is a comma and a point in it. Type the number with one decimal mark and no others.',
    );
  }
  if (mark === 'either' && thousands.test(typed)) {
    const plain = typed.trim();
    const sentence = `${plain} could be thousands. Type ${plain.replace(',', '.')} or ${plain.replace(',', '')}.`;
    return refused('comma-or-thousands', sentence);
  }
  const decimal = mark === 'either' ? (typed.includes(',') ? 'comma' : 'point') : mark;
  const [field, ...more] = readLine(typed, decimal);
  if (field === undefined || more.length > 0 || field.label !== undefined) {
    return refused('unreadable', 'Type one number, with or without its unit.');
  }
  const value = inExpectedUnit(field.value, expected);
  if (value.kind === 'unreadable') {
    return refused(value.why === 'wrong-unit' ? 'wrong-unit' : 'unreadable', sentenceOf(value));
  }
  const coupling = value.coupling ?? expected.coupling;
  return { ...value, unit: expected.unit, ...(coupling === null ? {} : { coupling }), text: typed };
}
