import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { awgName, awgNumber, awgDiameterMm, awgOfDiameterMm } from '../../../src-shared/quantity/awg.ts';
import { formatEstimate, formatInterval, formatNumber } from '../../../src-shared/quantity/format.ts';
import { parseNumber, parseQuantity } from '../../../src-shared/quantity/parse-number.ts';
import {
  convert,
  inSystem,
  symbolIn,
  unitNamed,
  units,
  unitsLike,
  type UnitSymbol,
} from '../../../src-shared/quantity/unit.ts';

describe('writing a quantity', () => {
  it.each([
    [{ value: 120.2034, u: 0.4123, unit: 'turns' }, '120.20 ± 0.41 turns'],
    [{ value: 120.2034, u: 0.0996, unit: 'turns' }, '120.20 ± 0.10 turns'],
    [{ value: 120.2034, u: 4.96, unit: 'turns' }, '120.2 ± 5.0 turns'],
    [{ value: 1234.5, u: 12.3, unit: 'W' }, '1235 ± 12 W'],
    [{ value: 12345, u: 123, unit: 'W' }, '12350 ± 120 W'],
    [{ value: -0.0004, u: 0.02, unit: 'V' }, '0.000 ± 0.020 V'],
    [{ value: 0.00005, u: 0.00002, unit: 'T' }, '0.000050 ± 0.000020 T'],
    [{ value: 5e-9, u: 1.2e-10, unit: 'T' }, '(5.00 ± 0.12) × 10^-9 T'],
    [{ value: 4.5e8, u: 1e6, unit: 'Ω' }, '(4.500 ± 0.010) × 10^8 Ω'],
    [{ value: 12, u: 0, unit: 'V' }, '12 V'],
    [{ value: 0.5, u: 0, unit: '' }, '0.5'],
    [{ value: 1188.2, u: null, unit: 'W' }, '1188 W (uncertainty not known)'],
  ])('writes %j as %s', (quantity, text) => {
    expect(formatEstimate(quantity)).toBe(text);
  });

  it('writes a decimal comma where it is wanted', () => {
    expect(formatEstimate({ value: 1.25, u: 0.1, unit: 'V' }, ',')).toBe('1,25 ± 0,10 V');
  });

  it.each([
    [0, '0'],
    [1 / 3, '0.333333'],
    [123456789, '1.23457e8'],
    [1e-9, '1e-9'],
    [100, '100'],
    [-2.5, '-2.5'],
    [0.1 + 0.2, '0.3'],
  ])('writes %d as %s', (value, text) => {
    expect(formatNumber(value)).toBe(text);
  });

  it.each([
    [[106.9234, 133.4012], '106.9 to 133.4'],
    [[0.98123, 0.99077], '0.9812 to 0.9908'],
    [[-0.4, 12.25], '-0.4 to 12.3'],
    [[61_834.2, 74_211.9], '61800 to 74200'],
    [[3, 3], '3 to 3'],
    [[1.2345678e9, 1.5e9], '1.2346e9 to 1.5e9'],
  ] as const)('writes both ends of %o with as many decimals as its figure has', (interval, text) => {
    expect(formatInterval(interval)).toBe(text);
  });

  it('never moves a value by more than half of its last digit', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -1e5, max: 1e5, noNaN: true }),
        fc.double({ min: 1e-4, max: 1e3, noNaN: true }),
        (value, u) => {
          const [shown, doubt] = formatEstimate({ value, u, unit: '' }).split(' ± ').map(Number);
          // Two digits of u: its last place is at most a tenth of it.
          expect(Math.abs((shown ?? NaN) - value)).toBeLessThanOrEqual(0.0501 * u + 1e-12);
          expect(Math.abs((doubt ?? NaN) - u)).toBeLessThanOrEqual(0.0501 * u + 1e-12);
        },
      ),
      { seed: 5, numRuns: 300 },
    );
  });
});

