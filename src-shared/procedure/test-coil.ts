import type { BenchFacts } from '../interlock/bench.ts';
import { defaultLimits, voltsLimit } from './default-limits.ts';
import { waiting } from './material.ts';
import { usual, type Procedure, type ProcedureChannel } from './procedure.ts';
import { testCoilSteps } from './test-coil-steps.ts';

/** The fed winding stands at the supply's volts, whatever its turns. */
const fedVolts = ({ supply }: BenchFacts): number => supply.volts;

/** The primary's volts: the supply's where it is fed itself, else by the turns; null when nobody can tell. */
function primaryVolts({ windings, fedWindingId, supply }: BenchFacts): number | null {
  const fed = windings.find(({ windingId }) => windingId === fedWindingId);
  if (fed === undefined || fed.role === 'primary') return supply.volts;
  return windings.find(({ role }) => role === 'primary')?.volts ?? null;
}

const volts: readonly ProcedureChannel[] = [
  {
    id: 'primary-volts',
    label: 'Primary volts',
    kind: 'energised-volts',
    unit: 'V',
    coupling: 'ac',
    quantity: 'primary volts',
    required: true,
    cadence: 'repeated',
    on: 'primary',
    volts: primaryVolts,
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
    on: 'test-coil',
    // A few turns beside a whole primary stand far below it; the meters may be exchanged, so the primary's volts count.
    volts: primaryVolts,
  },
];

const hertz: ProcedureChannel = {
  id: 'line-hertz',
  label: 'Line hertz',
  kind: 'hertz',
  unit: 'Hz',
  coupling: null,
  quantity: 'line hertz',
  required: false,
  cadence: 'once',
  on: 'fed',
  volts: fedVolts,
};

/** The turns of an untouched primary from a temporary coil of counted turns and two voltages. */
export const testCoil: Procedure = {
  ...usual,
  id: 'test-coil',
  title: 'Turns of the primary, by test coil',
  purpose: 'Finds how many turns an untouched primary has, and how sure that is.',
  step: 'find-the-turns',
  energised: true,
  channels: [...volts, hertz],
  checklists: (supply) => (supply === 'isolated-low-voltage' ? ['T1'] : ['B', 'T2']),
  rangeCheck: 't1-range',
  oneMeterWillDo: true,
  limits: (bench, touchVolts) => {
    const bounded = volts.map(({ id, volts: at }) => ({
      channel: id,
      max: voltsLimit(bench, at(bench) ?? bench.supply.volts, touchVolts),
    }));
    return {
      limits: {
        channels: bounded.map((one) => ({ ...one, min: null, warn: null, risePerMinute: null })),
        ...defaultLimits[bench.supply.kind === 'isolated-low-voltage' ? 'T1' : 'T2'],
      },
      ceilings: bounded.map(({ channel, max }) => ({ channel, lowestMin: null, highestMax: max })),
    };
  },
  cautions: ['c-unknown', 'c-step', 'c-pins', 'c-core', 'c-rcd', 'c-var', 'c-lamp', 'c-inrush', 'c-trip', 'c-still'],
  steps: testCoilSteps,
  keeps: 'pairs',
  calculation: 'test-coil',
  work: () => waiting('No pair is kept yet.'),
};
