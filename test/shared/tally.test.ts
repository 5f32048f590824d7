import fc from 'fast-check';
import { expect, test } from 'vitest';
import { milestonesOf, nextMilestone, placeOf } from '../../src-shared/tally/progress.ts';
import { cutter } from './report/plan-fixture.ts';

test('a turn is told by its layer, the full one before the next one', () => {
  expect(placeOf(cutter, 0)).toEqual({ layer: 1, layers: 2, inLayer: 0, ofLayer: 17 });
  expect(placeOf(cutter, 17)).toEqual({ layer: 1, layers: 2, inLayer: 17, ofLayer: 17 });
  expect(placeOf(cutter, 18)).toEqual({ layer: 2, layers: 2, inLayer: 1, ofLayer: 8 });
  expect(placeOf(cutter, 25)).toEqual({ layer: 2, layers: 2, inLayer: 8, ofLayer: 8 });
  expect(placeOf(cutter, 27)).toEqual({ layer: 2, layers: 2, inLayer: 10, ofLayer: 8 });
});

test('taps, ends of layers and the end come in the order of their turns', () => {
  expect(milestonesOf(cutter)).toEqual([
    { kind: 'tap', at: 13, label: '12 V' },
    { kind: 'layer', at: 17, next: 2 },
    { kind: 'end', at: 25 },
  ]);
  expect(nextMilestone(cutter, 12)).toEqual({ kind: 'tap', at: 13, label: '12 V' });
  expect(nextMilestone(cutter, 13)).toEqual({ kind: 'layer', at: 17, next: 2 });
  expect(nextMilestone(cutter, 25)).toBeNull();
});

test('for any layers every turn lies in one of them, and no milestone is passed over', () => {
  fc.assert(
    fc.property(fc.array(fc.integer({ min: 1, max: 40 }), { minLength: 1, maxLength: 8 }), (counts) => {
      const layers = counts.map((turns, index) => ({ turns, fromMm: index, depthMm: 1 }));
      const turns = counts.reduce((sum, each) => sum + each, 0);
      const output = { turns, layers, taps: [] };
      for (let turn = 1; turn <= turns; turn += 1) {
        const { layer, inLayer, ofLayer } = placeOf(output, turn);
        const before = counts.slice(0, layer - 1).reduce((sum, each) => sum + each, 0);
        expect(before + inLayer).toBe(turn);
        expect(ofLayer).toBe(counts[layer - 1]);
        expect(inLayer).toBeLessThanOrEqual(ofLayer);
      }
      let at = 0;
      const met = milestonesOf(output).map(() => (at = nextMilestone(output, at)?.at ?? NaN));
      expect(met).toEqual(milestonesOf(output).map((mile) => mile.at));
    }),
    { numRuns: 100, seed: 20_310_314 },
  );
});
