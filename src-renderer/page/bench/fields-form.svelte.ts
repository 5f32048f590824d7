import * as v from 'valibot';
import { wrongAnswer, type Answers, type Field } from '../../../src-shared/procedure/field.ts';
import { formatNumber } from '../../../src-shared/quantity/format.ts';
import { parseIn } from '../../part/read-quantity.ts';

/** Where a field starts from, where the bench knows it. */
export interface Presets {
  readonly ambient: number | null;
  readonly 'primary-turns': number | null;
}

/** Not answered, as a select of windings holds it. */
export const noWinding = 0;

/** The boxes of the form as a reload brings them back. */
export const FieldBoxes = v.strictObject({
  texts: v.record(v.string(), v.string()),
  windings: v.record(v.string(), v.number()),
});
export type FieldBoxes = v.InferOutput<typeof FieldBoxes>;

/** What a person says beside the readings, as texts until it is read. */
export class FieldsForm {
  readonly fields: readonly Field[];
  texts = $state<Record<string, string>>({});
  windings = $state<Record<string, number>>({});
  refusals = $state.raw<Readonly<Record<string, string>>>({});
  /** Fields that were given what they start from: what a person empties stays empty. */
  readonly #preset = new Set<string>();

  /** @param was - what was answered before; it goes over the presets */
  constructor(fields: readonly Field[], was: Answers, presets: Presets) {
    this.fields = fields;
    this.texts = Object.fromEntries(
      fields.map((field) => {
        const value = preset(field, presets);
        if (value !== null) this.#preset.add(field.id);
        return [field.id, textOf(was[field.id] ?? value)];
      }),
    );
    this.windings = Object.fromEntries(
      fields.flatMap(({ id, kind }) => {
        const answer = was[id];
        return kind === 'winding' ? [[id, typeof answer === 'number' ? answer : noWinding]] : [];
      }),
    );
  }

  /** What the bench knows by now of the things that are asked: goes where nothing stands yet, once. */
  know(presets: Presets): void {
    for (const field of this.fields) {
      const value = preset(field, presets);
      if (value === null || this.#preset.has(field.id)) continue;
      this.#preset.add(field.id);
      if (this.texts[field.id] === '') this.texts[field.id] = textOf(value);
    }
  }

  snapshot(): FieldBoxes {
    return $state.snapshot({ texts: this.texts, windings: this.windings });
  }

  restore({ texts, windings }: FieldBoxes): void {
    Object.assign(this.texts, texts);
    Object.assign(this.windings, windings);
  }

  /** The answers; null with what is wrong at its field. */
  read(): Answers | null {
    this.refusals = {};
    const answers: Record<string, number | string> = {};
    for (const field of this.fields) {
      const answer = this.#answerOf(field);
      if (answer === undefined) return null;
      if (answer !== null) answers[field.id] = answer;
    }
    const wrong = wrongAnswer(this.fields, answers);
    if (wrong === null) return answers;
    this.refuse(wrong.field, wrong.sentence);
    return null;
  }

  refuse(field: string, sentence: string): void {
    this.refusals = { ...this.refusals, [field]: sentence };
  }

  /** Null: not answered. Undefined: no number, said at the field. */
  #answerOf(field: Field): number | string | null | undefined {
    if (field.kind === 'winding') {
      const winding = this.windings[field.id] ?? noWinding;
      return winding === noWinding ? null : winding;
    }
    const text = (this.texts[field.id] ?? '').trim();
    if (text === '') return null;
    if (field.kind !== 'number') return text;
    const parsed = parseIn(text, field.unit);
    if (parsed.ok) return parsed.value;
    this.refuse(field.id, `${field.label}: type a number${field.unit === '' ? '' : ` in ${field.unit}`}.`);
    return undefined;
  }
}

const textOf = (answer: number | string | null): string =>
  answer === null ? '' : typeof answer === 'number' ? formatNumber(answer, 6) : answer;

const preset = (field: Field, presets: Presets): number | null =>
  field.kind !== 'number' || field.preset === undefined ? null : presets[field.preset];
