import type * as v from 'valibot';
import { formatNumber } from '../../quantity/format.ts';
import { propagate } from '../../quantity/propagate.ts';
import type { Values } from '../../quantity/sources.ts';
import { caution, line, physical, refuse, worked } from '../answer.ts';
import type { PhysicalResult, WorkingLine } from '../answer.ts';
import { defineCalculation } from '../calculation.ts';
import { choice, group, measured, optional } from '../field.ts';
import { meterCautions, waveCautions, waveDifference, waveVerdict } from './wave.ts';

const input = group({
  volts: measured({ label: 'Volts at the terminals', unit: 'V', above: 0 }),
  amps: measured({ label: 'No-load current', unit: 'A', above: 0 }),
  watts: optional(
    measured({
      label: 'No-load power',
      unit: 'W',
      above: 0,
      help: 'Left out: the answer says that the loss is unknown.',
    }),
  ),
  hertz: optional(measured({ label: 'Frequency', unit: 'Hz', above: 0, help: 'A condition of every figure here.' })),
  primaryOhms: optional(measured({ label: 'Resistance of the fed winding', unit: 'Ω', above: 0 })),
  voltsAverageResponding: optional(
    measured({
      label: 'Volts by an average-responding meter',
      unit: 'V',
      above: 0,
      help: 'Scaled to r.m.s. of a sine.',
    }),
  ),
  setBy: optional(
    choice(['average-responding', 'true-rms'], {
      label: 'Which voltmeter the volts were set by',
      help: 'The correction for the wave holds only for volts that were set by the average-responding one.',
    }),
  ),
  ammeterKind: optional(choice(['true-rms', 'average-responding'], { label: 'Kind of ammeter' })),
});
type NoLoadInput = v.InferOutput<typeof input>;

export interface NoLoadResults {
  readonly apparentPower: PhysicalResult;
  /** False without watts: then only the apparent power is there. */
  readonly isLossKnown: boolean;
  readonly powerFactor?: PhysicalResult;
  /** Loss in the iron: without the winding's resistance, its copper loss is still in it. */
  readonly coreLoss?: PhysicalResult;
  readonly copperLoss?: PhysicalResult;
  /** The parallel branch, at the e.m.f. where the resistance is known, else at the terminals. */
  readonly coreLossResistance?: PhysicalResult;
  readonly magnetisingReactance?: PhysicalResult;
  readonly coreLossCurrent?: PhysicalResult;
  readonly magnetisingCurrent?: PhysicalResult;
  /** What the correction for the wave multiplied the core loss with. */
  readonly waveFactor?: PhysicalResult;
  readonly hertz?: PhysicalResult;
}

/** What the formulas work on. */
type Plain = Values<NoLoadInput> & { readonly watts: number };

const copper = ({ amps, primaryOhms = 0 }: Plain) => amps ** 2 * primaryOhms;
const emf = ({ volts, amps, watts, primaryOhms = 0 }: Plain) =>
  Math.sqrt(volts ** 2 - 2 * watts * primaryOhms + (amps * primaryOhms) ** 2);
const reactive = ({ volts, amps, watts }: Plain) => Math.sqrt((volts * amps) ** 2 - watts ** 2);

