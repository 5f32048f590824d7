import { describe, expect, it } from 'vitest';
import { valuesOf, type Expectations, type MeterValue } from '../../../src-shared/meter/channel-reading.ts';
import type { SerialMeter } from '../../../src-shared/meter/description.ts';
import { readLine } from '../../../src-shared/meter/line-grammar.ts';
import { serialMeter } from './describe.ts';

const read = (line: string, more: Partial<SerialMeter> = {}, expected: Expectations = {}) =>
  valuesOf(line, readLine(line, 'point'), serialMeter(more), expected);
const sole = (line: string, more: Partial<SerialMeter> = {}, expected: Expectations = {}): MeterValue | undefined =>
  read(line, more, expected)[0]?.value;

describe('the values of a line by the description', () => {
  it('is one value named so, for a meter that sends one', () => {
    expect(read('118.6 V AC')).toEqual([
      {
        name: 'value',
        value: { kind: 'number', value: 118.6, unit: 'V', coupling: 'ac', resolution: 0.1, text: '118.6 V AC' },
      },
    ]);
  });

  it('refuses a bare number unless the description says what it is in', () => {
    expect(sole('118.6')).toMatchObject({ kind: 'unreadable', why: 'unit-missing', text: '118.6' });
    const bareUnit = { unit: 'V', coupling: 'ac' } as const;
    expect(sole('118.6', { bareUnit })).toMatchObject({ value: 118.6, unit: 'V', coupling: 'ac' });
    expect(sole('118.6 V', { bareUnit })).toMatchObject({ unit: 'V', coupling: 'ac' });
    expect(sole('1.2 kΩ', { bareUnit })).toEqual({
      kind: 'number',
      value: 1200,
      unit: 'Ω',
      resolution: 100,
      text: '1.2 kΩ',
    });
    expect(sole('118.6 DC', { bareUnit })).toMatchObject({ why: 'wrong-unit' });
    expect(sole('OL', { bareUnit })).toMatchObject({ kind: 'overload', unit: 'V', coupling: 'ac' });
  });

  it('refuses several values where one is described', () => {
    expect(sole('1 V; 2 A')).toMatchObject({ kind: 'unreadable', why: 'several-values', text: '1 V; 2 A' });
  });

  it('picks described values by place and by label', () => {
    const values: SerialMeter['values'] = [
      { name: 'volts', from: { by: 'label', label: 'U' }, unit: 'V', coupling: 'ac' },
      { name: 'amps', from: { by: 'position', position: 1 }, unit: 'A', coupling: null },
      { name: 'watts', from: { by: 'position', position: 5 }, unit: null, coupling: null },
    ];
    expect(read('U=230.4;0.712 A', { values })).toMatchObject([
      { name: 'volts', value: { value: 230.4, unit: 'V', coupling: 'ac' } },
      { name: 'amps', value: { value: 0.712, unit: 'A' } },
      { name: 'watts', value: { kind: 'unreadable', why: 'value-missing', detail: 'Missing: watts.' } },
    ]);
    expect(read('0.7 A;230.4 V', { values })[1]?.value).toMatchObject({
      why: 'wrong-unit',
      detail: 'It is V; A was expected.',
      text: '230.4 V',
    });
  });

  it('applies a scale factor and keeps what was shown', () => {
    const scales: SerialMeter['scales'] = [{ unit: 'V', factor: 100, becomes: 'A', percent: 2 }];
    const expected: Expectations = { value: { unit: 'A', coupling: null } };
    expect(sole('0.125 V', { scales }, expected)).toMatchObject({
      value: 12.5,
      unit: 'A',
      resolution: 0.1,
      shown: { value: 0.125, unit: 'V', resolution: 0.001 },
      text: '0.125 V',
    });
    expect(sole('OL V', { scales }, expected)).toMatchObject({ kind: 'overload', unit: 'A' });
  });
});

describe('what a channel expects', () => {
  const expected: Expectations = { value: { unit: 'V', coupling: 'ac' } };

  it('turns another unit or coupling into an unreadable value that says both', () => {
    expect(sole('3.2 A', {}, expected)).toEqual({
      kind: 'unreadable',
      why: 'wrong-unit',
      at: 0,
      text: '3.2 A',
      detail: 'It is A; V ac was expected.',
    });
    expect(sole('12.0 V DC', {}, expected)).toMatchObject({ detail: 'It is V dc; V ac was expected.' });
    expect(sole('OL kΩ', {}, expected)).toMatchObject({ why: 'wrong-unit' });
  });

  it('judges only what was sent', () => {
    expect(sole('118.6 V', {}, expected)).toMatchObject({ kind: 'number', value: 118.6 });
    expect(sole('OL', {}, expected)).toMatchObject({ kind: 'overload' });
    expect(sole('118.6 V', {}, { other: { unit: 'A', coupling: null } })).toMatchObject({ kind: 'number' });
  });
});
