import type { BenchFacts } from '../interlock/bench.ts';
import { bounds, withSupplyMargin } from '../interlock/bounds.ts';
import type { Procedure } from './procedure.ts';

/** The fed winding stands at the supply's volts, whatever its turns. */
const fedVolts = ({ supply }: BenchFacts): number => supply.volts;

/** Nominal volts and 10 % above (IEC 60038); on an isolated low-voltage bench never above what its few checks allow. */
const voltsLimit = (bench: BenchFacts): number => {
  const nominal = withSupplyMargin(bench.supply.volts);
  return bench.supply.kind === 'isolated-low-voltage' && bench.supply.volts <= bounds.touchVolts.preset
    ? Math.min(nominal, bounds.touchVolts.preset)
    : nominal;
};

/** The turns of an untouched primary from a temporary coil of counted turns and two voltages. */
export const testCoil: Procedure = {
  id: 'test-coil',
  title: 'Turns of the primary, by test coil',
  purpose: 'Finds how many turns an untouched primary has, and how sure that is.',
  energised: true,
  channels: [
    {
      id: 'primary-volts',
      label: 'Primary volts',
      kind: 'energised-volts',
      unit: 'V',
      coupling: 'ac',
      quantity: 'primary volts',
      required: true,
      cadence: 'repeated',
      onFed: true,
      volts: fedVolts,
    },
    {
      id: 'coil-volts',
      label: 'Test-coil volts',
      kind: 'energised-volts',
      unit: 'V',
      coupling: 'ac',
      quantity: 'test-coil volts',
      required: true,
      cadence: 'repeated',
      onFed: false,
      // A few turns beside a whole primary stand far below it; without its turns the primary's volts are the bound.
      volts: fedVolts,
    },
  ],
  checklists: (supply) => (supply === 'isolated-low-voltage' ? ['T1'] : ['B', 'T2']),
  ruledOut: [],
  rangeCheck: 't1-range',
  oneMeterWillDo: true,
  limits: (bench) => {
    const isLow = bench.supply.kind === 'isolated-low-voltage';
    const max = voltsLimit(bench);
    const channels = ['primary-volts', 'coil-volts'];
    return {
      limits: {
        channels: channels.map((channel) => ({ channel, min: null, max, warn: null, risePerMinute: null })),
        runSeconds: isLow ? null : 60,
        silenceSeconds: isLow ? 10 : 5,
        typedSeconds: 60,
      },
      ceilings: channels.map((channel) => ({ channel, lowestMin: null, highestMax: max })),
    };
  },
  calculation: 'test-coil',
};
