import { describe, expect, it, test } from 'vitest';
import type { InputShape } from '../../../src-shared/calculation/input-shape.ts';
import { calculations, isCalculationName } from '../../../src-shared/calculation/table.ts';
import { budgetWord } from '../../../src-renderer/page/workings/budget-words.ts';
import { formulaParts } from '../../../src-renderer/page/workings/formula-parts.ts';
import { Leaf, type LeafTexts } from '../../../src-renderer/page/workings/form-node.svelte.ts';
import { findWorkings } from '../../../src-renderer/page/workings/find-working.ts';
import { inputFromAddress, inputInAddress } from '../../../src-renderer/page/workings/input-address.ts';
import { readPasted } from '../../../src-renderer/page/workings/paste-table.ts';
import { readLeaf } from '../../../src-renderer/page/workings/read-leaf.ts';
import { scaleOver } from '../../../src-renderer/page/workings/plot/ticks.ts';
import { WorkingForm } from '../../../src-renderer/page/workings/working-form.svelte.ts';

const names = Object.keys(calculations).filter(isCalculationName);
const measured = (unit: string | null, more: object = {}) =>
  ({ kind: 'measured', unit, bounds: { above: 0 }, ...more }) satisfies InputShape;

function read(shape: Parameters<typeof readLeaf>[0], texts: Partial<LeafTexts>): unknown {
  const found = readLeaf(shape, Object.assign(new Leaf(shape, 'metric'), texts));
  return found.kind === 'value' ? found.value : found.kind === 'unread' ? found.message : undefined;
}

describe('what is typed into a value', () => {
  it.each([
    [{ text: '4,883' }, 4.883],
    [{ text: '240 mV' }, 0.24],
    [{ text: '240', unit: 'mV' }, 0.24],
    [{ text: '0,24 kV', unit: 'mV' }, 240],
    [{ text: '4.883 ± 0.003' }, { value: 4.883, u: 0.003 }],
    [{ text: '4.883 +/- 3 mV' }, { value: 4.883, u: 0.003 }],
    [
      { text: '200', doubt: '0,5 %' },
      { value: 200, u: 1 },
    ],
    [
      { text: '200', doubt: '?' },
      { value: 200, u: null },
    ],
    [
      { text: '200', doubt: '0' },
      { value: 200, u: 0 },
    ],
    [
      { text: '2', doubt: '4', unit: 'mV' },
      { value: 0.002, u: 0.004 },
    ],
    [
      { text: '10', doubt: '2', means: 'twice' },
      { value: 10, u: 1 },
    ],
    [
      { text: '10', doubt: '1', means: 'of-limits' },
      { value: 10, u: 1, shape: 'rectangular' },
    ],
    [
      { text: '10', doubt: '1', dof: '9' },
      { value: 10, u: 1, dof: 9 },
    ],
    [
      { text: '10', sharedId: 'meter A', sharedDoubt: '20 mV' },
      { value: 10, u: 0, shared: { id: 'meter A', u: 0.02 } },
    ],
    [{ text: '' }, undefined],
  ] as const)('%j', (texts, value) => {
    expect(read(measured('V'), texts)).toEqual(value);
  });

  // JCGM 100:2008, 4.3.7 and 4.3.9: limits of ±a are u = a / sqrt 3, triangular ones a / sqrt 6.
  it('divides limits to become standard uncertainties', () => {
    expect(read(measured('V'), { text: '10', doubt: '1', means: 'limits' })).toEqual({
      value: 10,
      u: 0.57735027,
      shape: 'rectangular',
    });
    expect(read(measured('V'), { text: '10', doubt: '1', means: 'peaked' })).toEqual({
      value: 10,
      u: 0.40824829,
      shape: 'triangular',
    });
  });

  it('converts temperatures with their zero, and their doubt without', () => {
    expect(read(measured('°C'), { text: '212', unit: '°F', doubt: '9' })).toEqual({ value: 100, u: 5 });
  });

  // ASTM B258: 12 AWG is 2.053 mm, 4/0 is 11.684 mm.
  it('takes a gauge for the size of a wire', () => {
    const wire = measured('mm', { isWireSize: true });
    expect(read(wire, { text: '12', unit: 'AWG' })).toBeCloseTo(2.0525, 3);
    expect(read(wire, { text: 'AWG 4/0' })).toBeCloseTo(11.684, 3);
    expect(read(measured('mm²', { isWireSize: true }), { text: '12 awg' })).toBeCloseTo(3.309, 2);
    expect(read(wire, { text: '99', unit: 'AWG' })).toMatch(/^Type a number/);
  });

  it.each([
    [{ text: '4O' }, 'Type a number above 0 V. The unit behind it is not known here.'],
    [{ text: '1.234,5' }, 'Type a number above 0 V. One decimal mark and no others: 1234.5 or 1234,5.'],
    [{ text: '5 mm' }, 'Type a number above 0 V. The unit behind it measures something else.'],
    [{ text: '5 MV' }, 'Type a number above 0 V. The unit behind it is not known here.'],
    [{ text: '5', doubt: 'some' }, 'After ± goes a number from 0 up, a percentage such as 0.5 %, or ? for not known.'],
    [{ text: '', doubt: '2' }, 'Only what comes after ± is there.'],
    [
      { text: '5', sharedId: 'meter A' },
      'The shared part needs both: with whom it is shared, and how much, from 0 up.',
    ],
  ] as const)('refuses %j with what would be taken', (texts, message) => {
    expect(read(measured('V'), texts)).toBe(message);
  });

  it('says bounds in the unit that is shown', () => {
    const shape = { kind: 'measured', unit: 'mm', bounds: { above: 0, atMost: 100 } } satisfies InputShape;
    expect(read(shape, { text: 'x', unit: 'in' })).toBe('Type a number above 0 up to 3.937 in.');
  });
});

