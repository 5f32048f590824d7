import type { Propagated } from '../../quantity/combine.ts';
import { propagate } from '../../quantity/propagate.ts';
import { physical, worked, type PhysicalResult } from '../answer.ts';
import { defineCalculation } from '../calculation.ts';
import { benchOf, sharedVolts, type Bench, type BenchValues } from './bench.ts';
import { cautionsOnCircumstances, cautionsOnDisagreement, cautionsOnSuggestion } from './cautions.ts';
import { dropAllowance, impossibleLoss } from './drop.ts';
import { testCoilInput, type TestCoilInput } from './input.ts';
import { agree, candidates, judge, theOne, type Candidate } from './miscount.ts';
import { meanTurns, pairUp, weigh, type Observation } from './observation.ts';
import { fitOffset, offsetCautions, type OffsetFit } from './offset.ts';
import { withScatter } from './scatter.ts';
import { suggestCoilTurns, type NoSuggestion } from './suggestion.ts';
import { working } from './working.ts';

/** What a test coil tells about the untouched primary. */
export interface TestCoilResults {
  readonly primaryTurns: PhysicalResult;
  readonly voltsPerTurn: PhysicalResult;
  /** Only when the 95 % interval, the drop's allowance included, holds exactly one whole number. */
  readonly nearestWholeTurns?: number;
  /** Largest distance of one observation from the mean, in its own standard uncertainty; null with nothing to judge by. */
  readonly worstResidual: number | null;
  /** Index of the reading whose coil turns were likely counted wrong; null when none, or nobody can say which. */
  readonly miscountSuspected: number | null;
  /** Coils that would explain a disagreement, with the turns they would have to have. */
  readonly miscountCandidates: readonly Candidate[];
  readonly suggestedCoilTurns: number | null;
  readonly suggestionReason: NoSuggestion | null;
  /** The count may be too high by up to so many turns beyond its u; 0 when corrected, null when nobody can tell. */
  readonly dropAllowance: PhysicalResult | null;
  /** What correcting for the primary's drop changed; only where it was corrected. */
  readonly dropCorrection?: PhysicalResult;
  /** A line through at least three different coils that need not pass through zero. */
  readonly offsetFit?: OffsetFit;
}

const mean = (numbers: readonly number[]) => numbers.reduce((sum, each) => sum + each, 0) / numbers.length;

function run(input: TestCoilInput) {
  const impossible = impossibleLoss(input);
  if (impossible !== null) return impossible;
  const bench = benchOf(input);
  const observations = weigh(bench, pairUp(input.readings));
  const isConsistent = agree(observations);
  const found = isConsistent ? [] : candidates(observations);
  const suspected = observations.length > 2 ? theOne(found) : null;

  const widened = (formula: (values: BenchValues) => number) =>
    withScatter(propagate(bench, formula), bench, observations, isConsistent);
  const turns = widened((values) => meanTurns(values, observations));
  const voltsPerTurn = widened(
    (values) => mean(values.readings.map((each) => sharedVolts(values, each))) / meanTurns(values, observations),
  );
  const drop = dropAllowance(input, bench, turns.value);
  const suggestion = suggestCoilTurns(bench, withMostTurns(observations), turns.value);
  const offsetFit = fitOffset(bench, observations);
  const primaryTurns = physical('turns', turns);
  const whole = isConsistent ? onlyWholeNumber(primaryTurns, drop.allowance?.value ?? 0, input) : null;

  const results: TestCoilResults = {
    primaryTurns,
    voltsPerTurn: physical('V/turn', voltsPerTurn),
    ...(whole === null ? {} : { nearestWholeTurns: whole }),
    worstResidual: worstResidual(observations),
    miscountSuspected: suspected?.readings[0] ?? null,
    miscountCandidates: found,
    suggestedCoilTurns: suggestion.coilTurns,
    suggestionReason: suggestion.reason,
    dropAllowance: drop.allowance,
    ...(bench.drop === null ? {} : { dropCorrection: physical('turns', dropCorrection(bench, observations)) }),
    ...(offsetFit === null ? {} : { offsetFit }),
  };
  return worked(results, working(bench, observations, voltsPerTurn.value), [
    ...cautionsOnDisagreement(observations, isConsistent, found, suspected),
    ...cautionsOnCircumstances(input, observations),
    ...drop.cautions,
    ...offsetCautions(offsetFit),
    ...cautionsOnSuggestion(suggestion),
  ]);
}

/** The observation with the most coil turns: where a better coil would start from. */
const withMostTurns = (observations: readonly Observation[]): Observation =>
  observations.reduce((most, each) => (each.coilTurns > most.coilTurns ? each : most));

/** The one whole number that the interval leaves; none where the coil's place makes it unfit for a final count. */
function onlyWholeNumber(turns: PhysicalResult, allowance: number, { readings }: TestCoilInput): number | null {
  if (turns.interval95 === null || readings.some(({ position }) => position !== 'primary-side')) return null;
  const [low, high] = turns.interval95;
  // A whole number at the very edge must not be lost to rounding.
  const edge = 1e-9 * high;
  const [first, last] = [Math.ceil(low - allowance - edge), Math.floor(high + edge)];
  return first === last && first >= 1 ? first : null;
}

function worstResidual(observations: readonly Observation[]): number | null {
  if (observations.length < 2) return null;
  const all = observations.map((each) => judge(each, observations, observations.length).inU);
  const known = all.filter((each) => each !== null);
  return known.length < all.length ? null : Math.max(...known);
}

/** Turns with the primary's drop taken into account less turns without. */
const dropCorrection = (bench: Bench, observations: readonly Observation[]): Propagated =>
  propagate(bench, (values) => {
    const withDrop = meanTurns(values, observations);
    return withDrop - meanTurns({ ...values, drop: null }, observations);
  });

export const testCoil = defineCalculation({
  name: 'test-coil',
  title: 'Primary turns from a test coil',
  version: 1,
  sources: [
    'Induced volts are in proportion to turns (Faraday); any machines text',
    'Uncertainty: JCGM 100:2008 (GUM), 5.1.2, 5.2.2, G.4; coverage with one dominating flat part: EA-4/02 M:2013, S9',
    'Meter kinds, outer limb and shunts: common practice, no source',
  ],
  input: testCoilInput,
  example: {
    readings: [
      {
        coilTurns: 10,
        coilVolts: { value: 0.4172, u: 0.0009, shape: 'rectangular', shared: { id: 'meter A, 20 V', u: 0.0019 } },
        primaryVolts: { value: 4.883, u: 0.0032, shape: 'rectangular', shared: { id: 'meter A, 20 V', u: 0.0226 } },
      },
      {
        coilTurns: 60,
        coilVolts: { value: 2.5031, u: 0.0029, shape: 'rectangular', shared: { id: 'meter A, 20 V', u: 0.0116 } },
        primaryVolts: { value: 4.884, u: 0.0032, shape: 'rectangular', shared: { id: 'meter A, 20 V', u: 0.0226 } },
      },
    ],
    hertz: 50,
  },
  run,
});
