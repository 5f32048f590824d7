import type * as v from 'valibot';
import { formatNumber } from '../quantity/format.ts';
import { propagate } from '../quantity/propagate.ts';
import { caution, line, physical, worked, type Caution, type PhysicalResult } from './answer.ts';
import { defineCalculation } from './calculation.ts';
import { group, measured } from './field.ts';

const input = group({
  firstVolts: measured({ label: 'Volts of the first winding alone', unit: 'V', above: 0 }),
  secondVolts: measured({ label: 'Volts of the second winding alone', unit: 'V', above: 0 }),
  joinedVolts: measured({
    label: 'Volts across both, joined end to end',
    unit: 'V',
    atLeast: 0,
    help: 'One end of each joined, the meter on the two ends that are left.',
  }),
});
type PolarityInput = v.InferOutput<typeof input>;

export interface PolarityResults {
  readonly polarity: 'aiding' | 'opposing' | 'unclear';
  readonly howToJoin: string;
  /** What the joined pair would read if the two aid. */
  readonly aidingVolts: PhysicalResult;
  /** What it would read if they oppose. */
  readonly opposingVolts: PhysicalResult;
}

const words = {
  aiding:
    'The joined ends are unlike ends: as joined now, the volts add. In parallel, join like ends: each joined end goes to the free end of the other winding.',
  opposing:
    'The joined ends are like ends: as joined now, the volts take away from each other. To add them, change over the two ends of one winding. In parallel, the joined ends belong together, and so do the free ones.',
  unclear: 'Not to be told from these readings: do not join them.',
};

/** The smaller winding must stand out of the doubt of the readings by this factor. */
const clearBy = 5;

function verdictOf(smaller: number, joined: number, aiding: number, opposing: number, u: number | null) {
  if (u === null) return 'unclear';
  if (smaller < clearBy * u) return 'unclear';
  // The two candidates stand two smaller windings apart: the reading must be clearly at one of them.
  const near = smaller / 2;
  if (Math.abs(joined - aiding) <= near) return 'aiding';
  return Math.abs(joined - opposing) <= near ? 'opposing' : 'unclear';
}

function run(given: PolarityInput) {
  const { firstVolts, secondVolts, joinedVolts } = given;
  const aiding = propagate({ firstVolts, secondVolts }, (each) => each.firstVolts + each.secondVolts);
  // The sign is settled by the values, so that equal windings have no corner here.
  const sign = firstVolts.value >= secondVolts.value ? 1 : -1;
  const opposing = propagate({ firstVolts, secondVolts }, (each) => sign * (each.firstVolts - each.secondVolts));
  const off = propagate(given, (each) => each.joinedVolts - each.firstVolts - each.secondVolts);
  const smaller = Math.min(firstVolts.value, secondVolts.value);
  const polarity = verdictOf(smaller, joinedVolts.value, aiding.value, opposing.value, off.u);
  const results: PolarityResults = {
    polarity,
    howToJoin: words[polarity],
    aidingVolts: physical('V', aiding),
    opposingVolts: physical('V', opposing),
  };
  const n = (value: number) => formatNumber(value, 6);
  const [a, b] = [n(firstVolts.value), n(secondVolts.value)];
  const unclear =
    off.u === null || smaller < clearBy * off.u
      ? caution('too-small', `The smaller winding must read at least ${clearBy} times the doubt of the readings.`)
      : caution(
          'fits-neither',
          'The joined volts fit neither the sum nor the difference: another phase, a loose joint or a wrong reading.',
        );
  const cautions: readonly Caution[] = [
    ...(polarity === 'unclear' ? [unclear] : []),
    caution(
      'low-voltage-only',
      'Do this at low voltage from an isolated source only: a high-voltage winding joined to another puts both at its volts.',
    ),
  ];
  return worked(
    results,
    [
      line('U+', 'U1 + U2', `${a} + ${b}`, aiding.value, 'V'),
      line('U−', '|U1 − U2|', `|${a} − ${b}|`, opposing.value, 'V'),
    ],
    cautions,
  );
}

export const polarity = defineCalculation({
  name: 'polarity',
  title: 'Do two windings aid or oppose',
  version: 1,
  sources: [
    'Sum and difference of windings in series: any machines text',
    'Joined secondaries with almost no volts oppose: common practice, no source',
  ],
  input,
  example: {
    firstVolts: { value: 12.1, u: 0.05 },
    secondVolts: { value: 6.2, u: 0.05 },
    joinedVolts: { value: 18.2, u: 0.05 },
  },
  run,
});
