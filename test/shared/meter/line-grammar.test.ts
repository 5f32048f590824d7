import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readLine, type ReadValue } from '../../../src-shared/meter/line-grammar.ts';
import type { DecimalMark } from '../../../src-shared/meter/decimal-mark.ts';
import { sentenceOf, unreadableReasons } from '../../../src-shared/meter/unreadable.ts';

const only = (text: string, decimal: DecimalMark = 'point'): ReadValue => {
  const fields = readLine(text, decimal);
  expect(fields).toHaveLength(1);
  return fields[0]?.value ?? { kind: 'unreadable', why: 'blank', at: 0, text };
};

/** A value in short: `0.5 V ac /0.01` for a number and its last digit, `over - V`, or `why@column`. */
function brief(value: ReadValue): string {
  const unit = value.kind === 'unreadable' ? '' : [value.unit, value.coupling].filter(Boolean).join(' ');
  switch (value.kind) {
    case 'number':
      return `${[value.value, unit].filter((part) => part !== '').join(' ')} /${value.resolution}`;
    case 'overload':
      return ['over', value.sign < 0 ? '-' : '+', unit].filter(Boolean).join(' ');
    case 'unreadable':
      return `${value.why}@${value.at}`;
  }
}

const fieldsOf = (text: string, decimal: DecimalMark = 'point'): string[] =>
  readLine(text, decimal).map(({ label, value }) => `${label === undefined ? '' : `${label}: `}${brief(value)}`);

