import { untrack } from 'svelte';
import * as v from 'valibot';
import type { Keeping } from './keeping.ts';

/** A form whose boxes can be put down and taken up again. */
export interface BoxedForm<Boxes> {
  /** What stands in the boxes, as JSON can hold it. */
  snapshot(): Boxes;
  restore(boxes: Boxes): void;
}

interface Begun<Form> {
  readonly form: Form;
  /** What it began with: the row of the record, and the units it is typed in. */
  readonly of: string;
  readonly untouched: string;
}

/**
 * Half-filled forms, by key: still there when the person comes back from another page or loads this one anew. A form that
 * nobody touched begins anew with what the record holds now; one that was touched stays as it was typed, and after a
 * reload as long as what it began with still stands.
 */
export class KeptForms<Boxes, Form extends BoxedForm<Boxes>> {
  readonly #name: string;
  readonly #schema: v.GenericSchema<unknown, Boxes>;
  readonly #keeping: Keeping;
  readonly #begun = new Map<string, Begun<Form>>();

  /**
   * @param name - what they are kept under over reloads
   * @param schema - the boxes as a reload brings them back
   */
  constructor(name: string, schema: v.GenericSchema<unknown, Boxes>, keeping: Keeping) {
    this.#name = name;
    this.#schema = schema;
    this.#keeping = keeping;
  }

  /** The form of this key. `of`: what one that is made now begins with, such as a row of the record and the units. */
  take(key: string, of: string, make: () => Form): Form {
    return untrack(() => {
      const known = this.#begun.get(key);
      if (known !== undefined && (known.of === of || isTouched(known))) return known.form;
      const form = make();
      this.#begun.set(key, { form, of, untouched: JSON.stringify(form.snapshot()) });
      const left = v.safeParse(
        v.strictObject({ of: v.literal(of), boxes: v.unknown() }),
        this.#keeping.read(this.#at(key)),
      );
      const boxes = left.success ? v.safeParse(this.#schema, left.output.boxes) : null;
      if (boxes?.success === true) form.restore(boxes.output);
      return form;
    });
  }

  /** Something stands in the form of this key that was neither kept in the record nor given up. */
  isHalfFilled(key: string): boolean {
    return untrack(() => {
      const begun = this.#begun.get(key);
      return begun === undefined ? this.#keeping.read(this.#at(key)) !== null : isTouched(begun);
    });
  }

  /** Keeps for a reload what stands in the boxes now: to be called in an effect, which they then call again. */
  keep(key: string): void {
    const begun = this.#begun.get(key);
    if (begun === undefined) return;
    const boxes = begun.form.snapshot();
    this.#keeping.write(this.#at(key), isTouched(begun) ? { of: begun.of, boxes } : null);
  }

  /** The form was kept in the record, or given up. */
  drop(key: string): void {
    this.#begun.delete(key);
    this.#keeping.write(this.#at(key), null);
  }

  #at(key: string): string {
    return `form.${this.#name}.${key}`;
  }
}

const isTouched = <Boxes>({ form, untouched }: Begun<BoxedForm<Boxes>>): boolean =>
  JSON.stringify(form.snapshot()) !== untouched;
