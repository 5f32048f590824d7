import type * as v from 'valibot';
import { formatNumber } from '../quantity/format.ts';
import { propagate } from '../quantity/propagate.ts';
import { caution, line, physical, withoutUncertainty, worked } from './answer.ts';
import type { Caution, PhysicalResult, WorkingLine } from './answer.ts';
import { defineCalculation } from './calculation.ts';
import { choice, group, measured, optional } from './field.ts';

const input = group({
  windowWidthMm: measured({ label: 'Width of one core’s window', unit: 'mm', above: 0 }),
  windowHeightMm: measured({ label: 'Height of one core’s window', unit: 'mm', above: 0 }),
  coreVolts: measured({ label: 'Line volts of one core alone', unit: 'V', above: 0 }),
  firstTurns: measured({ label: 'Primary turns of one core', above: 0 }),
  secondTurns: measured({ label: 'Primary turns of the other', above: 0 }),
  firstOhms: optional(measured({ label: 'Resistance of the first primary', unit: 'Ω', above: 0 })),
  secondOhms: optional(measured({ label: 'Resistance of the second primary', unit: 'Ω', above: 0 })),
  supply: choice(['same', 'double'], {
    label: 'Supply',
    help: 'The volts of one core, or twice that.',
    words: { same: 'The volts of one', double: 'Twice that' },
  }),
  massKg: optional(measured({ label: 'Mass of one, complete as pulled', unit: 'kg', above: 0 })),
});
type StackInput = v.InferOutput<typeof input>;

export interface DoubleStackResults {
  /** E to E without the I's: twice the window of one. */
  readonly windowArea: PhysicalResult;
  readonly voltsPerTurn: PhysicalResult;
  /** `not-proved`: on the same supply only parallel would do, but the turns are not proved equal. */
  readonly primaryJoin: 'parallel' | 'series' | 'not-proved';
  /** Round the two primaries with no load at all, by resistance alone; null in series, or without the resistances. */
  readonly circulatingAmps: PhysicalResult | null;
  /** Of both together; null without the mass. */
  readonly shortTermPower: PhysicalResult | null;
}

/** Common practice for welded appliance cores, by the mass as pulled. */
const wattsPerKg = 220;

function cautionsOf({ massKg, firstOhms, secondOhms }: StackInput, join: DoubleStackResults['primaryJoin']) {
  const cautions: readonly Caution[] = [
    ...(join === 'not-proved'
      ? [
          caution(
            'turns-not-equal',
            'Do not join these primaries in parallel: their turns are not proved equal, and one turn of difference drives a large current round them.',
          ),
        ]
      : []),
    ...(join === 'series'
      ? []
      : [
          caution(
            'far-ends',
            'Before the last joint, join the near ends and measure across the far ends at low volts: it must read near 0.',
          ),
        ]),
    ...(join !== 'series' && (firstOhms === undefined || secondOhms === undefined)
      ? [caution('ohms-not-known', 'Without both resistances the current round the primaries cannot be told.')]
      : []),
    caution('lamp-first', 'First power through a series filament lamp.'),
    caution('joint-gap', 'The new joint adds a gap, and with it no-load current.'),
    ...(massKg === undefined
      ? []
      : [caution('minutes-not-hours', 'The power is a rule of thumb for minutes, not hours.')]),
  ];
  return cautions;
}

function run(given: StackInput) {
  const { windowWidthMm, windowHeightMm, coreVolts, firstTurns, secondTurns, firstOhms, secondOhms, supply, massKg } =
    given;
  const area = propagate({ windowWidthMm, windowHeightMm }, (each) => 2 * each.windowWidthMm * each.windowHeightMm);
  const turns = { coreVolts, firstTurns, secondTurns };
  // The mean of the two counts: in parallel neither alone decides, in series it is exact.
  const perTurn = propagate(turns, (each) => (2 * each.coreVolts) / (each.firstTurns + each.secondTurns));
  const apart = propagate(turns, (each) => each.firstTurns - each.secondTurns);
  const isEqual = apart.u !== null && Math.abs(apart.value) + apart.k * apart.u < 1;
  const equalOr = isEqual ? 'parallel' : 'not-proved';
  const primaryJoin = supply === 'double' ? 'series' : equalOr;
  const sign = apart.value < 0 ? -1 : 1;
  const round =
    supply === 'double' || firstOhms === undefined || secondOhms === undefined
      ? null
      : propagate({ ...turns, firstOhms, secondOhms }, (each) => {
          const volts = (2 * each.coreVolts) / (each.firstTurns + each.secondTurns);
          return (sign * volts * (each.firstTurns - each.secondTurns)) / (each.firstOhms + each.secondOhms);
        });
  const watts = massKg === undefined ? null : 2 * massKg.value * wattsPerKg;
  const results: DoubleStackResults = {
    windowArea: physical('mm²', area),
    voltsPerTurn: physical('V/turn', perTurn),
    primaryJoin,
    circulatingAmps: round === null ? null : physical('A', round),
    shortTermPower: watts === null ? null : withoutUncertainty('W', watts),
  };
  const n = (value: number) => formatNumber(value, 6);
  const [v1, n1, n2] = [coreVolts, firstTurns, secondTurns].map(({ value }) => n(value));
  const ohms = `(${n(firstOhms?.value ?? 0)} + ${n(secondOhms?.value ?? 0)})`;
  const working: readonly WorkingLine[] = [
    line('Aw', '2 b h', `2 × ${n(windowWidthMm.value)} × ${n(windowHeightMm.value)}`, area.value, 'mm²'),
    line('v', '2 U / (N1 + N2)', `2 × ${v1} / (${n1} + ${n2})`, perTurn.value, 'V/turn'),
    ...(round === null
      ? []
      : [line('Ic', 'v |N1 − N2| / (R1 + R2)', `${n(perTurn.value)} × |${n1} − ${n2}| / ${ohms}`, round.value, 'A')]),
    ...(watts === null ? [] : [line('P', '2 × 220 W/kg × m', `2 × 220 × ${n(massKg?.value ?? 0)}`, watts, 'W')]),
  ];
  return worked(results, working, cautionsOf(given, primaryJoin));
}

export const doubleStack = defineCalculation({
  name: 'double-stack',
  title: 'Two cores joined E to E',
  version: 1,
  sources: ['Twice the window, primaries in parallel or in series, power by mass: common practice, no source'],
  input,
  example: {
    windowWidthMm: 24,
    windowHeightMm: 62,
    coreVolts: 120,
    firstTurns: { value: 120, u: 0.2 },
    secondTurns: { value: 120, u: 0.2 },
    firstOhms: { value: 0.4, u: 0.01 },
    secondOhms: { value: 0.41, u: 0.01 },
    supply: 'same',
    massKg: 5.4,
  },
  run,
});