function run(given: NoLoadInput) {
  const { volts, amps, watts, hertz, primaryOhms, voltsAverageResponding } = given;
  const n = (value: number) => formatNumber(value, 6);
  const apparent = propagate({ volts, amps }, (each) => each.volts * each.amps);
  const first = line('S', 'U × I0', `${n(volts.value)} × ${n(amps.value)}`, apparent.value, 'VA');
  const common = {
    apparentPower: physical('VA', apparent),
    ...(hertz === undefined
      ? {}
      : {
          hertz: physical(
            'Hz',
            propagate({ hertz }, (each) => each.hertz),
          ),
        }),
  };
  if (watts === undefined) {
    const results: NoLoadResults = { ...common, isLossKnown: false };
    const unknown = caution(
      'loss-not-known',
      'Loss not known: without watts nobody can tell how much of this current is loss.',
    );
    return worked(results, [first], [unknown, ...meterCautions(given)]);
  }
  if (!(watts.value < apparent.value)) {
    return refuse('conflict', 'The watts must be less than volts × amps: nothing would be left to magnetise.', 'watts');
  }
  const copperWatts = primaryOhms === undefined ? 0 : amps.value ** 2 * primaryOhms.value;
  if (!(copperWatts < watts.value)) {
    return refuse('conflict', 'The copper loss alone would be more than the watts read.', 'primaryOhms');
  }
  const wave = waveVerdict(given);
  const tree = {
    volts,
    amps,
    watts,
    ...(primaryOhms === undefined ? {} : { primaryOhms }),
    ...(voltsAverageResponding === undefined || wave !== 'applied' ? {} : { voltsAverageResponding }),
  };
  const factor = ({ volts: rms, voltsAverageResponding: average }: Plain) =>
    average === undefined ? 1 : 1 + waveDifference(rms, average);
  const core = (each: Plain) => (each.watts - copper(each)) * factor(each);
  const found = {
    powerFactor: propagate(tree, (each) => each.watts / (each.volts * each.amps)),
    coreLoss: propagate(tree, core),
    coreLossResistance: propagate(tree, (each) => emf(each) ** 2 / core(each)),
    magnetisingReactance: propagate(tree, (each) => emf(each) ** 2 / reactive(each)),
    coreLossCurrent: propagate(tree, (each) => core(each) / emf(each)),
    magnetisingCurrent: propagate(tree, (each) => reactive(each) / emf(each)),
  };
  const copperLoss = propagate(tree, copper);
  const results: NoLoadResults = {
    ...common,
    isLossKnown: true,
    powerFactor: physical('', found.powerFactor),
    coreLoss: physical('W', found.coreLoss),
    ...(primaryOhms === undefined ? {} : { copperLoss: physical('W', copperLoss) }),
    coreLossResistance: physical('Ω', found.coreLossResistance),
    magnetisingReactance: physical('Ω', found.magnetisingReactance),
    coreLossCurrent: physical('A', found.coreLossCurrent),
    magnetisingCurrent: physical('A', found.magnetisingCurrent),
    ...(wave === 'applied' ? { waveFactor: physical('', propagate(tree, factor)) } : {}),
  };
  const e = propagate(tree, emf).value;
  const q = propagate(tree, reactive).value;
  const p = found.coreLoss.value;
  const working: readonly WorkingLine[] = [
    first,
    line('cos φ0', 'P0 / S', `${n(watts.value)} / ${n(apparent.value)}`, found.powerFactor.value, ''),
    ...(primaryOhms === undefined
      ? []
      : [
          line('Pcu', 'I0² × R1', `${n(amps.value)}² × ${n(primaryOhms.value)}`, copperLoss.value, 'W'),
          line(
            'E',
            '|U − I0 R1|',
            `√(${n(volts.value)}² − 2 × ${n(watts.value)} × ${n(primaryOhms.value)} + (${n(amps.value)} × ${n(primaryOhms.value)})²)`,
            e,
            'V',
          ),
        ]),
    line(
      'Pfe',
      wave === 'applied' ? "(P0 − Pcu) × (1 + (U' − U) / U')" : 'P0 − Pcu',
      `${n(watts.value)} − ${n(copperWatts)}${wave === 'applied' ? ', corrected' : ''}`,
      p,
      'W',
    ),
    line('Q', '√(S² − P0²)', `√(${n(apparent.value)}² − ${n(watts.value)}²)`, q, 'VAr'),
    line('Iw', 'Pfe / E', `${n(p)} / ${n(e)}`, found.coreLossCurrent.value, 'A'),
    line('Im', 'Q / E', `${n(q)} / ${n(e)}`, found.magnetisingCurrent.value, 'A'),
    line('Rfe', 'E² / Pfe', `${n(e)}² / ${n(p)}`, found.coreLossResistance.value, 'Ω'),
    line('Xm', 'E² / Q', `${n(e)}² / ${n(q)}`, found.magnetisingReactance.value, 'Ω'),
  ];
  const noCopper = caution(
    'copper-not-taken-off',
    "Without the winding's resistance its copper loss is still in the core loss.",
  );
  const branch = caution('one-voltage', 'Resistance and reactance hold at these volts only: iron is not linear.');
  const cautions = [
    ...waveCautions(wave, given),
    ...(primaryOhms === undefined ? [noCopper] : []),
    branch,
    ...meterCautions(given),
  ];
  return worked(results, working, cautions);
}

export const noLoad = defineCalculation({
  name: 'no-load',
  title: 'What a transformer takes with no load',
  version: 1,
  sources: [
    'No-load current in its two parts: Fitzgerald, Kingsley and Umans, Electric Machinery, 6th ed., ex. 2.1',
    'Correction for the wave, with its 3 % limit: IEC 60076-1:2011, from memory',
  ],
  input,
  example: {
    volts: { value: 120, u: 0.5 },
    amps: { value: 2.1, u: 0.02 },
    watts: { value: 62, u: 1 },
    hertz: 60,
    primaryOhms: { value: 0.42, u: 0.01 },
    voltsAverageResponding: { value: 118.5, u: 0.5 },
    setBy: 'average-responding',
    ammeterKind: 'true-rms',
  },
  run,
});
