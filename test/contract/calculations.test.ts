import { describe, expect, it } from 'vitest';
import type { Calculation } from '../../src-shared/calculation/calculation.ts';
import type { InputShape } from '../../src-shared/calculation/input-shape.ts';
import { calculations } from '../../src-shared/calculation/table.ts';
import { promised } from './calculation-list.ts';

const table: Readonly<Record<string, Calculation<unknown>>> = calculations;

interface Known {
  readonly required: boolean;
  readonly shape: InputShape;
}

/** Every input of a shape by path, what is inside of a list behind its name. */
function inputsOf(shape: InputShape, before = ''): ReadonlyMap<string, Known> {
  switch (shape.kind) {
    case 'list':
      return inputsOf(shape.of, before);
    case 'group':
      return new Map(
        shape.fields.flatMap(({ key, required, shape: inner }): [string, Known][] => [
          [`${before}${key}`, { required, shape: inner }],
          ...inputsOf(inner, `${before}${key}.`),
        ]),
      );
    default:
      return new Map();
  }
}

/** Every key of the results by path, lists passed through. */
function keysOf(thing: unknown, before = ''): readonly string[] {
  if (Array.isArray(thing)) return thing.flatMap((each) => keysOf(each, before));
  if (typeof thing !== 'object' || thing === null) return [];
  return Object.entries(thing).flatMap(([key, part]) => [`${before}${key}`, ...keysOf(part, `${before}${key}.`)]);
}

const wordsOf = (shape: InputShape | undefined): readonly (string | number)[] => {
  if (shape?.kind === 'choice') return shape.choices;
  return shape?.kind === 'either' ? shape.of.flatMap(wordsOf) : [];
};

const name = (key: string) => key.replace('?', '');

describe.each(Object.entries(promised))('%s', (calculation, { input, results, another, words = {} }) => {
  const found = table[calculation];
  const inputs = found === undefined ? new Map<string, Known>() : inputsOf(found.inputShape);

  it('is there under its name', () => {
    expect(found?.name).toBe(calculation);
  });

  it('takes every input that was promised, and asks for none that may be left out', () => {
    expect(input.map(name).filter((key) => !inputs.has(key))).toEqual([]);
    const optional = input.filter((key) => key.endsWith('?')).map(name);
    expect(optional.filter((key) => inputs.get(key)?.required === true)).toEqual([]);
  });

  it('asks for nothing beyond what was promised', () => {
    const inside = (key: string) => {
      const outer = key.split('.').slice(0, -1).join('.');
      return outer === '' || input.map(name).includes(outer);
    };
    const required = [...inputs].filter(([key, known]) => known.required && inside(key)).map(([key]) => key);
    expect(required.filter((key) => !input.map(name).includes(key))).toEqual([]);
  });

  it('gives every result that was promised', () => {
    const example = typeof found?.example === 'object' ? found.example : {};
    const asked = another === undefined ? [example] : [example, { ...example, ...another }];
    const given = asked.flatMap((each) => {
      const answer = found?.answer(each);
      return answer?.ok === true ? keysOf(answer.results) : [];
    });
    expect(results.map(name).filter((key) => !given.includes(key))).toEqual([]);
  });

  it('knows every word that was promised', () => {
    for (const [key, all] of Object.entries(words)) {
      expect(wordsOf(inputs.get(key)?.shape), key).toEqual(expect.arrayContaining([...all]));
    }
  });
});