describe('one value on a line', () => {
  it.each([
    ['118.6 V', '118.6 V /0.1'],
    ['  118.6V  ', '118.6 V /0.1'],
    ['+9.870E+00 VAC', '9.87 V ac /0.001'],
    ['12.34 mV AC', '0.01234 V ac /0.00001'],
    ['-0.712 A DC', '-0.712 A dc /0.001'],
    ['- 12.3 V', '-12.3 V /0.1'],
    ['−2.5 V', '-2.5 V /0.1'],
    ['.5 V', '0.5 V /0.1'],
    ['-0.00 V', '0 V /0.01'],
    ['230.1 V~', '230.1 V ac /0.1'],
    ['3.3 V =', '3.3 V dc /0.1'],
    ['118.6 VAC+DC', '118.6 V ac+dc /0.1'],
    ['118.6 Vrms', '118.6 V /0.1'],
    ['AC 118.6 V', '118.6 V ac /0.1'],
    ['118.6 AC', '118.6 ac /0.1'],
    ['1.2kΩ', '1200 Ω /100'],
    ['1.2 kOhm', '1200 Ω /100'],
    ['1.2 k Ohm', '1200 Ω /100'],
    ['1.2 KOHM', '1200 Ω /100'],
    ['3.1 mΩ', '0.0031 Ω /0.0001'],
    ['2.00 MΩ', '2000000 Ω /10000'],
    ['2.00 MOHM', '2000000 Ω /10000'],
    ['50.00 Hz', '50 Hz /0.01'],
    ['49.98 Hz AC', '49.98 Hz /0.01'],
    ['23.4 C', '23.4 °C /0.1'],
    ['23.4 °C', '23.4 °C /0.1'],
    ['23.4 degC', '23.4 °C /0.1'],
    ['31.5 W', '31.5 W /0.1'],
    ['1.24 kVA', '1240 VA /10'],
    ['0.31 kWh', '310 Wh /10'],
    ['10.2 µA', '0.0000102 A /1e-7'],
    ['10.2 uA', '0.0000102 A /1e-7'],
    ['1.5 nF', '1.5e-9 F /1e-10'],
    ['42', '42 /1'],
  ])('%s is %s', (text, expected) => expect(brief(only(text))).toBe(expected));

  it('turns Fahrenheit into Celsius, its last digit too', () => {
    const value = only('212.0 °F');
    expect(value.kind === 'number' && [value.value, value.unit]).toEqual([100, '°C']);
    expect(value.kind === 'number' && value.resolution).toBeCloseTo(1 / 18, 12);
  });

  it('keeps the text as it was sent', () => expect(only(' V1: 118.60 V ').text).toBe('V1: 118.60 V'));

  it.each([
    ['OL', 'over +'],
    ['0.L', 'over +'],
    ['0L', 'over +'],
    ['.OL', 'over +'],
    ['OL.', 'over +'],
    ['-OL V', 'over - V'],
    ['OL kΩ', 'over + Ω'],
    ['0.LkΩ', 'over + Ω'],
    ['OVERLOAD', 'over +'],
    ['over range V AC', 'over + V ac'],
    ['-INF', 'over -'],
  ])('%s is an overload: %s', (text, expected) => expect(brief(only(text))).toBe(expected));

  it.each([
    ['   ', 'blank@3'],
    ['----', 'dashes@0'],
    ['--.-- V', 'dashes@0'],
    ['hello', 'no-number@0'],
    ['reading 5 V', 'text-before@0'],
    ['±0.5 V', 'text-before@0'],
    ['--5 V', 'bad-number@0'],
    ['+', 'bad-number@0'],
    ['1.2.3 V', 'bad-number@3'],
    ["1'234 V", 'bad-number@1'],
    ['1,234', 'comma@1'],
    ['1,234.5 V', 'comma@1'],
    ['12,5 V', 'comma@2'],
    ['1 234 V', 'digits-apart@2'],
    ['12.3 V 4.5 A', 'several-values@4'],
    ['2026-01-02', 'text-after@4'],
    ['118.6 V*', 'text-after@5'],
    ['118.6 V A', 'text-after@5'],
    ['1E999', 'out-of-bounds@0'],
    ['1E-400 V', 'out-of-bounds@0'],
    ['0E+874 V', 'out-of-bounds@0'],
    ['0E-400 V', 'out-of-bounds@0'],
    ['NaN', 'not-a-number@0'],
    ['12 %', 'unknown-unit@2'],
    ['12 dBm', 'unknown-unit@2'],
    ['99 NA', 'unknown-unit@2'],
    ['OLD', 'unknown-unit@2'],
    ['73.4 F', 'ambiguous-unit@4'],
    ['12.3 MV', 'ambiguous-prefix@4'],
    ['1.2 MVAC', 'ambiguous-prefix@3'],
    ['3 mohm', 'ambiguous-prefix@1'],
    ['AC 118.6 VDC', 'contradicting-marks@8'],
    ['3 Ω AC', 'contradicting-marks@1'],
    ['mV: 12.3', 'unit-apart@0'],
  ])('%s is unreadable: %s', (text, expected) => expect(brief(only(text))).toBe(expected));

  it('reads a decimal comma only where it is declared, and then no point', () => {
    expect(brief(only('0,9874 V~', 'comma'))).toBe('0.9874 V ac /0.0001');
    expect(brief(only('1,5E-3 A', 'comma'))).toBe('0.0015 A /0.0001');
    expect(brief(only('0,L', 'comma'))).toBe('over +');
    expect(brief(only('1.234 V', 'comma'))).toBe('point@1');
    expect(brief(only('118 V', 'comma'))).toBe('118 V /1');
    expect(brief(only('1,2,3', 'comma'))).toBe('bad-number@3');
  });

  it('has a sentence for every reason', () => {
    for (const sentence of Object.values(unreadableReasons)) expect(sentence).toMatch(/^[A-Z].*\.$/);
    expect(sentenceOf({ why: 'wrong-unit', detail: 'A where V was expected.' })).toBe(
      'It is in another unit than was expected. A where V was expected.',
    );
  });
});

