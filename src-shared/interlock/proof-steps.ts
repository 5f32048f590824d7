import {
  deadCeilingVolts,
  knownPairMinutes,
  knownTimesThreshold,
  knownTolerance,
  withSupplyMargin,
  type Thresholds,
} from './bounds.ts';
import type { BenchFacts } from './bench.ts';
import type {
  ProofCoupling,
  ProofInProgress,
  ProofInstrument,
  ProofPoint,
  ProofReading,
  ProofResult,
  ProofStep,
} from './proof.ts';
import type { Refusal } from './refusal.ts';
import { deadVolts } from './watch.ts';
import type { ProofFailure } from './why.ts';

/** Above this a winding is high-voltage (IEC 60364: low voltage ends at 1000 V a.c.): no ordinary meter, ever. */
const lowVoltageEnds = 1000;

/** The windings that are read one by one: known, low-voltage, within the instrument's rating, and not the plug's own. */
const readableWindings = (bench: BenchFacts | null, maxVolts: number) =>
  (bench?.windings ?? []).filter(
    ({ volts, onPlug }) => !onPlug && volts !== null && withSupplyMargin(volts) <= Math.min(maxVolts, lowVoltageEnds),
  );

/** The highest volts that the mains terminals could hold, +10 %: what an instrument must be rated for, in V. */
export function ratingForProof(bench: BenchFacts | null): number {
  const plug = bench?.plug.kind === 'volts' ? bench.plug.volts : 0;
  return withSupplyMargin(Math.max(bench?.supply.volts ?? 0, plug));
}

/**
 * The readings that a proof consists of, in order: for each kind (a.c. whole, then d.c. whole; an indicator answers to both
 * at once) the known source, line to neutral, each to the core, each low-voltage winding, the known source again.
 * Order: GS38; NFPA 70E.
 */
export function proofSteps(bench: BenchFacts | null, instrument: ProofInstrument): readonly ProofStep[] {
  const circuit: readonly ProofPoint[] = [
    { kind: 'pair', pair: 'L-N' },
    { kind: 'pair', pair: 'L-core' },
    { kind: 'pair', pair: 'N-core' },
    ...readableWindings(bench, instrument.maxVolts ?? 0).map(({ windingId, label }): ProofPoint => ({
      kind: 'winding',
      windingId,
      label,
    })),
  ];
  const points: readonly ProofPoint[] = [{ kind: 'known1' }, ...circuit, { kind: 'known2' }];
  const couplings: readonly ProofCoupling[] = instrument.kind === 'meter' ? ['ac', 'dc'] : ['both'];
  return couplings.flatMap((coupling) => points.map((point) => ({ point, coupling })));
}

/** Whether a point lies on the circuit; the others are the known source. */
export const isCircuit = ({ point }: ProofStep): boolean => point.kind === 'pair' || point.kind === 'winding';

/** Where the leads are held, in words. */
export function pointWords(point: ProofPoint): string {
  switch (point.kind) {
    case 'known1':
      return 'known source';
    case 'known2':
      return 'known source again';
    case 'pair':
      return { 'L-N': 'line to neutral', 'L-core': 'line to core', 'N-core': 'neutral to core' }[point.pair];
    case 'winding':
      return point.label;
  }
}

/** What a result means for a proof in progress. */
export type StepOutcome =
  | { readonly kind: 'taken'; readonly reading: ProofReading }
  /** Over the threshold and under the ceiling: perhaps pick-up; to be read again with a low-impedance input. */
  | { readonly kind: 'explain'; readonly volts: number }
  | { readonly kind: 'failed'; readonly failure: ProofFailure }
  | { readonly kind: 'refused'; readonly refusal: Refusal };

const refused = (refusal: Refusal): StepOutcome => ({ kind: 'refused', refusal });
const failed = (failure: ProofFailure): StepOutcome => ({ kind: 'failed', failure });

/** Judges one result against the next step of a proof. `step` is the index that the person meant. */
export function judgeStep(
  proof: ProofInProgress,
  thresholds: Thresholds,
  step: number,
  result: ProofResult,
  t: number,
): StepOutcome {
  const next = proof.readings.length;
  const planned = proof.steps[next];
  if (planned === undefined || step !== next) return refused({ code: 'another-step', next, sent: step });
  const tooLong = knownAge(proof, planned, t);
  if (tooLong !== null) return refused(tooLong);
  const reading: ProofReading = { ...planned, atMs: t, result, strayVolts: proof.explainVolts };
  const { instrument } = proof;
  if (instrument.kind === 'indicator') return judgeIndicator(planned, reading);
  if (result.kind === 'lights' || result.kind === 'nothing') return refused({ code: 'another-instrument' });
  if (result.meterId !== instrument.meterId) return refused({ code: 'another-meter' });
  return judgeMeter(proof, instrument, thresholds, planned, result, reading);
}