describe('a form', () => {
  it.each(names)('gives the example of %s back as it was put in, and an answer', (name) => {
    const form = new WorkingForm(name, 'metric');
    form.startFromExample();
    expect(form.judge().input).toEqual(calculations[name].example);
    expect(form.judge().outcome.kind, JSON.stringify(form.judge().outcome)).toBe('answered');
  });

  it.each(names)('gives the example of %s back through inches, pounds and Fahrenheit', (name) => {
    const form = new WorkingForm(name, 'us');
    form.startFromExample();
    expect(form.judge().input).toEqual(calculations[name].example);
  });

  it.each(names)('of %s comes back from what was kept of it', (name) => {
    const form = new WorkingForm(name, 'metric');
    form.startFromExample();
    const kept: unknown = JSON.parse(JSON.stringify(form.typed));
    const again = new WorkingForm(name, 'us');
    again.put(kept as typeof form.typed);
    expect(again.judge().input).toEqual(calculations[name].example);
  });

  it.each(names)('of %s says what is still needed, and nothing is wrong with an empty one', (name) => {
    const form = new WorkingForm(name, 'metric');
    expect([...form.judge().problems.values()]).toEqual([]);
    expect(form.judge().outcome.kind).toBe('empty');
  });

  it.each(names)('of %s names every doubt of its example in words', (name) => {
    const form = new WorkingForm(name, 'metric');
    form.startFromExample();
    const inputs = JSON.stringify(form.judge().outcome).matchAll(/"input":"([^"]+)","u"/g);
    for (const [, input = ''] of inputs) {
      expect(budgetWord(calculations[name].inputShape, input), input).not.toMatch(/undefined|^[a-z]+[A-Z]|^\w+\.\d+$/u);
    }
  });

  test('takes back what was done, in order', () => {
    const form = new WorkingForm('polarity', 'metric');
    form.startFromExample();
    form.clear();
    expect(form.isEmpty).toBe(true);
    expect(form.takeBack()).toBe('cleared');
    expect(form.judge().input).toEqual(calculations.polarity.example);
    expect(form.takeBack()).toBe('the example put in');
    expect(form.isEmpty).toBe(true);
    expect(form.takeBack()).toBeNull();
  });

  test('keeps naming the same row when rows move', () => {
    const form = new WorkingForm('winding-volts', 'metric');
    form.startFromExample();
    const list = form.root.kind === 'group' ? form.root.fields[0]?.node : undefined;
    if (list?.kind !== 'list') throw new Error('the windings come first');
    form.changeRows('row 1 moved', list, () => {
      list.moveRow(0, 2);
    });
    expect(form.judge().input).toMatchObject({ fedIndex: 2, windings: [{}, {}, { name: 'primary' }] });
    form.changeRows('row 3 removed', list, () => {
      list.removeRow(2);
    });
    expect(form.judge().outcome).toMatchObject({ kind: 'missing', missing: [{ words: 'Which winding is fed' }] });
  });
});

