import type * as v from 'valibot';
import { formatNumber } from '../quantity/format.ts';
import { propagate } from '../quantity/propagate.ts';
import type { Values } from '../quantity/sources.ts';
import { caution, line, physical, refuse, worked, type Caution, type PhysicalResult, type Refusal } from './answer.ts';
import { defineCalculation } from './calculation.ts';
import { choice, group, measured, optional } from './field.ts';

const side = choice(['high', 'low'], { label: 'Side it was measured on' });

const input = group({
  openCircuit: group(
    {
      volts: measured({ label: 'Volts', unit: 'V', above: 0 }),
      amps: measured({ label: 'Amps', unit: 'A', above: 0 }),
      watts: measured({ label: 'Watts', unit: 'W', above: 0 }),
      side,
      windingOhms: optional(
        measured({ label: 'Resistance of the fed winding', unit: 'Ω', above: 0, help: 'Its loss is then taken off.' }),
      ),
    },
    { label: 'Open-circuit test' },
  ),
  shortCircuit: group(
    {
      volts: measured({ label: 'Volts', unit: 'V', above: 0 }),
      amps: measured({ label: 'Amps', unit: 'A', above: 0 }),
      watts: optional(measured({ label: 'Watts', unit: 'W', above: 0 })),
      equivalentOhms: optional(
        measured({
          label: 'Resistance of both windings by d.c.',
          unit: 'Ω',
          above: 0,
          help: 'In place of the watts: both, referred to the side of the test.',
        }),
      ),
      side,
      celsius: optional(measured({ label: 'Temperature of the windings', unit: '°C', atLeast: -60, atMost: 300 })),
    },
    { label: 'Short-circuit test' },
  ),
  turnsRatio: measured({ label: 'Turns ratio', above: 0, help: 'High turns over low.' }),
  referTo: choice(['high', 'low'], { label: 'Refer to' }),
});
type CircuitInput = v.InferOutput<typeof input>;
type Each = Values<CircuitInput>;

export interface EquivalentCircuitResults {
  /** Parallel branch, referred. Without the winding's resistance it stands at the terminals and holds the copper loss. */
  readonly coreLossResistance: PhysicalResult;
  readonly magnetisingReactance: PhysicalResult;
  /** Series branch, both windings together, referred. */
  readonly equivalentResistance: PhysicalResult;
  readonly equivalentReactance: PhysicalResult;
  readonly equivalentImpedance: PhysicalResult;
}

/** What an impedance measured on one side is multiplied with to stand on the other. */
function referral({ turnsRatio, referTo }: Each, from: 'high' | 'low'): number {
  if (from === referTo) return 1;
  return referTo === 'high' ? turnsRatio ** 2 : 1 / turnsRatio ** 2;
}

/** Square of the e.m.f. behind the fed winding: |V − I R|². */
const emfSquared = ({ openCircuit: { volts, amps, watts, windingOhms = 0 } }: Each) =>
  volts ** 2 - 2 * watts * windingOhms + (amps * windingOhms) ** 2;
const coreWatts = ({ openCircuit: { amps, watts, windingOhms = 0 } }: Each) => watts - amps ** 2 * windingOhms;
const reactive = ({ openCircuit: { volts, amps, watts } }: Each) => Math.sqrt((volts * amps) ** 2 - watts ** 2);

const impedance = ({ shortCircuit: { volts, amps } }: Each) => volts / amps;
const resistance = ({ shortCircuit: { amps, watts, equivalentOhms = NaN } }: Each) =>
  watts === undefined ? equivalentOhms : watts / amps ** 2;

/** Not a number where the resistance is more than the impedance, so that no slope is made up there. */
function reactance(each: Each): number {
  const square = impedance(each) ** 2 - resistance(each) ** 2;
  return Math.abs(square) < 1e-8 * impedance(each) ** 2 ? 0 : Math.sqrt(square);
}

function conflictIn({ openCircuit, shortCircuit }: CircuitInput): Refusal | null {
  const { volts, amps, watts, windingOhms } = openCircuit;
  if (!(watts.value < volts.value * amps.value)) {
    const message = 'The watts must be less than volts × amps: nothing would be left to magnetise.';
    return refuse('conflict', message, 'openCircuit.watts');
  }
  if (windingOhms !== undefined && !(amps.value ** 2 * windingOhms.value < watts.value)) {
    const message = 'The copper loss alone would be more than the watts read.';
    return refuse('conflict', message, 'openCircuit.windingOhms');
  }
  const { watts: loss, equivalentOhms } = shortCircuit;
  if (loss !== undefined && equivalentOhms !== undefined) {
    return refuse('conflict', 'Give the watts or the resistance by d.c., not both.', 'shortCircuit.equivalentOhms');
  }
  if (loss === undefined && equivalentOhms === undefined) {
    return refuse('missing-key', 'Give the watts, or the resistance by d.c.', 'shortCircuit.watts');
  }
  const ohms = loss === undefined ? (equivalentOhms?.value ?? 0) : loss.value / shortCircuit.amps.value ** 2;
  // A hair over, so that a purely resistive pair is not refused for rounding.
  if (ohms > (shortCircuit.volts.value / shortCircuit.amps.value) * (1 + 1e-9)) {
    const path = loss === undefined ? 'shortCircuit.equivalentOhms' : 'shortCircuit.watts';
    return refuse('conflict', 'The resistance would be more than the impedance.', path);
  }
  return null;
}

