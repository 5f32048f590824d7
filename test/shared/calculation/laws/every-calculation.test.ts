import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { PhysicalResult } from '../../../../src-shared/calculation/answer.ts';
import type { Calculation } from '../../../../src-shared/calculation/calculation.ts';
import { comparable } from '../../../../src-shared/calculation/compare/comparable.ts';
import { calculations } from '../../../../src-shared/calculation/table.ts';
import { accept } from '../ask.ts';
import type { Json } from '../leaves.ts';

const table: Readonly<Record<string, Calculation<unknown>>> = calculations;
const options = { seed: 20260402, numRuns: 25 };

const isGroup = (thing: unknown): thing is Readonly<Record<string, unknown>> =>
  typeof thing === 'object' && thing !== null && !Array.isArray(thing);
const isMeasured = (thing: Readonly<Record<string, unknown>>) => 'value' in thing && 'u' in thing;

/** The tree with every group changed by `change`, from the inside out. */
function everyGroup(thing: unknown, change: (group: Readonly<Record<string, unknown>>) => unknown): unknown {
  if (Array.isArray(thing)) return thing.map((each) => everyGroup(each, change));
  if (!isGroup(thing)) return thing;
  return change(Object.fromEntries(Object.entries(thing).map(([key, part]) => [key, everyGroup(part, change)])));
}

/** Every physical result in an answer. */
function physicalIn(thing: unknown): readonly PhysicalResult[] {
  if (Array.isArray(thing)) return thing.flatMap(physicalIn);
  if (!isGroup(thing)) return [];
  const isOne = 'value' in thing && 'interval95' in thing;
  return isOne ? [thing as unknown as PhysicalResult] : Object.values(thing).flatMap(physicalIn);
}

/** The example with its measured values moved a little and its uncertainties made larger or smaller. */
const near = (example: unknown) =>
  fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: 8, maxLength: 8 }).map((moves) => {
    let next = 0;
    const move = () => moves[next++ % moves.length] ?? 0;
    return everyGroup(example, (group) =>
      isMeasured(group) && typeof group['value'] === 'number' && typeof group['u'] === 'number'
        ? { ...group, value: group['value'] + move() * group['u'], u: group['u'] * (1 + move() / 2) }
        : group,
    );
  });

describe.each(Object.entries(table))('%s', (_, { example, answer }) => {
  const holds = (law: (input: unknown) => void) => fc.assert(fc.property(near(example), law), options);
  const results = (input: unknown) => {
    const found = answer(input);
    return found.ok ? found.results : found.error;
  };

  it('answers the same to the same', () => {
    holds((input) => {
      expect(answer(structuredClone(input))).toEqual(answer(input));
    });
  });

  it('does not care in which order the keys of a group come', () => {
    holds((input) => {
      const backwards = everyGroup(input, (group) => Object.fromEntries(Object.entries(group).reverse()));
      expect(physicalIn(results(backwards)).map(({ value }) => value)).toEqual(
        physicalIn(results(input)).map(({ value }) => value),
      );
    });
  });

  it('takes a number and the same without doubt for one thing', () => {
    const exact = everyGroup(example, (group) =>
      isMeasured(group) ? { value: group['value'], u: 0, dof: null } : group,
    );
    const plain = everyGroup(example, (group) => (isMeasured(group) ? group['value'] : group));
    expect(results(exact)).toEqual(results(plain));
  });

  it('does not care what a shared part is called', () => {
    holds((input) => {
      const renamed = everyGroup(input, (group) =>
        'id' in group && 'u' in group ? { ...group, id: `another ${String(group['id'])}` } : group,
      );
      const bare = (found: Json) => JSON.parse(JSON.stringify(found).replaceAll('another ', '')) as unknown;
      expect(bare(results(renamed) as Json)).toEqual(results(input));
    });
  });

  it('has its value in its interval, and shares that add up to one', () => {
    holds((input) => {
      for (const { value, u, dof, interval95, budget } of physicalIn(results(input))) {
        if (dof !== null) expect(dof).toBeGreaterThanOrEqual(1 - 1e-9);
        if (u === null || interval95 === null) continue;
        expect(u).toBeGreaterThanOrEqual(0);
        expect(interval95[0]).toBeLessThanOrEqual(value);
        expect(interval95[1]).toBeGreaterThanOrEqual(value);
        if (budget === undefined) continue;
        expect(budget.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 9);
        expect(Math.hypot(...budget.map((each) => each.u)) / u).toBeCloseTo(1, 9);
      }
    });
  });

  it('has not changed against itself', () => {
    holds((input) => {
      const all = physicalIn(results(input)).map((result, index) => comparable(`result ${index}`, result));
      if (all.length === 0) return;
      const side = { results: all.slice(0, 200) };
      for (const { before, verdict, u } of accept('compare', { before: side, after: side }).results.quantities) {
        expect(before).not.toBeNull();
        expect(verdict).toBe(u === null ? 'not-comparable' : 'no-visible-change');
      }
    });
  });
});
