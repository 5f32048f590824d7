import type * as v from 'valibot';
import { formatNumber } from '../quantity/format.ts';
import { propagate } from '../quantity/propagate.ts';
import { caution, line, physical, worked, type Caution, type PhysicalResult } from './answer.ts';
import { defineCalculation } from './calculation.ts';
import { choice, group, measured, optional, plainNumber, text } from './field.ts';

const input = group({
  megohms: measured({ label: 'Reading after one minute', unit: 'MΩ', above: 0 }),
  testVolts: plainNumber({ label: 'Test voltage, d.c.', unit: 'V', above: 0, atMost: 10_000 }),
  minimumMegohms: plainNumber({ label: 'Figure to meet', unit: 'MΩ', above: 0 }),
  between: optional(text({ label: 'Between', help: 'Primary and core, say. Two builds are compared by it.' })),
  basis: text({ label: 'Whose figure that is', help: 'A standard with its edition, a maker, or your own choice.' }),
  oneEndOnCore: optional(
    choice(['yes', 'no', 'not-looked'], { label: 'One end of a measured winding is joined to the core' }),
    'not-looked',
  ),
  celsius: optional(measured({ label: 'Temperature', unit: '°C', atLeast: -60, atMost: 300 })),
});
type InsulationInput = v.InferOutput<typeof input>;

export interface InsulationResults {
  /** `not-applicable`: one end is joined to the core, so that the reading tells nothing about the insulation. */
  readonly verdict: 'met' | 'not-met' | 'unclear' | 'not-applicable';
  /** Whose figure was chosen. */
  readonly basis: string;
  readonly minimumMegohms: number;
  readonly testVolts: number;
  /** Reading over the figure chosen. */
  readonly timesMinimum: PhysicalResult;
}

function verdictOf({ oneEndOnCore }: InsulationInput, { interval95 }: PhysicalResult): InsulationResults['verdict'] {
  if (oneEndOnCore === 'yes') return 'not-applicable';
  if (interval95 === null) return 'unclear';
  const [low, high] = interval95;
  if (low >= 1) return 'met';
  return high < 1 ? 'not-met' : 'unclear';
}

function cautionsOf(
  { oneEndOnCore, celsius, basis }: InsulationInput,
  { verdict }: InsulationResults,
): readonly Caution[] {
  return [
    caution(
      'figure-chosen',
      `Judged against the figure of: ${basis}. No approval is claimed; the local code and a licensed person decide.`,
    ),
    ...(verdict === 'unclear'
      ? [caution('within-doubt', 'The figure lies within the doubt of the reading: it can be neither met nor missed.')]
      : []),
    ...(oneEndOnCore === 'yes'
      ? [
          caution(
            'one-end-on-core',
            'One end is joined to the core: it reads near zero by design. Lift that joint first, or leave this test out.',
          ),
        ]
      : []),
    ...(oneEndOnCore === 'not-looked'
      ? [
          caution(
            'core-joint-not-looked',
            'Look whether one end is joined to the core: then the reading is near zero by design.',
          ),
        ]
      : []),
    ...(celsius === undefined
      ? [
          caution(
            'temperature-not-given',
            'Insulation resistance falls to about half for every 10 K warmer (common practice): note the temperature.',
          ),
        ]
      : []),
    caution(
      'discharge',
      'The winding keeps a charge after the test: wait for the tester to discharge it, then join the ends.',
    ),
  ];
}

function run(given: InsulationInput) {
  const { megohms, testVolts, minimumMegohms, basis } = given;
  const ratio = propagate({ megohms }, (each) => each.megohms / minimumMegohms);
  const timesMinimum = physical('', ratio);
  const results: InsulationResults = {
    verdict: verdictOf(given, timesMinimum),
    basis,
    minimumMegohms,
    testVolts,
    timesMinimum,
  };
  const n = (value: number) => formatNumber(value, 6);
  const working = [line('m', 'R / Rmin', `${n(megohms.value)} / ${n(minimumMegohms)}`, ratio.value, '')];
  return worked(results, working, cautionsOf(given, results));
}

export const insulationResistance = defineCalculation({
  name: 'insulation-resistance',
  title: 'Does the insulation meet the figure chosen',
  version: 1,
  sources: ['The figure and its basis are the person’s own choice', 'Half for every 10 K: common practice, no source'],
  input,
  example: {
    megohms: { value: 220, u: 6 },
    testVolts: 500,
    minimumMegohms: 5,
    between: 'primary and core',
    basis: 'own choice',
    oneEndOnCore: 'no',
    celsius: 21,
  },
  run,
});
