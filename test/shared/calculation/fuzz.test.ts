import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { calculate } from '../../../src-shared/calculation/calculate.ts';
import { jsonSchemaOf } from '../../../src-shared/calculation/json-schema.ts';
import { calculationNames, calculations } from '../../../src-shared/calculation/table.ts';
import { processorMs } from '../../processor-time.ts';
import { leavesOf, notFinite, placesOf, withKey, withValue, type Json, type Path } from './leaves.ts';

/** What can come out of a file instead of the value that should be there. */
const strange: readonly Json[] = [
  null,
  true,
  false,
  '',
  'text',
  '12',
  [],
  {},
  [1],
  { value: 1 },
  { value: 1, u: 1, extra: 1 },
  { value: 'x', u: 0 },
  0,
  -0,
  1,
  -1,
  1.5,
  1e-308,
  5e-324,
  1e300,
  -1e300,
  1e308,
  NaN,
  Infinity,
  -Infinity,
  { value: 1e300, u: 1e300 },
  { value: 1, u: 1e300 },
  { value: 1, u: null },
  { value: 1, u: 0.5, dof: 0.01 },
  { value: 1, u: 0, shared: { id: 'x', u: 1e308 } },
  '__proto__',
  'constructor',
];

/** How long one answer may take: far above what any takes, far below a hang. */
const slowMs = 5000;

function ask(name: string, input: Json) {
  const started = processorMs();
  const answer = calculate(name, input);
  const tookMs = processorMs() - started;
  expect(tookMs, `${name} took ${tookMs} ms on ${JSON.stringify(input)}`).toBeLessThan(slowMs);
  return answer;
}

/** Either a refusal that says where, or numbers that are all finite. */
function check(name: string, input: Json, isRoot = false) {
  const answer = ask(name, input);
  const shown = JSON.stringify(input);
  if (answer.ok) {
    expect(notFinite(answer), `${name} ${shown}`).toEqual([]);
    expect(answer.working.length, `${name} shows its working`).toBeGreaterThan(0);
  } else {
    expect(answer.error.message, `${name} ${shown}`).not.toMatch(/undefined|NaN|\[object/);
    if (!isRoot) expect(answer.error.path, `${name} ${shown}: ${answer.error.message}`).not.toBe('');
  }
  return answer;
}

const isRightKind = (was: Json, now: Json) => typeof was === typeof now || (was === null && now === null);
/** Places that take null, or a number as well as a group: the parts of a measured input, and the input itself. */
const mayBeNull = (path: Path) => ['u', 'dof'].includes(String(path.at(-1)));

describe.each(calculationNames)('%s, with one thing wrong', (name) => {
  const example = structuredClone(Object.entries(calculations).find(([each]) => each === name)?.[1].example) as Json;
  const leaves = leavesOf(example);

  it('answers its own example, with every number finite', () => {
    const answer = check(name, example);
    expect(answer.ok, JSON.stringify(answer)).toBe(true);
    expect(JSON.parse(JSON.stringify(answer))).toEqual(answer);
  });

  it('refuses with a path or answers in finite numbers, whatever stands in one leaf', () => {
    for (const { path, value: was } of leaves) {
      for (const value of strange) {
        const answer = check(name, withValue(example, path, value));
        const isGroup = typeof value === 'object' && value !== null;
        if (!isRightKind(was, value) && !isGroup && !(value === null && mayBeNull(path))) {
          expect(answer.ok, `${name} took ${String(value)} at ${path.join('.')}`).toBe(false);
        }
      }
    }
  });

  it('refuses a misspelt key by name, with the nearest known one', () => {
    for (const path of placesOf(example)) {
      const key = path.at(-1);
      if (typeof key !== 'string') continue;
      const answer = check(
        name,
        withKey(example, path, (each) => `${each}x`),
      );
      expect(answer, path.join('.')).toMatchObject({ ok: false, error: { code: 'unknown-key' } });
      if (!answer.ok) {
        expect(answer.error.path).toBe([...path.slice(0, -1), `${key}x`].join('.'));
        expect(answer.error.message).toContain(`"${key}x"`);
      }
    }
  });

  it('does without a key only where the schema says that it may', () => {
    for (const path of placesOf(example))
      check(
        name,
        withKey(example, path, () => null),
      );
  });

  it('survives anything at all in one place', () => {
    fc.assert(
      fc.property(fc.constantFrom(...placesOf(example)), fc.jsonValue(), (path, value) => {
        check(name, withValue(example, path, value));
      }),
      { seed: 20260117, numRuns: 150 },
    );
  });

  it('survives any number in any leaf', () => {
    const numbers = leaves.filter(({ value }) => typeof value === 'number').map(({ path }) => path);
    if (numbers.length === 0) return;
    fc.assert(
      fc.property(fc.constantFrom(...numbers), fc.double(), (path, value) => {
        check(name, withValue(example, path, value));
      }),
      { seed: 20260118, numRuns: 150 },
    );
  });

  it('refuses what is no group at all', () => {
    for (const input of [undefined, null, 5, 'text', [], true]) {
      expect(check(name, input, true).ok, JSON.stringify(input)).toBe(false);
    }
  });

  it('describes an input that its example fits', () => {
    const { title, inputShape } = calculations[name as keyof typeof calculations];
    const schema = jsonSchemaOf(title, inputShape);
    expect(schema).toMatchObject({ type: 'object', additionalProperties: false });
    const known = Object.keys((schema as { properties: object }).properties);
    expect(known).toEqual(expect.arrayContaining(Object.keys(example ?? {})));
  });
});