/** The known source is read within 5 minutes of each reading of the circuit, before and after. */
function knownAge(proof: ProofInProgress, planned: ProofStep, t: number): Refusal | null {
  const round = proof.readings.filter(({ coupling }) => coupling === planned.coupling);
  const oldest = planned.point.kind === 'known2' ? round.find(isCircuit) : round.find((one) => !isCircuit(one));
  if (oldest === undefined) return null;
  const minutes = (t - oldest.atMs) / 60_000;
  return minutes > knownPairMinutes ? { code: 'known-too-long-ago', minutes, limitMinutes: knownPairMinutes } : null;
}

function judgeIndicator(planned: ProofStep, reading: ProofReading): StepOutcome {
  const { kind } = reading.result;
  if (kind !== 'lights' && kind !== 'nothing') return refused({ code: 'another-instrument' });
  if (isCircuit(planned)) {
    const where = pointWords(planned.point);
    return kind === 'nothing'
      ? { kind: 'taken', reading }
      : failed({ code: 'volts-found', where, volts: null, coupling: 'both', thresholdVolts: 0 });
  }
  return kind === 'lights'
    ? { kind: 'taken', reading }
    : failed({ code: 'indicator-dark', before: planned.point.kind === 'known1' });
}

type MeterInstrument = Extract<ProofInstrument, { kind: 'meter' }>;
type MeterResult = Extract<ProofResult, { kind: 'volts' | 'overload' }>;

function judgeMeter(
  proof: ProofInProgress,
  instrument: MeterInstrument,
  thresholds: Thresholds,
  planned: ProofStep,
  result: MeterResult,
  reading: ProofReading,
): StepOutcome {
  const coupling = planned.coupling === 'dc' ? 'dc' : 'ac';
  const thresholdVolts = deadVolts(thresholds, coupling);
  const where = pointWords(planned.point);
  const volts = result.kind === 'volts' && Number.isFinite(result.volts) ? Math.abs(result.volts) : null;
  const asked = proof.explainVolts !== null;
  if (result.kind === 'volts') {
    if (result.coupling !== coupling)
      return refused({ code: 'another-coupling', asked: coupling, sent: result.coupling });
    if (result.lowImpedance && !asked) return refused({ code: 'low-impedance-not-asked' });
    if (!result.lowImpedance && asked && (volts ?? Infinity) < deadCeilingVolts[coupling]) {
      return refused({ code: 'low-impedance-asked' });
    }
    if (!result.lowImpedance) {
      if (result.range === null) return refused({ code: 'range-not-locked' });
      const locked = coupling === 'ac' ? instrument.acRange : instrument.dcRange;
      if (result.range !== locked) return refused({ code: 'another-range' });
    }
  }
  if (!isCircuit(planned)) return judgeKnown(instrument, coupling, thresholdVolts, planned, volts, reading);
  const found = failed({ code: 'volts-found', where, volts, coupling, thresholdVolts });
  if (volts === null || volts >= deadCeilingVolts[coupling]) return found;
  if (volts < thresholdVolts) return { kind: 'taken', reading };
  return asked ? found : { kind: 'explain', volts };
}

function judgeKnown(
  instrument: MeterInstrument,
  coupling: 'ac' | 'dc',
  thresholdVolts: number,
  planned: ProofStep,
  volts: number | null,
  reading: ProofReading,
): StepOutcome {
  const declaredVolts = coupling === 'ac' ? instrument.knownAcVolts : instrument.knownDcVolts;
  const fits =
    volts !== null &&
    Math.abs(volts - declaredVolts) <= declaredVolts * knownTolerance &&
    volts >= thresholdVolts * knownTimesThreshold;
  const before = planned.point.kind === 'known1';
  return fits
    ? { kind: 'taken', reading }
    : failed({ code: 'known-wrong', coupling, declaredVolts, readVolts: volts, before });
}

/** A known source declared too low to prove the range; null when both are high enough. */
export function knownTooLow(instrument: ProofInstrument, thresholds: Thresholds): Refusal | null {
  if (instrument.kind !== 'meter') return null;
  for (const coupling of ['ac', 'dc'] as const) {
    const volts = coupling === 'ac' ? instrument.knownAcVolts : instrument.knownDcVolts;
    const lowestVolts = deadVolts(thresholds, coupling) * knownTimesThreshold;
    if (!(volts >= lowestVolts)) return { code: 'known-too-low', coupling, volts, lowestVolts };
  }
  return null;
}
