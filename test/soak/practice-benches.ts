import { coverageOver } from '../shared/calculation/coverage.ts';
import { currentOnPractice, finalHeatOnPractice, turnsOnPractice } from '../shared/practice/random-bench.ts';
import type { Soak } from './soak.ts';

const benches = [
  { name: 'turns', bench: turnsOnPractice, atLeast: 0.94, atMost: 0.97 },
  { name: 'current after added turns', bench: currentOnPractice, atLeast: 0.94, atMost: 0.98 },
  { name: 'final temperature', bench: finalHeatOnPractice, atLeast: 0.94, atMost: 0.98 },
];

/** 1,000 random practice benches of each kind, or 60 when short: how often the interval holds the hidden truth. */
export const practiceBenches: Soak = {
  name: 'practice-benches',
  run: ({ seed, isShort }) => {
    const count = isShort ? 60 : 1000;
    // Three standard deviations of a share near 95 % over so many benches.
    const spread = 3 * Math.sqrt((0.95 * 0.05) / count);
    const found = benches.map(({ name, bench, atLeast, atMost }) => {
      const { share } = coverageOver(seed, count, bench);
      return { name, share, isOff: share < atLeast - spread || share > atMost + spread };
    });
    const words = found.map(({ name, share }) => `${name} ${(100 * share).toFixed(1)} %`).join(', ');
    return found.some(({ isOff }) => isOff)
      ? Promise.reject(new Error(`Over ${count} practice benches the interval held the hidden truth: ${words}`))
      : Promise.resolve(`${count} practice benches each; the interval held the hidden truth: ${words}`);
  },
};
