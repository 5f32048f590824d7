import type * as v from 'valibot';
import { rectangular } from '../quantity/estimate.ts';
import { formatNumber } from '../quantity/format.ts';
import { propagate } from '../quantity/propagate.ts';
import { caution, line, physical, worked, type PhysicalResult } from './answer.ts';
import { defineCalculation } from './calculation.ts';
import { group, measured, optional } from './field.ts';

const watts = { unit: 'W', atMost: 1e6 } as const;
const input = group({
  measuredRise: measured({ label: 'Rise at the end of a heat run', unit: 'K', above: 0, atMost: 1000 }),
  measuredWatts: measured({ label: 'Watts that heated it in that run', above: 0, ...watts }),
  coreWatts: measured({ label: 'No-load watts then', above: 0, ...watts }),
  copperWatts: optional(measured({ label: 'Loss in the windings then', atLeast: 0, ...watts }), 0),
  ambientCelsius: optional(measured({ label: 'Room', unit: '°C', atLeast: -60, atMost: 100 })),
});

export interface RiseAtLoadResults {
  /** Where the heat run was read, if it stays on for ever. */
  readonly rise: PhysicalResult;
  /** Everything that heats it. */
  readonly watts: PhysicalResult;
  /** That rise on top of the room. */
  readonly celsius?: PhysicalResult;
}

/**
 * In still air a rise grows with a power of the watts between 0.8 and 1: between what a surface gives off to moving air
 * that it stirs itself and what goes straight in proportion. Common practice, no source.
 */
const exponent = rectangular(0.9, 0.1);
const farBeyond = 3;

function run(given: v.InferOutput<typeof input>) {
  const { measuredRise, measuredWatts, coreWatts, copperWatts, ambientCelsius } = given;
  const all = propagate({ coreWatts, copperWatts }, (each) => each.coreWatts + each.copperWatts);
  const tree = { measuredRise, measuredWatts, coreWatts, copperWatts, exponent };
  const riseOf = (each: { readonly [Key in keyof typeof tree]: number }): number =>
    each.measuredRise * ((each.coreWatts + each.copperWatts) / each.measuredWatts) ** each.exponent;
  const rise = propagate(tree, riseOf);
  const results: RiseAtLoadResults = {
    rise: physical('K', rise),
    watts: physical('W', all),
    ...(ambientCelsius === undefined
      ? {}
      : {
          celsius: physical(
            '°C',
            propagate({ ...tree, ambientCelsius }, (each) => each.ambientCelsius + riseOf(each)),
          ),
        }),
  };
  const n = (value: number) => formatNumber(value, 5);
  return worked(
    results,
    [
      line('P', 'P0 + Pcu', `${n(coreWatts.value)} + ${n(copperWatts.value)}`, all.value, 'W'),
      line(
        'Δθ',
        'Δθm (P / Pm)^0.9',
        `${n(measuredRise.value)} × (${n(all.value)} / ${n(measuredWatts.value)})^0.9`,
        rise.value,
        'K',
      ),
    ],
    [
      caution(
        'windings-hotter',
        'It is the rise where the heat run was read. Loaded, the inside of the windings is hotter than that, often by 10 to 15 K and more (common practice).',
      ),
      ...(all.value > farBeyond * measuredWatts.value
        ? [
            caution(
              'far-beyond',
              `More than ${farBeyond} times the watts of the heat run: only a rough figure. A heat run with the load tells.`,
            ),
          ]
        : []),
    ],
  );
}

export const riseAtLoad = defineCalculation({
  name: 'rise-at-load',
  title: 'How warm it will run, by a heat run of the same core',
  version: 1,
  sources: ['Rise in proportion to the watts, or to their power 0.8, and evenly between: common practice, no source'],
  input,
  example: {
    measuredRise: { value: 32, u: 1.5 },
    measuredWatts: { value: 14, u: 0.4 },
    coreWatts: { value: 11, u: 0.5 },
    copperWatts: { value: 9, u: 0.3 },
    ambientCelsius: 22,
  },
  run,
});
