import { describe, expect, test } from 'vitest';
import { boxText, readMeasured, readQuantity } from '../../src-renderer/part/read-quantity.ts';

const tongue = { name: 'Tongue width', unit: 'mm', lowest: 1, highest: 500 };
const celsius = { name: 'Temperature', unit: '°C', lowest: -30, highest: 250 };

describe('a number as a person types it', () => {
  test('takes a decimal comma like a decimal point', () => {
    expect(readQuantity('40,25', tongue, 'metric')).toEqual({ kind: 'value', value: 40.25 });
    expect(readQuantity('40.25', tongue, 'metric')).toEqual({ kind: 'value', value: 40.25 });
  });

  test('is in the shown unit and goes to the record in its own: an inch is 25.4 mm by definition (1959)', () => {
    expect(readQuantity('1,5', tongue, 'us')).toEqual({ kind: 'value', value: 38.1 });
    expect(readQuantity('68', celsius, 'us')).toEqual({ kind: 'value', value: 20 });
  });

  test('may carry another unit behind it', () => {
    expect(readQuantity('1.5 in', tongue, 'metric')).toEqual({ kind: 'value', value: 38.1 });
    expect(readQuantity('4 cm', tongue, 'us')).toEqual({ kind: 'value', value: 40 });
  });

  test('is absent when nothing was typed', () => {
    expect(readQuantity('  ', tongue, 'metric')).toEqual({ kind: 'absent' });
  });

  test.each([
    ['600', 'metric', 'Tongue width must be a number from 1 to 500 mm.'],
    ['600', 'us', 'Tongue width must be a number from 0.03937 to 19.69 in.'],
    ['forty', 'metric', 'Tongue width must be a number from 1 to 500 mm.'],
    [
      '1,234.5',
      'metric',
      'Tongue width must be a number from 1 to 500 mm. Type one decimal mark and no others: 1234.5 or 1234,5.',
    ],
    ['40 kg', 'metric', 'Tongue width must be a number from 1 to 500 mm. The unit behind it measures something else.'],
  ] as const)('refuses %s (%s) saying what would be accepted', (text, system, message) => {
    expect(readQuantity(text, tongue, system)).toEqual({ kind: 'refused', message });
  });

  test('comes back into the box as it was, in either system', () => {
    for (const system of ['metric', 'us'] as const) {
      for (const text of ['40', '40.25', '1.575', '0.1']) {
        const read = readQuantity(text, { ...tongue, lowest: 0, highest: 2000 }, system);
        expect(read.kind === 'value' && boxText(read.value, 'mm', system)).toBe(text);
      }
    }
  });
});

describe('a value with its give or take', () => {
  test('keeps both in the unit of the record', () => {
    expect(readMeasured('1', '0,01', tongue, 'us')).toEqual({ kind: 'value', value: { value: 25.4, u: 0.254 } });
  });

  test('has no known uncertainty when none was typed', () => {
    expect(readMeasured('40', '', tongue, 'metric')).toEqual({ kind: 'value', value: { value: 40, u: null } });
  });

  test('refuses a give or take that stands alone or cannot be read', () => {
    expect(readMeasured('', '0.1', tongue, 'metric').kind).toBe('refused');
    expect(readMeasured('40', 'a bit', tongue, 'metric').kind).toBe('refused');
    expect(readMeasured('40', '-1', tongue, 'metric').kind).toBe('refused');
  });
});
