import type { Soak } from './soak.ts';
import { coverageOver, type Coverage } from '../shared/calculation/coverage.ts';
import { excitationBench } from '../shared/calculation/excitation-bench.ts';
import { heatRunBench, temperatureBench } from '../shared/calculation/heating-benches.ts';
import { testCoilBench } from '../shared/calculation/test-coil-bench.ts';

/** One calculation's coverage with the bounds that it must keep. */
interface CoverageSoak extends Coverage {
  readonly name: string;
  readonly atLeast: number;
  readonly atMost: number;
}

const benches = [
  { name: 'test-coil', bench: testCoilBench, atLeast: 0.94, atMost: 0.97 },
  { name: 'temperature-by-resistance', bench: temperatureBench, atLeast: 0.94, atMost: 0.97 },
  { name: 'heat-run', bench: heatRunBench, atLeast: 0.94, atMost: 0.98 },
  { name: 'excitation', bench: excitationBench, atLeast: 0.94, atMost: 0.98 },
];

/** How often the 95 % interval of each calculation holds the truth, over so many benches from one seed. */
function coverageSoak(seed: number, count: number): readonly CoverageSoak[] {
  return benches.map(({ name, bench, atLeast, atMost }) => {
    const coverage = coverageOver(seed, count, bench);
    return { name, atLeast, atMost, ...coverage };
  });
}

/** 10,000 benches of each calculation, or 500 when short; a short run is held to bounds wider by its own error. */
export const coverage: Soak = {
  name: 'coverage',
  run: ({ seed, isShort }) => {
    const count = isShort ? 500 : 10_000;
    // Three standard deviations of a share near 95 % over so many benches.
    const spread = isShort ? 3 * Math.sqrt((0.95 * 0.05) / count) : 0;
    const found = coverageSoak(seed, count);
    const off = found.find(({ share, atLeast, atMost }) => share < atLeast - spread || share > atMost + spread);
    const words = found.map(({ name, share }) => `${name} ${(100 * share).toFixed(1)} %`).join(', ');
    return off === undefined
      ? Promise.resolve(`${count} benches each; the 95 % interval held the truth: ${words}`)
      : Promise.reject(
          new Error(`${off.name} held the truth in ${(100 * off.share).toFixed(2)} % of ${count} benches`),
        );
  },
};
