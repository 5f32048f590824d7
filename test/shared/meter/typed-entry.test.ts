import { describe, expect, it } from 'vitest';
import { readTyped } from '../../../src-shared/meter/typed-entry.ts';

const volts = { unit: 'V', coupling: 'ac' } as const;

describe('a typed value', () => {
  it.each([
    ['118.6', 118.6, 0.1],
    ['118,6', 118.6, 0.1],
    [' 118,60 V ', 118.6, 0.01],
    ['987 mV', 0.987, 0.001],
    ['0,987 V~', 0.987, 0.001],
    ['12.4 kV', 12_400, 100],
    ['1.2345', 1.2345, 0.0001],
    ['0,123', 0.123, 0.001],
  ])('%s for volts is %d V', (typed, value, resolution) => {
    expect(readTyped(typed, volts)).toEqual({
      kind: 'number',
      value,
      unit: 'V',
      coupling: 'ac',
      resolution,
      text: typed,
    });
  });

  it('may be an overload', () => {
    expect(readTyped('ol', volts)).toMatchObject({ kind: 'overload', unit: 'V', text: 'ol' });
  });

  it('is refused in another unit, saying both', () => {
    expect(readTyped('3.2 A', volts)).toEqual({
      kind: 'refused',
      code: 'wrong-unit',
      sentence: 'It is in another unit than was expected. It is A; V ac was expected.',
      text: '3.2 A',
    });
    expect(readTyped('12 V DC', volts)).toMatchObject({ code: 'wrong-unit' });
  });

  it('is refused when it could be thousands, unless the comma is the person’s decimal mark', () => {
    expect(readTyped('1,234', volts)).toMatchObject({
      code: 'comma-or-thousands',
      sentence: '1,234 could be thousands. Type 1.234 or 1234.',
    });
    expect(readTyped('1,234', volts, 'comma')).toMatchObject({ value: 1.234 });
    expect(readTyped('1,234', volts, 'point')).toMatchObject({ kind: 'refused', code: 'unreadable' });
    expect(readTyped('1.234', volts, 'comma')).toMatchObject({ kind: 'refused', code: 'unreadable' });
    expect(readTyped('1,234.5', volts)).toMatchObject({ code: 'two-marks' });
    expect(readTyped('1.234,5', volts)).toMatchObject({ code: 'two-marks' });
  });

  it.each(['', '  ', 'twelve', '1 234', '5;6', '5 V 6 V', 'V: 5', '1e999', 'NaN', 'Infinity5', '0x10', '5 MV', '--'])(
    'is refused when it is %j, with a sentence and what was typed',
    (typed) => {
      const entry = readTyped(typed, volts);
      expect(entry.kind).toBe('refused');
      expect(entry.kind === 'refused' && entry.sentence).toMatch(/\.$/);
      expect(entry.text).toBe(typed);
    },
  );

  it('takes degrees either way and asks back about a bare F', () => {
    const degrees = { unit: '°C', coupling: null } as const;
    expect(readTyped('21,5', degrees)).toMatchObject({ value: 21.5, unit: '°C' });
    expect(readTyped('50 °F', degrees)).toMatchObject({ value: 10, unit: '°C' });
    expect(readTyped('50 F', degrees)).toMatchObject({ kind: 'refused', code: 'unreadable' });
  });
});
