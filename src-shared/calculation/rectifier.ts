import type * as v from 'valibot';
import { rectangular } from '../quantity/estimate.ts';
import { formatNumber } from '../quantity/format.ts';
import { propagate } from '../quantity/propagate.ts';
import { caution, line, physical, refuse, worked, type Caution, type PhysicalResult } from './answer.ts';
import { defineCalculation } from './calculation.ts';
import { choice, group, measured, optional } from './field.ts';

const input = group({
  dcVolts: measured({ label: 'Direct volts wanted', unit: 'V', above: 0, help: 'With a capacitor: at its peak.' }),
  dcAmps: measured({ label: 'Direct current', unit: 'A', above: 0 }),
  circuit: choice(['bridge', 'centre-tap', 'half-wave'], { label: 'Rectifier' }),
  filter: choice(['capacitor', 'choke', 'none'], { label: 'Filter' }),
  diodeVolts: optional(
    measured({ label: 'Forward volts of one diode', unit: 'V', atLeast: 0, help: 'Left out: 0.6 to 1.2 V.' }),
  ),
});
type RectifierInput = v.InferOutput<typeof input>;

/** A span between two figures, where a rule gives no single one. */
interface Range {
  readonly from: PhysicalResult;
  readonly to: PhysicalResult;
}

export interface RectifierResults {
  /** R.m.s. under load: of the whole secondary for a bridge, of each half for a centre tap. */
  readonly secondaryVolts: PhysicalResult;
  /** R.m.s. in the secondary, in each half for a centre tap. */
  readonly secondaryAmps: Range;
  /** Of the whole secondary, both halves for a centre tap. */
  readonly va: Range;
}

/** Mean of a full-wave rectified sine over its r.m.s. value. */
const meanOverRms = (2 * Math.SQRT2) / Math.PI;
/** R.m.s. of a full-wave rectified sine over its mean. */
const formFactor = Math.PI / (2 * Math.SQRT2);

/**
 * R.m.s. secondary current of a bridge over the direct current. Capacitor: handbook rule for a winding with 5 to 15 % of
 * resistance. Choke: 1 for a very large one, up to the plain form factor for none.
 */
const bridgeFactors = {
  capacitor: [1.6, 1.8],
  choke: [1, formFactor],
  none: [formFactor, formFactor],
} as const;

function cautionsOf({ filter, diodeVolts, circuit }: RectifierInput): readonly Caution[] {
  return [
    ...(filter === 'capacitor'
      ? [
          caution(
            'stiff-source',
            'The factor of 1.6 to 1.8 holds for a winding with 5 to 15 % of resistance: a stiffer one draws over 2 times the direct current, and the current is in short peaks.',
          ),
          caution(
            'ripple',
            'Under load the mean is lower than the peak by half of the ripple, which is I / (2 f C) from top to bottom.',
          ),
          caution(
            'no-load-volts',
            'With no load the capacitor charges to the peak of the no-load volts: choose it for high line too.',
          ),
        ]
      : []),
    ...(diodeVolts === undefined ? [caution('diode-assumed', 'Each diode was taken as 0.9 ± 0.3 V.')] : []),
    ...(circuit === 'centre-tap'
      ? [
          caution(
            'per-half',
            'Volts and amps are those of each half; the halves must have equal turns, or the core carries d.c.',
          ),
        ]
      : []),
  ];
}

function run(given: RectifierInput) {
  const { dcVolts, dcAmps, circuit, filter, diodeVolts } = given;
  if (circuit === 'half-wave') {
    const message = 'A half-wave rectifier puts direct current through the core and saturates it: take a bridge.';
    return refuse('outside-validity', message, 'circuit');
  }
  const tree = { dcVolts, dcAmps, diode: diodeVolts ?? rectangular(0.9, 0.3) };
  const diodes = circuit === 'bridge' ? 2 : 1;
  const perRms = filter === 'capacitor' ? Math.SQRT2 : meanOverRms;
  const rms = (each: { readonly dcVolts: number; readonly diode: number }) =>
    (each.dcVolts + diodes * each.diode) / perRms;
  // Each half of a centre tap carries every other half wave.
  const share = circuit === 'bridge' ? 1 : Math.SQRT1_2;
  const halves = circuit === 'bridge' ? 1 : 2;
  const [low, high] = bridgeFactors[filter];
  const volts = propagate(tree, rms);
  const amps = (factor: number) => propagate(tree, (each) => factor * share * each.dcAmps);
  const va = (factor: number) => propagate(tree, (each) => halves * rms(each) * factor * share * each.dcAmps);
  const results: RectifierResults = {
    secondaryVolts: physical('V', volts),
    secondaryAmps: { from: physical('A', amps(low)), to: physical('A', amps(high)) },
    va: { from: physical('VA', va(low)), to: physical('VA', va(high)) },
  };
  const n = (value: number) => formatNumber(value, 6);
  const divisor = filter === 'capacitor' ? '√2' : '(2 √2 / π)';
  const half = circuit === 'bridge' ? '' : ' / √2';
  const amp = (factor: number) =>
    line('I', `k Idc${half}`, `${n(factor)} × ${n(dcAmps.value)}${half}`, amps(factor).value, 'A');
  const product = (factor: number) =>
    line(
      'S',
      halves === 1 ? 'U I' : '2 U I',
      `${halves === 1 ? '' : '2 × '}${n(volts.value)} × ${n(amps(factor).value)}`,
      va(factor).value,
      'VA',
    );
  const factors = low === high ? [low] : [low, high];
  return worked(
    results,
    [
      line(
        'U',
        `(Udc + ${diodes} Uf) / ${divisor}`,
        `(${n(dcVolts.value)} + ${diodes} × ${n(tree.diode.value)}) / ${divisor}`,
        volts.value,
        'V',
      ),
      ...factors.map(amp),
      ...factors.map(product),
    ],
    cautionsOf(given),
  );
}

export const rectifier = defineCalculation({
  name: 'rectifier',
  title: 'Secondary for a rectifier',
  version: 1,
  sources: [
    'Mean and r.m.s. of a rectified sine: identities',
    'Secondary current 1.6 to 1.8 times the direct current with a capacitor: handbook rule after Schade (1943)',
  ],
  input,
  example: { dcVolts: 13.8, dcAmps: 10, circuit: 'bridge', filter: 'capacitor', diodeVolts: { value: 0.9, u: 0.1 } },
  run,
});
