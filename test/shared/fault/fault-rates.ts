import type { CauseCode } from '../../../src-shared/fault/fault-reading.ts';
import { practiceFaults, type PracticeFault } from '../../../src-shared/practice/fault.ts';
import { seededGenerator } from '../../../src-shared/quantity/generator.ts';
import { randomScene } from './random-scene.ts';
import { namedIn, readingsAt } from './take-readings.ts';

/** What the fault reader calls each fault of the practice bench. */
const nameOf: Readonly<Record<PracticeFault, CauseCode | null>> = {
  none: null,
  'shorted-turn': 'shorted-turn',
  'opposed-turns': 'opposed-turns',
  'opposed-strands': 'opposed-strands',
  'half-turn': 'half-turn',
  'miscounted-coil': 'miscounted-coil',
  'swapped-lead': 'swapped-lead',
  'joint-gap': 'joint-gap',
  'shunts-in': 'shunts',
  'other-metal': 'other-metal',
  'hot-joint': 'lug',
  'feed-joint': 'feed-joint',
  'earth-open': 'bad-earth',
  'damp-insulation': 'leak',
  'soft-supply': 'soft-supply',
  'drifting-meter': 'drifting-meter',
};

/** How the fault reader did on some benches with one fault. */
export interface FaultRate {
  readonly fault: PracticeFault;
  readonly benches: number;
  /** The fault is among what was named; with none, nothing was named. */
  readonly right: number;
  /** Most causes that were named for one bench, and how many on the whole. */
  readonly mostNamed: number;
  readonly named: number;
  /** What was named on benches where it went wrong. */
  readonly wrong: readonly string[];
}

/** Lays one fault on each of some random benches and counts what the readings name. */
export function rateOf(fault: PracticeFault, benches: number, seed: number): FaultRate {
  const generator = seededGenerator(seed + practiceFaults.indexOf(fault));
  const wanted = nameOf[fault];
  const all = Array.from({ length: benches }, () => namedIn(readingsAt(randomScene(generator, fault), generator)));
  const isRight = (named: readonly CauseCode[]) => (wanted === null ? named.length === 0 : named.includes(wanted));
  return {
    fault,
    benches,
    right: all.filter(isRight).length,
    mostNamed: Math.max(...all.map(({ length }) => length)),
    named: all.reduce((sum, { length }) => sum + length, 0),
    wrong: all.filter((named) => !isRight(named)).map((named) => named.join('+') || 'nothing'),
  };
}
