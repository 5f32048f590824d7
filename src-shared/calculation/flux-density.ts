import type * as v from 'valibot';
import { rectangular, type Estimate } from '../quantity/estimate.ts';
import { formatNumber } from '../quantity/format.ts';
import { propagate } from '../quantity/propagate.ts';
import type { Values } from '../quantity/sources.ts';
import { caution, line, physical, refuse, worked, type Caution, type PhysicalResult } from './answer.ts';
import { defineCalculation } from './calculation.ts';
import { group, measured, optional } from './field.ts';
import { ironFields, ironOf, netArea, netAreaText, type IronInput } from './iron.ts';

const input = group({
  volts: measured({ label: 'Volts on the winding', unit: 'V', above: 0 }),
  hertz: measured({ label: 'Frequency', unit: 'Hz', above: 0 }),
  turns: measured({ label: 'Turns of the winding', above: 0 }),
  ...ironFields,
  targetTesla: optional(measured({ label: 'Flux density to aim at', unit: 'T', above: 0 })),
  voltsAverageResponding: optional(
    measured({
      label: 'Volts by an average-responding meter',
      unit: 'V',
      above: 0,
      help: 'Flux follows the mean voltage: with this reading the result holds for any wave.',
    }),
  ),
  noLoadAmps: optional(measured({ label: 'No-load current at these volts', unit: 'A', atLeast: 0 })),
  noLoadWatts: optional(measured({ label: 'No-load power at these volts', unit: 'W', atLeast: 0 })),
  primaryOhms: optional(measured({ label: 'Resistance of the winding', unit: 'Ω', atLeast: 0 })),
});
type FluxInput = v.InferOutput<typeof input>;

export interface FluxDensityResults {
  /** Peak value, in the net iron. */
  readonly peakFluxDensity: PhysicalResult;
  /** Net iron area. */
  readonly ironArea: PhysicalResult;
  /** E.m.f. per turn. */
  readonly voltsPerTurn: PhysicalResult;
  /** Turns that bring the flux density to the target, not rounded. */
  readonly turnsForTarget?: PhysicalResult;
}

/** E = (2 π / sqrt 2) f N Φ for a sine; 4 times the form factor of a sine for the mean-responding reading. */
export const emfConstant = Math.SQRT2 * Math.PI;

const mm2PerM2 = 1e6;

/** What the volts lose in the winding's own resistance before they reach the flux, relative. */
function resistiveDrop({ volts, noLoadAmps, noLoadWatts, primaryOhms }: FluxInput) {
  if (noLoadAmps === undefined || primaryOhms === undefined) return null;
  if (noLoadWatts !== undefined) return { kind: 'split' as const, volts, noLoadAmps, noLoadWatts, primaryOhms };
  // Without the watts the current may be in phase (all of I R lost) or across (nothing lost): the middle, and its doubt.
  const most = noLoadAmps.value * primaryOhms.value;
  return { kind: 'between' as const, phaseNotKnown: rectangular(most / 2 / volts.value, most / 2 / volts.value) };
}
type Drop = ReturnType<typeof resistiveDrop>;

/** E.m.f. over terminal volts: |V - I0 R| / V, and |V - I0 R|² = V² - 2 P0 R + (I0 R)². */
function emfFraction(drop: Values<Drop>): number {
  if (drop === null) return 1;
  if (drop.kind === 'between') return 1 - drop.phaseNotKnown;
  const { volts, noLoadAmps, noLoadWatts, primaryOhms } = drop;
  return Math.sqrt(Math.max(0, volts ** 2 - 2 * noLoadWatts * primaryOhms + (noLoadAmps * primaryOhms) ** 2)) / volts;
}

/** Bounds by common practice for steel of unknown make; saturation of silicon steel by Fitzgerald, Kingsley and Umans. */
export const longRunTesla = 1.4;
export const ceilingTesla = 1.6;
export const saturationTesla = 2.03;

function densityCautions(tesla: number): readonly Caution[] {
  if (tesla > saturationTesla) {
    return [
      caution(
        'above-saturation',
        `More than ${saturationTesla} T is beyond saturation of silicon steel: a turn count, the iron area or the volts must be wrong, or the core is hopelessly overdriven.`,
      ),
    ];
  }
  if (tesla > ceilingTesla) {
    return [
      caution(
        'above-ceiling',
        `Above ${ceilingTesla} T unknown steel saturates: large no-load current and heat (common practice).`,
      ),
    ];
  }
  if (tesla > longRunTesla) {
    return [caution('above-long-run', `Above ${longRunTesla} T expect a hot core in long runs (common practice).`)];
  }
  return [];
}

