import { describe, expect, it } from 'vitest';
import { readDescription } from '../../../src-shared/meter/description.ts';
import { lineReader } from '../../../src-shared/meter/line-reader.ts';
import { valuesOf } from '../../../src-shared/meter/channel-reading.ts';
import type { DecimalMark } from '../../../src-shared/meter/decimal-mark.ts';
import { patternProblem } from '../../../src-shared/meter/pattern-line.ts';
import { serialMeter } from './describe.ts';

const read = (pattern: string, text: string, decimal: DecimalMark = 'point') =>
  lineReader({ grammar: 'pattern', encoding: 'ascii', decimal, pattern })(text);
const sole = (pattern: string, text: string, decimal: DecimalMark = 'point') => read(pattern, text, decimal)[0]?.value;

describe('a line read by the person’s own pattern', () => {
  it('takes value, unit and coupling from where the pattern finds them', () => {
    const apart = '^(?<coupling>AC|DC);(?<prefix>[munk]?)(?<unit>[A-Z]+);(?<value>[-+]?[\\d.]+)$';
    expect(sole(apart, 'AC;mV;118.60')).toEqual({
      kind: 'number',
      value: 0.1186,
      unit: 'V',
      coupling: 'ac',
      resolution: 0.00001,
      text: 'AC;mV;118.60',
    });
    expect(sole('(?<value>\\S+)', 'OL')).toMatchObject({ kind: 'overload' });
    expect(sole('#(?<value>[\\d,]+)', '#0,9874', 'comma')).toMatchObject({ value: 0.9874 });
  });

  it('knows an overload by the meter’s own sign for it', () => {
    const pattern = '^(?:(?<overload>-?\\*+)|(?<value>[-+\\d.]+))(?<unit>[VA])';
    expect(sole(pattern, '12.5V')).toMatchObject({ kind: 'number', value: 12.5, unit: 'V' });
    expect(sole(pattern, '****V')).toEqual({ kind: 'overload', sign: 1, unit: 'V', text: '****V' });
    expect(sole(pattern, '-***A')).toMatchObject({ kind: 'overload', sign: -1, unit: 'A' });
  });

  it('gives several values, by number or by label', () => {
    const pattern = '(?<label1>U)=(?<value1>[\\d.]+)(?<unit1>V) (?<value2>[\\d.]+)(?<unit2>A)';
    expect(read(pattern, 'U=230.4V 0.712A')).toMatchObject([
      { label: 'U', column: 2, value: { value: 230.4, unit: 'V' } },
      { label: '2', column: 9, value: { value: 0.712, unit: 'A' } },
    ]);
    const values = [
      { name: 'volts', from: { by: 'label', label: 'U' }, unit: 'V', coupling: 'ac' },
      { name: 'amps', from: { by: 'label', label: '2' }, unit: 'A', coupling: 'ac' },
    ] as const;
    const meter = serialMeter({ values: [...values] });
    const line = 'U=230.4V 0.712A';
    expect(valuesOf(line, read(pattern, line), meter)).toMatchObject([
      { name: 'volts', value: { value: 230.4, coupling: 'ac' } },
      { name: 'amps', value: { value: 0.712, coupling: 'ac' } },
    ]);
  });

  it('refuses what does not fit, what is ambiguous, and a number cut at its decimal mark', () => {
    expect(sole('^V(?<value>\\d+)$', 'A12')).toEqual({ kind: 'unreadable', why: 'no-match', at: 0, text: 'A12' });
    expect(sole('(?<value>.*)', '1,234')).toMatchObject({ kind: 'unreadable' });
    expect(sole('(?<value>\\d+)(?<unit>MV)', '12MV')).toMatchObject({ why: 'ambiguous-prefix' });
    expect(sole('(?<value>\\d+)', '118.6')).toMatchObject({ why: 'cut-number' });
    expect(sole('118.(?<value>\\d+)', '118.6')).toMatchObject({ why: 'cut-number' });
    expect(sole('(?<value>[\\d.]+)', 'U 118.6.')).toMatchObject({ why: 'bad-number' });
    expect(sole('(?<value>[A-Z]+)', 'ABC')).toMatchObject({ why: 'no-number', at: 0 });
  });

  it('reads bare numbers in the power of ten that is described', () => {
    const line = '118.6 MV';
    const fields = read('(?<value>[\\d.]+) MV', line);
    const bareUnit = { unit: 'V', coupling: 'ac', powerOfTen: -3 } as const;
    expect(valuesOf(line, fields, serialMeter({ bareUnit }))[0]?.value).toMatchObject({
      value: 0.1186,
      unit: 'V',
      resolution: 0.0001,
    });
  });
});

describe('a pattern in a description', () => {
  const messageFor = (pattern: string) => {
    const described = readDescription(
      serialMeter({ format: { grammar: 'pattern', encoding: 'ascii', decimal: 'point', pattern } }),
    );
    return described.ok ? null : described.refusals;
  };

  it('is accepted when it has a value', () => expect(messageFor('(?<value>[\\d.]+) *(?<unit>V|A)')).toBeNull());

  it.each([
    ['[\\d.]+', 'Pattern: The pattern needs a group named value: (?<value>...).'],
    [
      '(?<volts>[\\d.]+)',
      'Pattern: Group names are value, unit, prefix, coupling, overload and label, with a number behind for several values.',
    ],
    [
      '(?<value>\\d+)(?!V)',
      'Pattern: Looking ahead or behind is not supported. Describe the whole line from left to right. It is at character 14.',
    ],
    ['(?<value>(?:a{99}){99})', 'Pattern: The pattern is too long.'],
  ])('%s is refused with what would be accepted', (pattern, message) => {
    expect(messageFor(pattern)).toEqual([{ path: 'format.pattern', message }]);
    expect(patternProblem(pattern)).toBe(message);
  });
});
