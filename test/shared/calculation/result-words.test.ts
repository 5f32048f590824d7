import { describe, expect, it } from 'vitest';
import { jobSteps } from '../../../src-shared/calculation/job-step.ts';
import { choiceWord, type InputShape } from '../../../src-shared/calculation/input-shape.ts';
import { resultWords } from '../../../src-shared/calculation/result-words.ts';
import type { ResultWord, ResultWords } from '../../../src-shared/calculation/words/word.ts';
import { calculations } from '../../../src-shared/calculation/table.ts';

const all = Object.values(calculations);
const isObject = (thing: unknown): thing is Readonly<Record<string, unknown>> =>
  typeof thing === 'object' && thing !== null && !Array.isArray(thing);

/** Paths of results that no words are there for: keys without a label, choices, flags and nulls without their word. */
function unsaid(results: unknown, words: ResultWords | undefined, path = ''): string[] {
  if (!isObject(results)) return [];
  return Object.entries(results).flatMap(([key, value]) => {
    const word = words?.[key];
    return word === undefined ? [`${path}${key}`] : unsaidValue(value, word, `${path}${key}`);
  });
}

function unsaidValue(value: unknown, word: ResultWord, path: string): string[] {
  if (value === null) return word.absent === undefined ? [`${path}: null`] : [];
  if (typeof value === 'boolean') return (value ? word.yes : word.no) === undefined ? [`${path}: ${value}`] : [];
  if (typeof value === 'string') {
    return word.choices !== undefined && word.choices[value] === undefined ? [`${path}: ${value}`] : [];
  }
  if (Array.isArray(value)) return value.flatMap((item) => unsaidValue(item, word, path));
  return isObject(value) && !('interval95' in value) ? unsaid(value, word.of, `${path}.`) : [];
}

describe('the words of results', () => {
  // A new calculation needs a row in src-shared/calculation/words; its types ask for the rest.
  it.each(all.map(({ name }) => name))('has a row for %s', (name) => {
    expect(Object.keys(resultWords)).toContain(name);
  });

  it.each(all)('says every key, choice, flag and null of $name as its example answers', ({ name, answer, example }) => {
    const answered = answer(example);
    expect(answered.ok ? unsaid(answered.results, resultWords[name]) : answered.error).toEqual([]);
  });

  it('notices what is not said', () => {
    const words = { verdict: { label: 'Verdict', choices: { yes: 'Yes' } }, of: { label: 'Of', of: {} } };
    expect(unsaid({ verdict: 'no', of: [{ inner: 1 }], more: null }, words)).toEqual([
      'verdict: no',
      'of.inner',
      'more',
    ]);
  });
});

describe('the steps of the job', () => {
  it('hold every calculation once', () => {
    const placed = jobSteps.flatMap(({ names }) => names);
    expect(all.map(({ name }) => placed.filter((each) => each === name).length)).toEqual(all.map(() => 1));
  });
});

describe('the words of fields', () => {
  const fieldsOf = (shape: InputShape): { key: string; label: string; shape: InputShape }[] => {
    if (shape.kind === 'list') return fieldsOf(shape.of);
    return shape.kind === 'group' ? shape.fields.flatMap((field) => [field, ...fieldsOf(field.shape)]) : [];
  };

  it.each(all)('tell the fields of one group of $name apart', ({ inputShape }) => {
    const groups = [inputShape, ...fieldsOf(inputShape).map(({ shape }) => shape)];
    for (const group of groups) {
      if (group.kind !== 'group') continue;
      const labels = group.fields.map(({ label }) => label);
      expect(new Set(labels).size, labels.join(', ')).toBe(labels.length);
      expect(group.fields.filter(({ key, label }) => label === '' || label === key)).toEqual([]);
    }
  });

  it('say a choice with spaces unless better words are given', () => {
    expect(choiceWord(undefined, 'true-rms')).toBe('True rms');
    expect(choiceWord(undefined, 'B')).toBe('B');
    expect(choiceWord({ noLoad: 'No-load volts' }, 'noLoad')).toBe('No-load volts');
  });

  it.each(all)('point to lists and choices that $name has', ({ inputShape }) => {
    const groups = [inputShape, ...fieldsOf(inputShape).map(({ shape }) => shape)];
    for (const group of groups) {
      if (group.kind !== 'group') continue;
      for (const { shape } of group.fields) {
        if (shape.kind === 'number' && shape.indexOf !== undefined) {
          expect(group.fields.find(({ key }) => key === shape.indexOf)?.shape.kind).toBe('list');
        }
        if (shape.kind === 'group' && shape.onlyWith !== undefined) {
          const beside = group.fields.find(({ key }) => key === shape.onlyWith?.key)?.shape;
          expect(beside?.kind === 'choice' ? beside.choices : []).toContain(shape.onlyWith.choice);
        }
      }
    }
  });
});