describe('pasted text', () => {
  it.each([
    ['0\t21.2\n900\t34.5\n', [['0', '21.2'], ['900', '34.5']]], // prettier-ignore
    ['0;21,2\r\n900;34,5', [['0', '21,2'], ['900', '34,5']]], // prettier-ignore
    ['0,21.2\n900,34.5', [['0', '21.2'], ['900', '34.5']]], // prettier-ignore
    ['0, 21\n900, 34', [['0', '21'], ['900', '34']]], // prettier-ignore
    ['21,2\n34,5', [['21,2'], ['34,5']]],
    ['21.2\n34.5\n\n', [['21.2'], ['34.5']]],
    ['4.1 ± 0.2\t7', [['4.1 ± 0.2', '7']]],
  ])('%j is a table', (text, rows) => {
    expect(readPasted(text)).toEqual({ rows, hadHeadings: false });
  });

  it('leaves a line of headings out, and a single value alone', () => {
    expect(readPasted('time s\ttemp °C\n0\t21.2')).toEqual({ rows: [['0', '21.2']], hadHeadings: true });
    expect(readPasted('21.2')).toBeNull();
    expect(readPasted('21,2\n')).toBeNull();
  });
});

describe('an input in an address', () => {
  it.each(names)('of %s comes back whole', (name) => {
    const code = inputInAddress(calculations[name].example) ?? '';
    expect(code).toMatch(/^[\w-]+$/);
    expect(inputFromAddress(code)).toEqual(JSON.parse(JSON.stringify(calculations[name].example)));
  });

  it('is bounded, and nothing that cannot be read is taken', () => {
    expect(inputInAddress({ points: Array.from({ length: 900 }, (_, seconds) => ({ seconds })) })).toBeNull();
    expect(inputFromAddress('%%%')).toBeUndefined();
    expect(inputFromAddress('e30x')).toBeUndefined();
    expect(inputFromAddress('A'.repeat(5000))).toBeUndefined();
  });
});

test('formulas are written as by hand', () => {
  const text = (formula: string) =>
    formulaParts(formula)
      .map(({ text: part, at }) => (at === 'line' ? part : at === 'raised' ? `^${part}^` : `_${part}_`))
      .join('');
  expect(text('A_Fe W / 10^4')).toBe('A_Fe_ W / 10^4^');
  expect(text('117.042^0.258 × N[0]')).toBe('117.042^0.258^ × N_1_');
  expect(text('sqrt(3) e^(−t/τ)')).toBe('√(3) e^−t/τ^');
});

test('a calculation is found by its title, its fields, its results and its step', () => {
  const found = (typed: string) => findWorkings(typed).flatMap(({ names: each }) => each);
  expect(found('test coil')).toContain('test-coil');
  expect(found('STACKING factor')).toEqual(expect.arrayContaining(['flux-density', 'core-rating']));
  expect(found('time constant')).toEqual(expect.arrayContaining(['heat-run', 'cooling', 'duty']));
  expect(found('survey')).toContain('wire');
  expect(found('no such thing at all')).toEqual([]);
  expect(found('').length).toBe(names.length);
});

test('axes have round marks within them', () => {
  expect(scaleOver([0, 7200], 6).marks).toEqual([0, 2000, 4000, 6000]);
  expect(scaleOver([0.5, 3.5], 6, true).marks).toEqual([1, 2, 3]);
  const flat = scaleOver([5, 5], 5);
  expect(flat.from).toBeLessThan(5);
  expect(flat.to).toBeGreaterThan(5);
});
