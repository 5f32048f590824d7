import { expect, it } from 'vitest';
import { coverageOver } from '../calculation/coverage.ts';
import { currentOnPractice, finalHeatOnPractice, turnsOnPractice } from './random-bench.ts';

// Frozen samples: test/soak/practice-benches.ts draws many more. Bounds are 94 to 98 % and what so few benches may be off by.
it.each([
  { name: 'turns by a test coil', bench: turnsOnPractice, count: 200, seed: 20261101 },
  { name: 'current after added turns', bench: currentOnPractice, count: 25, seed: 20261102 },
  { name: 'final temperature of a heat run', bench: finalHeatOnPractice, count: 120, seed: 20261103 },
])('what is found on random practice benches holds the hidden truth: $name', ({ bench, count, seed }) => {
  const { share } = coverageOver(seed, count, bench);
  expect(share).toBeGreaterThanOrEqual(0.94 - 2 * Math.sqrt((0.95 * 0.05) / count));
});
