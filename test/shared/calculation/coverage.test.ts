import { expect, it } from 'vitest';
import { coverageOver } from './coverage.ts';
import { excitationBench } from './excitation-bench.ts';
import { heatRunBench, temperatureBench } from './heating-benches.ts';
import { testCoilBench } from './test-coil-bench.ts';

// Frozen samples: test/soak/coverage.ts draws many more.
it.each([
  { name: 'test-coil', bench: testCoilBench, count: 2000, seed: 20260301, atMost: 0.97 },
  { name: 'temperature-by-resistance', bench: temperatureBench, count: 2000, seed: 20260503, atMost: 0.97 },
  { name: 'heat-run', bench: heatRunBench, count: 1000, seed: 20260504, atMost: 0.98 },
  { name: 'excitation', bench: excitationBench, count: 250, seed: 20260505, atMost: 0.98 },
])('holds the truth of $name in 94 % of benches at least, and not idly', ({ bench, count, seed, atMost }) => {
  const { share } = coverageOver(seed, count, bench);
  expect(share).toBeGreaterThanOrEqual(0.94);
  expect(share).toBeLessThanOrEqual(atMost);
});
