import type * as v from 'valibot';
import { formatNumber } from '../quantity/format.ts';
import { propagate } from '../quantity/propagate.ts';
import type { Values } from '../quantity/sources.ts';
import { caution, line, physical, worked, type Caution, type PhysicalResult } from './answer.ts';
import { defineCalculation } from './calculation.ts';
import { flag, group, list, measured, optional, plainNumber, text } from './field.ts';

const load = group({
  name: optional(text({ label: 'Name' })),
  voltAmperes: measured({
    label: 'Volt-amperes',
    unit: 'VA',
    atLeast: 0,
    help: 'Volts times amps, not watts: a no-load current is nearly all reactive and loads the circuit all the same.',
  }),
});

const input = group({
  volts: measured({ label: 'Volts of the circuit', unit: 'V', above: 0 }),
  breakerAmps: plainNumber({ label: 'Breaker or fuse', unit: 'A', above: 0 }),
  continuous: flag({ label: 'Runs for three hours or more' }),
  continuousPart: optional(
    plainNumber({
      label: 'Part of the breaker for continuous load',
      above: 0,
      atMost: 1,
      help: '0.8 by the US code; elsewhere the local rule.',
    }),
    0.8,
  ),
  loads: list(load, { label: 'All that is on the circuit, other loads too', atLeast: 0, atMost: 100 }),
  unitVoltAmperes: optional(
    measured({ label: 'One more unit takes', unit: 'VA', above: 0, help: 'To count how many more fit.' }),
  ),
});
type SupplyInput = v.InferOutput<typeof input>;

export interface SupplyCircuitResults {
  /** What the circuit gives, as volts times amps: watts at a power factor of 1. */
  readonly watts: PhysicalResult;
  /** All loads over that. */
  readonly loadFraction: PhysicalResult;
  /** How many units of that size fit beside the loads; null when no size was given. */
  readonly unitsThatFit: number | null;
}

type Each = Values<SupplyInput>;

const partOf = ({ continuous, continuousPart }: Each) => (continuous ? continuousPart : 1);
const capacity = (each: Each) => each.volts * each.breakerAmps * partOf(each);
const loaded = ({ loads }: Each) => loads.reduce((sum, { voltAmperes }) => sum + voltAmperes, 0);

function run(given: SupplyInput) {
  const { volts, breakerAmps, continuous, continuousPart, loads, unitVoltAmperes } = given;
  const watts = propagate(given, capacity);
  const sum = propagate(given, loaded);
  const fraction = propagate(given, (each) => loaded(each) / capacity(each));
  // A hair more, so that a load of exactly the rest counts as fitting.
  const fit = (unit: number) => Math.max(0, Math.floor(((watts.value - sum.value) / unit) * (1 + 1e-9)));
  const results: SupplyCircuitResults = {
    watts: physical('W', watts),
    loadFraction: physical('', fraction),
    unitsThatFit: unitVoltAmperes === undefined ? null : fit(unitVoltAmperes.value),
  };
  const n = (value: number) => formatNumber(value, 6);
  const part = continuous ? ` × ${n(continuousPart)}` : '';
  const added = loads.length === 0 ? '0' : loads.map(({ voltAmperes }) => n(voltAmperes.value)).join(' + ');
  const fits = results.unitsThatFit;
  const cautions: readonly Caution[] = [
    ...(continuous
      ? [
          caution(
            'local-rule',
            'The part for continuous load is 80 % by the US code only: elsewhere the local rule holds.',
          ),
        ]
      : []),
    ...(fraction.value > 1 ? [caution('over-capacity', 'The loads are more than this circuit gives.')] : []),
    caution('va-not-watts', 'Volt-amperes were added up: with unlike power factors the true sum is less, never more.'),
    caution('other-loads', 'Count what else is plugged in on the same breaker. Switch-on surges are not in this.'),
  ];
  return worked(
    results,
    [
      line(
        'P',
        `U × I${part === '' ? '' : ' × part'}`,
        `${n(volts.value)} × ${n(breakerAmps)}${part}`,
        watts.value,
        'W',
      ),
      line('ΣS', 'sum of the loads', added, sum.value, 'VA'),
      line('x', 'ΣS / P', `${n(sum.value)} / ${n(watts.value)}`, fraction.value, ''),
      ...(fits === null || unitVoltAmperes === undefined
        ? []
        : [
            line(
              'n',
              '(P − ΣS) / S1, down',
              `(${n(watts.value)} − ${n(sum.value)}) / ${n(unitVoltAmperes.value)}`,
              fits,
              '',
            ),
          ]),
    ],
    cautions,
  );
}

export const supplyCircuit = defineCalculation({
  name: 'supply-circuit',
  title: 'What a branch circuit can carry',
  version: 1,
  sources: [
    'Continuous load at 80 % of the breaker: NEC (NFPA 70), 210.19(A) and 210.20(A)',
    '120 V at 15 A: 1800 W, about two appliance transformers: common practice, no source',
  ],
  input,
  example: {
    volts: 120,
    breakerAmps: 15,
    continuous: false,
    loads: [{ name: 'bench lamp', voltAmperes: 60 }],
    unitVoltAmperes: 850,
  },
  run,
});
