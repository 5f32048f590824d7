import type * as v from 'valibot';
import { formatNumber } from '../quantity/format.ts';
import { propagate } from '../quantity/propagate.ts';
import type { Values } from '../quantity/sources.ts';
import { caution, line, physical, worked, type Caution, type PhysicalResult, type WorkingLine } from './answer.ts';
import { defineCalculation } from './calculation.ts';
import { choice, group, measured, optional, plainNumber } from './field.ts';

const input = group({
  ratedVolts: measured({ label: 'Volts held at the load', unit: 'V', above: 0 }),
  amps: measured({ label: 'Load current', unit: 'A', above: 0 }),
  powerFactor: plainNumber({ label: 'Power factor of the load', atLeast: 0, atMost: 1 }),
  sense: choice(['lagging', 'leading'], { label: 'Sense', help: 'Coils lag, capacitors lead.' }),
  equivalentResistance: measured({
    label: 'Equivalent resistance',
    unit: 'Ω',
    above: 0,
    help: 'Referred to the side of the load, warm as it will run.',
  }),
  equivalentReactance: measured({ label: 'Equivalent reactance', unit: 'Ω', atLeast: 0 }),
  coreLossWatts: optional(measured({ label: 'Core loss', unit: 'W', above: 0 })),
  regulationBase: optional(
    choice(['noLoad', 'loaded'], {
      words: { noLoad: 'No-load volts', loaded: 'Loaded volts' },
      label: 'Regulation counts in per cent of',
      help: 'The no-load volts, or the loaded ones as many books have it.',
    }),
    'noLoad',
  ),
});
type LoadInput = v.InferOutput<typeof input>;
type Each = Values<LoadInput>;

export interface LoadPerformanceResults {
  /** Above 0: the volts fall from no load to load. With a leading load it can be below 0: they rise. */
  readonly regulationPercent: PhysicalResult;
  /** What the source must hold, on the side of the load: also the no-load volts. */
  readonly sourceVolts: PhysicalResult;
  readonly copperLoss: PhysicalResult;
  /** Null without the core loss. */
  readonly efficiencyPercent: PhysicalResult | null;
  /** The load of best efficiency over the one given (same volts and power factor). Null without the core loss. */
  readonly loadForBestEfficiency: PhysicalResult | null;
  /** The same as a current. */
  readonly ampsForBestEfficiency: PhysicalResult | null;
}

/** |V + I (R + jX)| with the current turned by the angle of the load. */
function source({ ratedVolts, amps, powerFactor, sense, equivalentResistance: r, equivalentReactance: x }: Each) {
  const sine = Math.sqrt(1 - powerFactor ** 2) * (sense === 'lagging' ? 1 : -1);
  const inPhase = ratedVolts + amps * (r * powerFactor + x * sine);
  const across = amps * (x * powerFactor - r * sine);
  return Math.hypot(inPhase, across);
}

const copper = ({ amps, equivalentResistance }: Each) => amps ** 2 * equivalentResistance;
const output = ({ ratedVolts, amps, powerFactor }: Each) => ratedVolts * amps * powerFactor;

function regulation(each: Each): number {
  const noLoad = source(each);
  const base = each.regulationBase === 'noLoad' ? noLoad : each.ratedVolts;
  return (100 * (noLoad - each.ratedVolts)) / base;
}

/** What needs the core loss. */
function efficiencyOf(given: LoadInput) {
  const { coreLossWatts } = given;
  if (coreLossWatts === undefined) return null;
  const tree = { ...given, coreLossWatts };
  return {
    percent: propagate(tree, (each) => (100 * output(each)) / (output(each) + copper(each) + each.coreLossWatts)),
    best: propagate(tree, (each) => Math.sqrt(each.coreLossWatts / copper(each))),
    amps: propagate(tree, (each) => Math.sqrt(each.coreLossWatts / each.equivalentResistance)),
  };
}

function run(given: LoadInput) {
  const { ratedVolts, amps, powerFactor, sense, equivalentResistance, equivalentReactance, coreLossWatts } = given;
  const volts = propagate(given, source);
  const percent = propagate(given, regulation);
  const loss = propagate(given, copper);
  const efficiency = efficiencyOf(given);
  const results: LoadPerformanceResults = {
    regulationPercent: physical('%', percent),
    sourceVolts: physical('V', volts),
    copperLoss: physical('W', loss),
    efficiencyPercent: efficiency === null ? null : physical('%', efficiency.percent),
    loadForBestEfficiency: efficiency === null ? null : physical('', efficiency.best),
    ampsForBestEfficiency: efficiency === null ? null : physical('A', efficiency.amps),
  };
  const n = (value: number) => formatNumber(value, 6);
  const [v2, i, r, x, e] = [ratedVolts, amps, equivalentResistance, equivalentReactance, volts].map((each) =>
    n(each.value),
  );
  const angle = `${sense === 'lagging' ? '−' : '+'}${n((Math.acos(powerFactor) * 180) / Math.PI)}°`;
  const base = given.regulationBase === 'noLoad' ? e : v2;
  const fixed: readonly WorkingLine[] = [
    line('E', '|U + I∠φ (R + jX)|', `|${v2} + ${i}∠${angle} × (${r} + j${x})|`, volts.value, 'V'),
    line(
      'reg',
      given.regulationBase === 'noLoad' ? '(E − U) / E' : '(E − U) / U',
      `(${e} − ${v2}) / ${base} × 100`,
      percent.value,
      '%',
    ),
    line('Pcu', 'I² R', `${i}² × ${r}`, loss.value, 'W'),
  ];
  const iron = n(coreLossWatts?.value ?? 0);
  const out = ratedVolts.value * amps.value * powerFactor;
  const withCore: readonly WorkingLine[] =
    efficiency === null
      ? []
      : [
          line(
            'η',
            'P2 / (P2 + Pcu + Pfe)',
            `${n(out)} / (${n(out)} + ${n(loss.value)} + ${iron}) × 100`,
            efficiency.percent.value,
            '%',
          ),
          line('x', '√(Pfe / Pcu)', `√(${iron} / ${n(loss.value)})`, efficiency.best.value, ''),
        ];
  const cautions: readonly Caution[] = [
    ...(efficiency === null ? [caution('core-loss-not-known', 'Without the core loss there is no efficiency.')] : []),
    caution('resistance-warm', 'Resistance is at a temperature: the copper loss is higher warm than cold.'),
  ];
  return worked(results, [...fixed, ...withCore], cautions);
}

export const loadPerformance = defineCalculation({
  name: 'load-performance',
  title: 'Regulation and efficiency at a load',
  version: 1,
  sources: ['Exact phasor form: Sen, Principles of Electric Machines and Power Electronics, 2nd ed., ex. 2.3 and 2.4'],
  input,
  example: {
    ratedVolts: 24,
    amps: { value: 20, u: 0.1 },
    powerFactor: 0.9,
    sense: 'lagging',
    equivalentResistance: { value: 0.045, u: 0.001 },
    equivalentReactance: { value: 0.06, u: 0.003 },
    coreLossWatts: { value: 45, u: 1 },
  },
  run,
});
