import type { Coupling } from '../meter/unit.ts';

/** One reading of the meter that a proof is made with. */
export interface WatchedReading {
  readonly atMs: number;
  /** Null: beyond the range. */
  readonly volts: number | null;
  readonly coupling: Coupling | null;
}

/** The step that is watched for. */
export interface WatchedStep {
  readonly isKnown: boolean;
  readonly coupling: 'ac' | 'dc';
  /** What the known source is declared to give in this kind, in V. */
  readonly knownVolts: number;
  /** Below this the circuit counts as dead, in V. */
  readonly thresholdVolts: number;
  /** The step before was on the known source: its volts have to be left first. */
  readonly comesFromKnown: boolean;
  readonly announcedAtMs: number;
  /** How long a person takes to put the probes on the next point of the circuit. */
  readonly placeMs: number;
}

/** Whether a step can be taken by itself now. `other-kind`: the knob is still on the other of a.c. and d.c. */
export type Watched =
  | { readonly kind: 'take'; readonly reading: WatchedReading }
  | { readonly kind: 'wait'; readonly why: 'other-kind' | 'leave-known' | 'not-there' | 'unsteady' }
  | { readonly kind: 'wait'; readonly why: 'placing'; readonly leftMs: number };

const steadyForMs = 1500;
const fewest = 3;
/** A known source is taken within this share of what it is declared to give, as the proof itself asks (trade practice). */
const knownShare = 0.1;
const leftShare = 0.5;

const wait = (why: Exclude<Extract<Watched, { kind: 'wait' }>['why'], 'placing'>): Watched => ({ kind: 'wait', why });

/**
 * Judges readings for a proof without hands on the keyboard. `readings` are those since the step was announced, oldest first.
 *
 * A known source is taken once it stands steady near its declared volts; anything else there is waited out. On the circuit a
 * dead point and probes in the air look the same, so there the program goes by its own count: the volts of the known source
 * must be gone, the time to place the probes must be over, and the reading must stand steady. Volts are taken like no volts:
 * the proof then fails. Common practice, no source.
 */
export function watchStep(step: WatchedStep, readings: readonly WatchedReading[], nowMs: number): Watched {
  const newest = readings.at(-1);
  if (newest === undefined) return wait('not-there');
  if (newest.coupling !== step.coupling) return wait('other-kind');
  const steady = steadyReadings(step, readings, nowMs);
  if (step.isKnown) {
    const isNear = (volts: number | null): boolean =>
      volts !== null && Math.abs(Math.abs(volts) - step.knownVolts) <= knownShare * step.knownVolts;
    if (!isNear(newest.volts)) return wait('not-there');
    return steady?.every(({ volts }) => isNear(volts)) === true ? { kind: 'take', reading: newest } : wait('unsteady');
  }
  const leftAtMs = step.comesFromKnown ? leftKnownAt(step, readings) : step.announcedAtMs;
  if (leftAtMs === null) return wait('leave-known');
  const leftMs = leftAtMs + step.placeMs - nowMs;
  if (leftMs > 0) return { kind: 'wait', why: 'placing', leftMs };
  return steady === null ? wait('unsteady') : { kind: 'take', reading: newest };
}

/** The last readings as far as they stand still for long enough; null when they do not. */
function steadyReadings(
  { isKnown, coupling, knownVolts, thresholdVolts }: WatchedStep,
  readings: readonly WatchedReading[],
  nowMs: number,
): readonly WatchedReading[] | null {
  const first = readings.findLastIndex(({ atMs }) => atMs <= nowMs - steadyForMs);
  const last = first < 0 ? [] : readings.slice(first);
  if (last.length < fewest || last.some((one) => one.coupling !== coupling)) return null;
  if (last.every(({ volts }) => volts === null)) return last;
  const sizes = last.map(({ volts }) => (volts === null ? Infinity : Math.abs(volts)));
  const allowed = isKnown ? knownShare * knownVolts : thresholdVolts / 2;
  return Math.max(...sizes) - Math.min(...sizes) <= allowed ? last : null;
}

/** When the probes left the known source: the first reading far below it; null while they have not. */
const leftKnownAt = ({ knownVolts, coupling }: WatchedStep, readings: readonly WatchedReading[]): number | null =>
  readings.find(
    (one) => one.coupling === coupling && one.volts !== null && Math.abs(one.volts) < leftShare * knownVolts,
  )?.atMs ?? null;
