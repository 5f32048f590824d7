import { coverageOver, type Coverage } from '../shared/calculation/coverage.ts';
import { testCoilBench } from '../shared/calculation/test-coil-bench.ts';

/** One calculation's coverage with the bounds that it must keep. */
export interface CoverageSoak extends Coverage {
  readonly name: string;
  readonly atLeast: number;
  readonly atMost: number;
  readonly isKept: boolean;
}

const benches = [{ name: 'test-coil', bench: testCoilBench, atLeast: 0.94, atMost: 0.97 }];

/** How often the 95 % interval of each calculation holds the truth, over so many benches from one seed. */
export function coverageSoak(seed: number, count: number): readonly CoverageSoak[] {
  return benches.map(({ name, bench, atLeast, atMost }) => {
    const coverage = coverageOver(seed, count, bench);
    return { name, atLeast, atMost, ...coverage, isKept: coverage.share >= atLeast && coverage.share <= atMost };
  });
}