describe('reading a number', () => {
  it.each([
    ['1.5', 1.5],
    ['1,5', 1.5],
    [' -3 ', -3],
    ['−2,25', -2.25],
    ['.5', 0.5],
    ['5,', 5],
    ['1e3', 1000],
    ['1,5E-3', 0.0015],
    ['+7', 7],
  ])('reads "%s"', (text, value) => {
    expect(parseNumber(text)).toEqual({ ok: true, value });
  });

  it.each([
    ['', 'empty'],
    ['1.234,5', 'two-separators'],
    ['1,234,567', 'two-separators'],
    ['abc', 'not-a-number'],
    ['1 000', 'not-a-number'],
    ['1e999', 'not-a-number'],
    ['0x10', 'not-a-number'],
    ['--1', 'not-a-number'],
    ['Infinity', 'not-a-number'],
    ['NaN', 'not-a-number'],
  ])('refuses "%s"', (text, code) => {
    expect(parseNumber(text)).toEqual({ ok: false, code });
  });

  it('reads back what it wrote, with either mark', () => {
    fc.assert(
      fc.property(fc.double({ min: -1e9, max: 1e9, noNaN: true }), fc.constantFrom('.', ','), (value, mark) => {
        const read = parseNumber(formatNumber(value, 9, mark));
        expect(read.ok && Math.abs(read.value - value) <= 1e-8 * Math.abs(value)).toBe(true);
      }),
      { seed: 6, numRuns: 300 },
    );
  });

  it.each([
    ['2 in', 'mm', 50.8],
    ['2"', 'mm', 50.8],
    ['3,5 kg', 'kg', 3.5],
    ['10 lb', 'kg', 4.5359237],
    ['212 °F', '°C', 100],
    ['25', 'mm', 25],
    ['1000 cmil', 'mm²', 0.50670747909749769],
    ['250 mV', 'V', 0.25],
    ['0,4 kV', 'V', 400],
    ['5 mohm', 'Ω', 0.005],
    ['5 Mohm', 'Ω', 5e6],
    ['2 \u2126', 'Ω', 2],
    ['1.5 h', 's', 5400],
  ] as const)('reads "%s" for %s', (text, unit, value) => {
    const read = parseQuantity(text, unit);
    expect(read.ok ? read.value : NaN).toBeCloseTo(value, 9);
  });

  it('refuses a unit of another kind, or none of ours', () => {
    expect(parseQuantity('2 kg', 'mm')).toEqual({ ok: false, code: 'wrong-unit' });
    expect(parseQuantity('2 parsec', 'mm')).toEqual({ ok: false, code: 'unknown-unit' });
    expect(parseQuantity('2.000,5 mm', 'mm')).toEqual({ ok: false, code: 'two-separators' });
  });
});

describe('units', () => {
  const symbols = Object.keys(units) as UnitSymbol[];

  it('comes back from every unit of the same kind', () => {
    for (const from of symbols) {
      for (const to of symbols) {
        const there = convert(12.5, from, to);
        if (there === null) expect(units[from].kind).not.toBe(units[to].kind);
        else expect(convert(there, to, from)).toBeCloseTo(12.5, 9);
      }
    }
  });

  // Exact by definition (international yard and pound, 1959): 1 in = 25.4 mm, 1 lb = 0.45359237 kg.
  it('shows a system throughout, uncertainty included', () => {
    expect(inSystem({ value: 25.4, u: 2.54, unit: 'mm' }, 'us')).toEqual({ value: 1, u: 0.1, unit: 'in' });
    expect(inSystem({ value: 100, u: 5, unit: '°C' }, 'us')).toEqual({ value: 212, u: 9, unit: '°F' });
    expect(inSystem({ value: 10, u: null, unit: 'K' }, 'us')).toEqual({ value: 18, u: null, unit: 'F°' });
    expect(inSystem({ value: 230, u: 1, unit: 'V' }, 'us')).toEqual({ value: 230, u: 1, unit: 'V' });
    expect(symbolIn('metric', 'lb')).toBe('kg');
  });

  it('knows units by their other spellings', () => {
    expect(unitNamed('INCH')).toBe('in');
    expect(unitNamed('degC')).toBe('°C');
    expect(unitNamed('furlong')).toBeNull();
  });

  it('never takes milli for mega', () => {
    expect(unitNamed('mV')).toBe('mV');
    expect(unitNamed('MV')).toBeNull();
    expect(unitNamed('mohm')).toBe('mΩ');
    expect(unitNamed('Mohm')).toBe('MΩ');
  });

  it('lists the units of a kind, the asked one first', () => {
    expect(unitsLike('V')).toEqual(['V', 'mV', 'kV']);
    expect(unitsLike('in')).toEqual(['in', 'mm', 'cm', 'mil']);
    expect(unitsLike('Hz')).toEqual(['Hz']);
  });

  it('leaves units that both systems share as they are', () => {
    expect(symbolIn('us', 'mV')).toBe('mV');
    expect(symbolIn('metric', 'min')).toBe('min');
    expect(inSystem({ value: 5, u: 1, unit: 'kV' }, 'us')).toEqual({ value: 5, u: 1, unit: 'kV' });
  });
});

describe('gauges', () => {
  it('have names both ways', () => {
    for (const n of [-3, -2, -1, 0, 1, 12, 40]) {
      const name = awgName(n);
      expect(awgNumber(name.includes('/') ? (name as '1/0') : Number(name))).toBe(n);
      expect(awgOfDiameterMm(awgDiameterMm(n))).toBeCloseTo(n, 10);
    }
  });
});
