import { errorOfFivePercent, falseChanges } from '../shared/calculation/compare/identical-builds.ts';
import type { Soak } from './soak.ts';

/** How often identical builds are called changed: one time in twenty, within four standard deviations of the count. */
export const falseChangesSoak: Soak = {
  name: 'false-changes',
  run: ({ seed, isShort }) => {
    const pairs = isShort ? 1000 : 10_000;
    const found = [...falseChanges(seed, pairs)];
    const allowed = errorOfFivePercent(pairs, 4);
    const words = found.map(([quantity, share]) => `${quantity} ${(100 * share).toFixed(2)} %`).join(', ');
    return found.every(([, share]) => Math.abs(share - 0.05) <= allowed)
      ? Promise.resolve(`${pairs} pairs of identical builds, called changed: ${words}`)
      : Promise.reject(
          new Error(`Not one in twenty of ${pairs} pairs of identical builds was called changed: ${words}`),
        );
  },
};