/** A reactance under this part of the impedance is a small difference of squares. */
const lostBelow = 0.2;

function cautionsOf(
  { openCircuit, shortCircuit }: CircuitInput,
  results: EquivalentCircuitResults,
): readonly Caution[] {
  const { equivalentReactance: reactanceFound, equivalentImpedance: impedanceFound } = results;
  return [
    caution('one-voltage', 'The parallel branch holds at the volts of the open-circuit test only: iron is not linear.'),
    caution(
      'shunts',
      'With magnetic shunts in, the series branch holds at the current of the test only: they saturate.',
    ),
    ...(openCircuit.windingOhms === undefined
      ? [caution('copper-not-taken-off', 'The copper loss of the fed winding is still in the core loss.')]
      : []),
    ...(shortCircuit.celsius === undefined
      ? [caution('temperature-not-given', 'The resistance is at a temperature that was not noted: warm it is higher.')]
      : []),
    ...(reactanceFound.u === null && reactanceFound.value < lostBelow * impedanceFound.value
      ? [
          caution(
            'reactance-lost',
            'The resistance is so near to the impedance that the doubt of the reactance cannot be told.',
          ),
        ]
      : []),
  ];
}

function run(given: CircuitInput) {
  const conflict = conflictIn(given);
  if (conflict !== null) return conflict;
  const { openCircuit: open, shortCircuit: short, turnsRatio, referTo } = given;
  const found = {
    rc: propagate(given, (each) => (emfSquared(each) / coreWatts(each)) * referral(each, open.side)),
    xm: propagate(given, (each) => (emfSquared(each) / reactive(each)) * referral(each, open.side)),
    r: propagate(given, (each) => resistance(each) * referral(each, short.side)),
    x: propagate(given, (each) => reactance(each) * referral(each, short.side)),
    z: propagate(given, (each) => impedance(each) * referral(each, short.side)),
  };
  const results: EquivalentCircuitResults = {
    coreLossResistance: physical('Ω', found.rc),
    magnetisingReactance: physical('Ω', found.xm),
    equivalentResistance: physical('Ω', found.r),
    equivalentReactance: physical('Ω', found.x),
    equivalentImpedance: physical('Ω', found.z),
  };
  const n = (value: number) => formatNumber(value, 6);
  const times = (from: 'high' | 'low') =>
    from === referTo ? '' : ` ${referTo === 'high' ? '×' : '/'} ${n(turnsRatio.value)}²`;
  const va = open.volts.value * open.amps.value;
  const emf = open.windingOhms === undefined ? 'U0' : 'E0';
  const e = open.windingOhms === undefined ? n(open.volts.value) : `|${n(open.volts.value)} − I R|`;
  const core = n(open.watts.value - open.amps.value ** 2 * (open.windingOhms?.value ?? 0));
  const q = `√(${n(va)}² − ${n(open.watts.value)}²)`;
  const i = n(short.amps.value);
  return worked(
    results,
    [
      line('Rfe', `${emf}² / Pfe`, `${e}² / ${core}${times(open.side)}`, found.rc.value, 'Ω'),
      line('Xm', `${emf}² / √(S0² − P0²)`, `${e}² / ${q}${times(open.side)}`, found.xm.value, 'Ω'),
      line('Z', 'Uk / Ik', `${n(short.volts.value)} / ${i}${times(short.side)}`, found.z.value, 'Ω'),
      short.watts === undefined
        ? line('R', 'by d.c.', `${n(short.equivalentOhms?.value ?? 0)}${times(short.side)}`, found.r.value, 'Ω')
        : line('R', 'Pk / Ik²', `${n(short.watts.value)} / ${i}²${times(short.side)}`, found.r.value, 'Ω'),
      line('X', '√(Z² − R²)', `√(${n(found.z.value)}² − ${n(found.r.value)}²)`, found.x.value, 'Ω'),
    ],
    cautionsOf(given, results),
  );
}

export const equivalentCircuit = defineCalculation({
  name: 'equivalent-circuit',
  title: 'Equivalent circuit by open and short circuit',
  version: 1,
  sources: ['Open-circuit and short-circuit tests: Chapman, Electric Machinery Fundamentals, 4th ed., ex. 2-2'],
  input,
  example: {
    openCircuit: {
      volts: 120,
      amps: { value: 2.1, u: 0.02 },
      watts: { value: 62, u: 1 },
      side: 'high',
      windingOhms: 0.42,
    },
    shortCircuit: {
      volts: { value: 6.1, u: 0.05 },
      amps: { value: 7.5, u: 0.05 },
      watts: { value: 41, u: 0.8 },
      side: 'high',
      celsius: 22,
    },
    turnsRatio: { value: 5, u: 0.01 },
    referTo: 'low',
  },
  run,
});
