import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compile } from '../../../src-shared/meter/pattern-program.ts';
import { match } from '../../../src-shared/meter/pattern-match.ts';
import { parsePattern, patternRefusals } from '../../../src-shared/meter/pattern-syntax.ts';
import { processorMs } from '../../processor-time.ts';

const refusalOf = (pattern: string): string => {
  const parsed = parsePattern(pattern);
  return parsed.ok ? 'ok' : `${parsed.why}@${parsed.at}`;
};

function groups(pattern: string, text: string): Record<string, string> | undefined {
  const parsed = parsePattern(pattern);
  if (!parsed.ok) throw new Error(parsed.why);
  const program = compile(parsed.node, parsed.names);
  if (program === undefined) throw new Error('too many steps');
  const found = match(program, text);
  return found && Object.fromEntries([...found].map(([name, group]) => [name, group.text]));
}

/** What the engine of the language says; groups that took no part are left out. */
function oracle(pattern: string, text: string): Record<string, string> | undefined {
  const found = new RegExp(pattern).exec(text);
  if (found === null) return undefined;
  return Object.fromEntries(Object.entries(found.groups ?? {}).filter(([, group]) => group !== undefined));
}

describe('a pattern', () => {
  it.each([
    ['(?<a>[+-]?\\d+\\.\\d+)\\s*(?<b>[a-zA-Z]+)', 'U = -12.50 mV ok', { a: '-12.50', b: 'mV' }],
    ['^(?<a>\\w+),(?<b>[^,]*),(?<c>.*)$', 'one,,three,four', { a: 'one', b: '', c: 'three,four' }],
    ['(?<a>a|ab)(?<b>c|bcd)(?<c>d*)', 'abcd', { a: 'a', b: 'bcd', c: '' }],
    ['(?<a>a+?)(?<b>a*)', 'aaa', { a: 'a', b: 'aa' }],
    ['(?<a>\\d{2,3})(?<b>\\d*)', '12345', { a: '123', b: '45' }],
    ['(?:x|(?<a>y))z', 'xz', {}],
    ['[\\d.E+-]+', 'none', undefined],
  ])('%s on %s', (pattern, text, expected) => {
    expect(groups(pattern, text)).toEqual(expected);
  });

  it.each([
    ['(', 'unfinished@1'],
    ['a)', 'stray-bracket@1'],
    ['*a', 'nothing-to-repeat@0'],
    ['a**', 'nothing-to-repeat@2'],
    ['^*', 'nothing-to-repeat@0'],
    ['(a*)*', 'repeat-of-nothing@0'],
    ['(?:a?|b)+', 'repeat-of-nothing@0'],
    ['a{3,2}', 'too-many-repeats@1'],
    ['a{1000}', 'too-many-repeats@1'],
    ['a{x}', 'too-many-repeats@1'],
    ['(?=a)', 'look-around@0'],
    ['(?<!a)b', 'look-around@0'],
    ['(a)\\1', 'back-reference@4'],
    ['\\k<a>', 'back-reference@1'],
    ['\\b', 'unknown-escape@1'],
    ['(?i)a', 'bad-group@0'],
    ['(?<1a>b)', 'bad-group@0'],
    ['(?<a>b)(?<a>c)', 'same-name@7'],
    ['[]', 'bad-class@0'],
    ['[z-a]', 'bad-class@0'],
    ['[\\d-z]', 'bad-class@0'],
    ['[a', 'unfinished@2'],
    ['a\\', 'unfinished@2'],
    ['x'.repeat(301), 'too-long@300'],
  ])('%s is refused: %s', (pattern, expected) => expect(refusalOf(pattern)).toBe(expected));

  it('has a sentence for every refusal', () => {
    for (const sentence of Object.values(patternRefusals)) expect(sentence).toMatch(/^[A-Z].*[.)]\.?$/);
  });

  it('finds what the language’s own engine finds, for any pattern and any line', () => {
    const atom = fc.constantFrom('a', 'b', '1', '.', '\\d', '[ab]', '[^a]', '\\.', '\\s', '[1-9a]', '\\W', '-');
    const { pattern } = fc.letrec<{ pattern: string; piece: string }>((tie) => ({
      pattern: fc.array(tie('piece'), { minLength: 1, maxLength: 4 }).map((parts) => parts.join('')),
      piece: fc.oneof(
        {
          weight: 4,
          arbitrary: fc
            .tuple(atom, fc.constantFrom('', '', '*', '+', '?', '*?', '+?', '{2}', '{1,3}', '{2,}?'))
            .map((parts) => parts.join('')),
        },
        { weight: 1, arbitrary: fc.tuple(tie('pattern'), tie('pattern')).map(([one, other]) => `(?:${one}|${other})`) },
        { weight: 1, arbitrary: tie('pattern').map((inner) => `(?<NAME>${inner})`) },
        {
          weight: 1,
          arbitrary: fc
            .tuple(tie('pattern'), fc.constantFrom('+', '*', '{1,2}'))
            .map(([inner, sign]) => `(?:${inner})${sign}`),
        },
        { weight: 1, arbitrary: fc.constantFrom('^', '$') },
      ),
    }));
    let compared = 0;
    fc.assert(
      fc.property(
        pattern,
        fc.string({ unit: fc.constantFrom('a', 'b', '1', '2', '.', ' ', '-'), maxLength: 14 }),
        (raw, text) => {
          let group = 0;
          const named = raw.replaceAll('NAME', () => `g${(group += 1)}`);
          const parsed = parsePattern(named);
          if (!parsed.ok || compile(parsed.node, parsed.names) === undefined) return;
          // A group inside a repeat is forgotten by the language at each round; ours keeps the last that matched.
          const isRepeatedGroup = /\(\?:[^]*\(\?<g/.test(named);
          compared += 1;
          const [ours, theirs] = [groups(named, text), oracle(named, text)];
          expect(ours === undefined).toBe(theirs === undefined);
          if (!isRepeatedGroup) expect(ours).toEqual(theirs);
        },
      ),
      { numRuns: 20_000, seed: 23 },
    );
    expect(compared).toBeGreaterThan(10_000);
  });

  it('takes no longer on patterns that hang a backtracking matcher', () => {
    const catastrophic = [
      '(?:a+)+$',
      '(?:a|a)+$',
      '(?:a|aa)+$',
      '(?:[a-z]+)+\\d',
      '(?:.+)+!',
      '(?:a+){10}b',
      'a+a+a+a+a+a+a+a+b',
      '(?:(?:a+)+)+!',
    ];
    const line = 'a'.repeat(256);
    for (const pattern of [...catastrophic, '(?<a>(?:a|[a-z]|\\w){1,60})!']) {
      const from = processorMs();
      groups(pattern, `${line}?`);
      expect(processorMs() - from).toBeLessThan(250);
    }
    // The language's own engine needs twice as long for each further letter; at 256 it would not end.
    const backtracking = (letters: number) => {
      const from = processorMs();
      /(?:a+)+$/.test(`${'a'.repeat(letters)}?`);
      return processorMs() - from;
    };
    expect(backtracking(24)).toBeGreaterThan(4 * backtracking(18));
  });

  it('is refused rather than compiled when its repeats multiply', () => {
    const parsed = parsePattern('(?:(?:(?:a{99}){99}){99}){99}');
    expect(parsed.ok && compile(parsed.node, parsed.names)).toBe(undefined);
  });
});