describe('several values on a line', () => {
  it('parts them by semicolon, tab, or comma where it is no decimal mark', () => {
    const values = ['230.4 V /0.1', '0.712 A /0.001', '31.5 W /0.1'];
    for (const text of ['230.4 V; 0.712 A; 31.5 W', '230.4 V\t0.712 A\t31.5 W', '230.4 V,0.712 A,31.5 W,']) {
      expect(fieldsOf(text)).toEqual(values);
    }
    expect(fieldsOf('230.4,0.712,+31')).toEqual(['230.4 /0.1', '0.712 /0.001', '31 /1']);
    expect(fieldsOf('230,4 V; 0,712 A', 'comma')).toEqual(['230.4 V /0.1', '0.712 A /0.001']);
    expect(fieldsOf('230,4 V, 0,712 A', 'comma')).toEqual(['several-values@5']);
  });

  it('keeps labels, places and what could not be read', () => {
    expect(fieldsOf('V1: 118.6 V;CH2=OL;;T 3')).toEqual([
      'V1: 118.6 V /0.1',
      'CH2: over +',
      'blank@19',
      'text-before@20',
    ]);
    expect(readLine('1 V; 2 A', 'point').map(({ column }) => column)).toEqual([0, 5]);
  });

  it('does not take a bare number when the unit may stand apart from it', () => {
    expect(fieldsOf('118.6\tmV')).toEqual(['unit-apart@0', 'no-number@6']);
    expect(fieldsOf('MODE=AC;118.6')).toEqual(['MODE: no-number@5', 'unit-apart@8']);
    expect(fieldsOf('118.6 mV;steady')).toEqual(['0.1186 V /0.0001', 'no-number@9']);
  });
});

describe('numbers of SCPI and IEEE 488.2', () => {
  // SCPI-99, volume 1, 7.2.1.4 and 7.2.1.5; IEEE 488.2-1992, 8.7.2 to 8.7.4. From memory, recomputed.
  it.each([
    ['+9.90000000E+37', 'over +'],
    ['9.9E37', 'over +'],
    ['-9.9E37', 'over -'],
    ['9.91E37', 'not-a-number@0'],
    ['+9.91000000E+37', 'not-a-number@0'],
    ['+1.23456E+02', '123.456 /0.001'],
    ['12', '12 /1'],
    ['12.5', '12.5 /0.1'],
    ['-0.00', '0 /0.01'],
  ])('%s is %s', (text, expected) => expect(brief(only(text))).toBe(expected));
});

describe('any line at all', () => {
  const decimal = fc.constantFrom<DecimalMark>('point', 'comma');
  const meterLike = fc
    .array(
      fc.constantFrom(
        ...'0123456789.,;:=+-eEVAWmkMΩ°CFacdOLo ~\t'.split(''),
        'AC',
        'OL',
        '9.9E37',
        'NaN',
        'E+',
        'mV',
        '--',
      ),
      { maxLength: 24 },
    )
    .map((parts) => parts.join(''));

  it('gives finite numbers, bounds and columns inside the line, and never throws', () => {
    fc.assert(
      fc.property(fc.oneof(fc.string({ unit: 'binary', maxLength: 256 }), meterLike), decimal, (text, mark) => {
        for (const { value, column } of readLine(text, mark)) {
          expect(column).toBeLessThanOrEqual(text.length);
          if (value.kind === 'unreadable') expect(value.at).toBeLessThanOrEqual(text.length);
          if (value.kind === 'number') {
            expect(Number.isFinite(value.value) && Math.abs(value.value) < 1e25).toBe(true);
            expect(Number.isFinite(value.resolution) && value.resolution > 0).toBe(true);
          }
        }
      }),
      { numRuns: 20_000, seed: 17 },
    );
  });

  it('reads every written number back as it was meant', () => {
    const digits = fc.tuple(fc.boolean(), fc.nat(99_999), fc.nat(5));
    const units = fc.constantFrom<readonly [string, string, number]>(
      ['V', 'V', 0],
      [' mV', 'V', -3],
      [' kΩ', 'Ω', 3],
      [' uA', 'A', -6],
      ['Hz', 'Hz', 0],
      [' °C', '°C', 0],
    );
    fc.assert(
      fc.property(digits, units, decimal, ([negative, whole, places], [written, unit, power], mark) => {
        const text = `${negative ? '-' : ''}${(whole / 10 ** places).toFixed(places)}`;
        const value = only(`${mark === 'comma' ? text.replace('.', ',') : text}${written}`, mark);
        expect(value).toMatchObject({ kind: 'number', value: Number(`${text}e${power}`) + 0, unit });
        expect(value.kind === 'number' && value.resolution).toBe(Number(`1e${power - places}`));
      }),
      { numRuns: 2000, seed: 19 },
    );
  });
});
