import { formatNumber } from '../../../src-shared/quantity/format.ts';
import type { UnitSystem } from '../../../src-shared/quantity/unit.ts';
import { boxText, readQuantity, type Asked } from '../../part/read-quantity.ts';

/** A figure that was converted has no more digits than anybody measures. */
function shortText(value: number, unit: string, system: UnitSystem): string {
  return formatNumber(Number(boxText(value, unit, system)), 4);
}

type Numbers<Key extends string> = { readonly [K in Key]?: number };

/** The numbers that can be read of some boxes, and what is wrong with the others; an empty box is neither. */
export interface BoxesRead<Key extends string> {
  readonly numbers: Numbers<Key>;
  readonly refusals: Readonly<Partial<Record<Key, string>>>;
}

/** Boxes for numbers, as a person types into them. */
export class Boxes<Key extends string> {
  readonly #asked: Readonly<Record<Key, Asked>>;
  readonly #keys: readonly Key[];
  texts: Record<Key, string>;
  /** What a text was written for, so that another unit and back changes no number. */
  readonly #written = new Map<Key, { readonly text: string; readonly value: number }>();

  /** @param empty - a text for every key */
  constructor(asked: Readonly<Record<Key, Asked>>, keys: readonly Key[], empty: Record<Key, string>) {
    this.#asked = asked;
    this.#keys = keys;
    this.texts = $state(empty);
  }

  read(system: UnitSystem): BoxesRead<Key> {
    const numbers: Partial<Record<Key, number>> = {};
    const refusals: Partial<Record<Key, string>> = {};
    for (const key of this.#keys) {
      const text = this.texts[key];
      const written = this.#written.get(key);
      const read = readQuantity(text, this.#asked[key], system);
      if (read.kind === 'value') numbers[key] = written?.text === text ? written.value : read.value;
      if (read.kind === 'refused') refusals[key] = read.message;
    }
    return { numbers, refusals };
  }

  /** Writes figures into their boxes, in the record's units; the others stay. */
  put(numbers: Numbers<Key>, system: UnitSystem): void {
    for (const key of this.#keys) {
      const value = numbers[key];
      if (value === undefined) continue;
      const text = shortText(value, this.#asked[key].unit, system);
      this.#written.set(key, { text, value });
      this.texts[key] = text;
    }
  }

  /** The same numbers in the other units; what cannot be read stays as it was typed. */
  turnTo(to: UnitSystem, from: UnitSystem): void {
    this.put(this.read(from).numbers, to);
  }
}