function emfCautions({ voltsAverageResponding }: FluxInput, drop: Drop): readonly Caution[] {
  return [
    ...(voltsAverageResponding === undefined
      ? [
          caution(
            'sine-assumed',
            'Taken as a sine wave: by a true-rms reading of a distorted wave this is approximate.',
          ),
        ]
      : []),
    drop === null
      ? caution('terminal-volts', "The winding's own drop is not taken off: the flux density is at most this.")
      : caution('leakage-not-counted', 'The drop in the leakage reactance is not taken off.'),
  ];
}

function run(given: FluxInput) {
  const iron = ironOf(given);
  if (!iron.ok) return iron;
  const { volts, hertz, turns, targetTesla, voltsAverageResponding, noLoadAmps, noLoadWatts } = given;
  if (noLoadAmps !== undefined && noLoadWatts !== undefined && noLoadWatts.value > volts.value * noLoadAmps.value) {
    return refuse('conflict', 'The no-load watts are more than the volts times the no-load amps.', 'noLoadWatts');
  }
  const drop = resistiveDrop(given);
  const fluxVolts = voltsAverageResponding === undefined ? { volts } : { voltsAverageResponding };
  const tree: FluxTree = { ...fluxVolts, ...iron.factors, hertz, turns, drop };
  const tesla = propagate(
    tree,
    (each) => (emf(each) * mm2PerM2) / (emfConstant * each.hertz * each.turns * netArea(each)),
  );
  if (!(tesla.value > 0)) return refuse('outside-validity', 'The drop takes all of the volts.', 'primaryOhms');
  const volt = propagate(tree, emf);
  const perTurn = propagate(tree, (each) => emf(each) / each.turns);
  const area = propagate(tree, (each) => netArea(each));
  const forTarget = turnsFor(tree, targetTesla);
  const results: FluxDensityResults = {
    peakFluxDensity: physical('T', tesla),
    ironArea: physical('mm²', area),
    voltsPerTurn: physical('V/turn', perTurn),
    ...(forTarget === null ? {} : { turnsForTarget: physical('turns', forTarget) }),
  };
  const n = (value: number) => formatNumber(value, 6);
  const working = [
    line(
      'A',
      iron.factors.ironAreaMm2 === undefined ? 'tongue × stack × factor' : 'A',
      netAreaText(iron.factors),
      area.value,
      'mm²',
    ),
    line('E', drop === null ? 'V' : '|V - I0 R1|', emfText(given), volt.value, 'V'),
    line('E/N', 'E / N', `${n(volt.value)} / ${n(turns.value)}`, perTurn.value, 'V/turn'),
    line(
      'B',
      'E / (sqrt(2) π f N A)',
      `${n(volt.value)} / (4.44288 × ${n(hertz.value)} × ${n(turns.value)} × ${n(area.value)}e-6)`,
      tesla.value,
      'T',
    ),
  ];
  return worked(results, working, [...densityCautions(tesla.value), ...emfCautions(given, drop), ...iron.cautions]);
}

function emfText({ volts, voltsAverageResponding, noLoadAmps, primaryOhms }: FluxInput): string {
  const from = formatNumber((voltsAverageResponding ?? volts).value, 6);
  if (noLoadAmps === undefined || primaryOhms === undefined) return from;
  return `|${from} - ${formatNumber(noLoadAmps.value, 6)} × ${formatNumber(primaryOhms.value, 6)}|`;
}

/** Everything that the flux density is made of, under the keys of the input. */
interface FluxTree extends IronInput {
  readonly volts?: Estimate;
  readonly voltsAverageResponding?: Estimate;
  readonly hertz: Estimate;
  readonly turns: Estimate;
  readonly drop: Drop;
}

/** Volts that make the flux: by the average-responding reading where there is one. */
const emf = ({ volts, voltsAverageResponding, drop }: Values<FluxTree>): number =>
  (voltsAverageResponding ?? volts ?? NaN) * emfFraction(drop);

function turnsFor(tree: FluxTree, targetTesla: Estimate | undefined) {
  if (targetTesla === undefined) return null;
  return propagate(
    { ...tree, targetTesla },
    (each) => (emf(each) * mm2PerM2) / (emfConstant * each.hertz * each.targetTesla * netArea(each)),
  );
}

export const fluxDensity = defineCalculation({
  name: 'flux-density',
  title: 'Peak flux density from volts, turns and iron',
  version: 1,
  sources: [
    'E = (2 π / sqrt 2) f N Φ, exact constant 4.44288; any machines text',
    'Mean voltage and flux: IEC 60076-1, waveform of the no-load test',
    'Density of flux at which silicon steel saturates: Fitzgerald, Kingsley & Umans, Electric Machinery, 6th ed.',
    'Ceilings for unknown steel, stacking factor: common practice, no source',
  ],
  input,
  example: { volts: 230, hertz: 50, turns: 410, tongueMm: 40, stackMm: 52, targetTesla: 1.2 },
  run,
});
