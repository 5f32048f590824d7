import type * as v from 'valibot';
import { formatNumber } from '../quantity/format.ts';
import { propagate } from '../quantity/propagate.ts';
import { caution, line, physical, worked, type PhysicalResult } from './answer.ts';
import { defineCalculation } from './calculation.ts';
import { choice, group, measured } from './field.ts';

const input = group({
  volts: measured({ label: 'Line volts', unit: 'V', above: 0 }),
  supplyOhms: measured({ label: 'Resistance of house wiring and cord', unit: 'Ω', atLeast: 0 }),
  primaryOhms: measured({ label: 'Resistance of the primary', unit: 'Ω', above: 0 }),
  ratedAmps: measured({ label: 'Rated primary current', unit: 'A', above: 0 }),
  rule: choice(['us-primary-only', 'common-practice'], {
    words: { 'us-primary-only': 'US code, primary only' },
    label: 'Rule for the fuse',
    help: 'The US code with protection in the primary only, or common practice elsewhere.',
  }),
});
type FuseInput = v.InferOutput<typeof input>;

export interface InrushAndFuseResults {
  /** Peak of the first half cycle at the worst instant, iron quite saturated: it cannot be more. */
  readonly inrushBound: PhysicalResult;
  /** Time-lag fuse, in line with the primary. */
  readonly fuseFrom: PhysicalResult;
  readonly fuseTo: PhysicalResult;
  readonly whoseRule: string;
}

/** NEC Table 450.3(B), primary only: highest setting over the rated current, by that current. */
function usCeiling(amps: number): number {
  if (amps >= 9) return 1.25;
  return amps >= 2 ? 1.67 : 3;
}

function ruleFor({ rule, ratedAmps }: FuseInput) {
  if (rule === 'us-primary-only') {
    return {
      from: 1,
      to: usCeiling(ratedAmps.value),
      whose: 'NEC (NFPA 70), Table 450.3(B), primary protection only: a ceiling',
    };
  }
  return { from: 1.25, to: 2, whose: 'Common practice, no source' };
}

function run(given: FuseInput) {
  const { volts, supplyOhms, primaryOhms, ratedAmps } = given;
  const { from, to, whose } = ruleFor(given);
  const inrush = propagate(given, (each) => (Math.SQRT2 * each.volts) / (each.supplyOhms + each.primaryOhms));
  const lowest = propagate(given, (each) => from * each.ratedAmps);
  const highest = propagate(given, (each) => to * each.ratedAmps);
  const results: InrushAndFuseResults = {
    inrushBound: physical('A', inrush),
    fuseFrom: physical('A', lowest),
    fuseTo: physical('A', highest),
    whoseRule: whose,
  };
  const n = (value: number) => formatNumber(value, 6);
  const rated = n(ratedAmps.value);
  const ohms = `(${n(supplyOhms.value)} + ${n(primaryOhms.value)})`;
  return worked(
    results,
    [
      line('Î', '√2 U / (Rs + R1)', `√2 × ${n(volts.value)} / ${ohms}`, inrush.value, 'A'),
      line('If', `${n(from)} × I1`, `${n(from)} × ${rated}`, lowest.value, 'A'),
      line('If', `${n(to)} × I1`, `${n(to)} × ${rated}`, highest.value, 'A'),
    ],
    [
      caution('starting-figure', 'A starting figure, not a rule. Fuse, cable and cut-out follow your local code.'),
      caution(
        'inrush',
        `For part of one cycle the current may reach about ${formatNumber(inrush.value, 2)} A. If the breaker opens, find out why before trying again; a lamp or starting at zero avoids it.`,
      ),
      caution(
        'time-lag',
        'Time-lag fuse, in the primary, in line; another near the secondary, and a cut-out on the winding for anything left running.',
      ),
    ],
  );
}

export const inrushAndFuse = defineCalculation({
  name: 'inrush-and-fuse',
  title: 'Switch-on surge and a first fuse',
  version: 1,
  sources: [
    'Upper bound of the surge: Ohm’s law with the iron saturated',
    'NEC (NFPA 70), Table 450.3(B), from memory; 1.25 to 2 times elsewhere: common practice, no source',
  ],
  input,
  example: {
    volts: 120,
    supplyOhms: { value: 0.3, u: 0.05 },
    primaryOhms: { value: 0.4, u: 0.01 },
    ratedAmps: 7,
    rule: 'us-primary-only',
  },
  run,
});
