import { expect, it } from 'vitest';
import { coverageOver } from './coverage.ts';
import { testCoilBench } from './test-coil-bench.ts';

it('holds the true turns in 94 to 97 % of test-coil benches', () => {
  const { share } = coverageOver(20260301, 2000, testCoilBench);
  expect(share).toBeGreaterThanOrEqual(0.94);
  expect(share).toBeLessThanOrEqual(0.97);
});
