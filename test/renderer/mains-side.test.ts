import { describe, expect, test } from 'vitest';
import { dutyOf, loadedWindings, surgeAndFuse } from '../../src-renderer/page/plan/mains-side.ts';
import { basisOf } from '../../src-renderer/page/plan/plan-record.ts';
import type { PlannedAll } from '../../src-renderer/page/plan/planned.ts';
import type { WindingFields } from '../../src-shared/record/build.ts';
import { dimmerCore, primary } from './shelf-fixture.ts';

const row = { revisionId: 1, replaces: null, reason: null, wallMs: 0 };
const core = { ...row, coreId: 1, fields: dimmerCore };
const basis = (fields: WindingFields) =>
  basisOf(
    core,
    {
      ...{ buildId: 1, coreId: 1, number: 1, wallMs: 0, hasRuns: false },
      fields: { title: 'as found', joint: 'as-welded', shunts: 'none' },
      windings: [{ ...row, windingId: 1, fields }],
    },
    [],
  );
/** Outputs of which only the amps that they draw through the primary, and their density, are looked at. */
const planned = (...outputs: readonly { readonly amps: number; readonly density: number }[]): PlannedAll =>
  ({
    added: null,
    leftMm: 0,
    outputs: outputs.map(({ amps, density }) => ({
      kind: 'done',
      results: { primaryAmps: { value: amps } },
      choice: { currentDensity: { value: density } },
    })),
  }) as unknown as PlannedAll;

const rise = { rise: 100, minutes: 60, limitRise: 60 };

describe('how long a load may stay on', () => {
  test('goes by the winding that warms the fastest: each output, the primary, what is added to it', () => {
    // 0.8 mm bare: 0.5027 mm².
    const all = loadedWindings(
      basis(primary),
      { added: 20, addedWire: 0.4 },
      planned({ amps: 1, density: 2 }, { amps: 0.5, density: 3 }),
    );
    expect(all.map(({ density }) => Number(density.toFixed(2)))).toEqual([2, 3, 2.98, 11.94]);
    const seconds = (windings: typeof all) => {
      const answer = dutyOf(rise, null, windings);
      return answer?.ok === true ? answer.results.adiabaticSeconds?.value : undefined;
    };
    // 60 K over ρ J² / c: copper at 11.94 A/mm² warms by 0.712 K/s (IEC 60949, adiabatic form).
    expect(seconds(all)).toBeCloseTo(84.2, 0);
    // Aluminium warms faster than copper at the same density: 0.01163 against 0.005 of J².
    expect(
      seconds([
        { density: 3, metal: 'copper' },
        { density: 2.5, metal: 'aluminium' },
      ]),
    ).toBeCloseTo(60 / (0.011631 * 2.5 ** 2), 0);
  });

  test('counts a primary of unknown metal as the one that warms the faster', () => {
    const windings = loadedWindings(basis({ ...primary, metal: 'not-known' }), {}, planned({ amps: 1, density: 1 }));
    expect(windings.at(-1)?.metal).toBe('aluminium');
  });

  test('is told for on and off again and again where the need says so', () => {
    const windings = [{ density: 1, metal: 'copper' }] as const;
    const often = dutyOf({ ...rise, onMinutes: 5, offMinutes: 10 }, null, windings);
    // One body: 100 (1 − a) / (1 − a b) with a = e^(−5/60), b = e^(−10/60).
    const [a, b] = [Math.exp(-5 / 60), Math.exp(-10 / 60)];
    expect(often?.ok === true && often.results.peakRiseRepeating?.value).toBeCloseTo((100 * (1 - a)) / (1 - a * b), 6);
    const once = dutyOf(rise, null, windings);
    expect(once?.ok === true && once.results.peakRiseRepeating).toBeNull();
  });
});

test('the surge counts the resistance of the turns that are added, as the sheet to build by does', () => {
  const surge = (added: number) => {
    const answer = surgeAndFuse(basis(primary), { primaryVolts: 230, added }, 1, 'metric');
    return answer?.ok === true ? answer.results.inrushBound.value : NaN;
  };
  // √2 × 230 V over 3.31 Ω, and over 3.31 Ω × 411.6 / 371.6.
  expect(surge(0)).toBeCloseTo(98.27, 1);
  expect(surge(40)).toBeCloseTo((98.27 * 371.6) / 411.6, 1);
});
