import { knownTimesThreshold, setupHours } from './bounds.ts';
import { fallenChannels, voltsStillThere } from './accept.ts';
import { plugWillDo } from './demand.ts';
import type { GuardEvent } from './event.ts';
import { marked } from './on-check.ts';
import { lackingBefore, standing } from './on-proof.ts';
import type { LastProof } from './proof.ts';
import { isPowered, type GuardState } from './state.ts';
import { refuse, andThen, type Turn } from './turn.ts';
import { deadVolts, watchOf } from './watch.ts';

type Of<K extends GuardEvent['kind']> = Extract<GuardEvent, { kind: K }>;

const proofOf = (
  state: GuardState,
  kind: LastProof['kind'],
  by: string,
  t: number,
  circuitAtMs: number,
): LastProof => ({
  kind,
  by,
  practice: state.practice,
  provedAtMs: t,
  circuitAtMs,
  holdMinutes: state.thresholds.proofMinutes,
  instrument: null,
  readings: [],
  endedAtMs: null,
});

/**
 * The transformer's own plug is out: all that a low-voltage test coil asks while every winding is known and under the
 * touch bound, from an isolated source. Nothing was measured, and the words say so.
 */
export function onPlugOutProved(state: GuardState, { by }: Of<'plug-out-proved'>, t: number): Turn {
  if (state.sessionId === null) return refuse(state, { code: 'no-session' });
  if (isPowered(state)) return refuse(state, { code: 'power-is-on', state: state.kind });
  if (state.kind === 'isolated' || state.kind === 'ready') {
    return refuse(state, { code: 'not-in-this-state', state: state.kind });
  }
  if (state.setUp === null) return refuse(state, { code: 'no-set-up' });
  if (!plugWillDo(state)) return refuse(state, { code: 'grade-needs-full-proof' });
  const there = voltsStillThere(state, state.power?.offAtMs ?? -Infinity);
  if (there !== null) return refuse(state, { code: 'volts-still-there', ...there });
  return andThen(marked(state, 'pd-plug', { atMs: t, by, how: 'person', reason: null }), (now) =>
    standing(now, proofOf(now, 'plug-out-low-volts', by, t, t), [], t),
  );
}

/**
 * Between two points of a series: a full proof with this meter began the series and nothing was
 * touched since; the plug is out; the meter, still clipped on, was seen well above the threshold while live and below it
 * since the plug came out. It serves for line to neutral. Core and windings stay unproved, so no metal is touched.
 */
export function onNextPointProved(state: GuardState, { by, touchesMetal }: Of<'next-point-proved'>, t: number): Turn {
  if (state.sessionId === null) return refuse(state, { code: 'no-session' });
  if (isPowered(state)) return refuse(state, { code: 'power-is-on', state: state.kind });
  if (touchesMetal) return refuse(state, { code: 'metal-needs-full-proof' });
  if (state.kind !== 'proving') return refuse(state, { code: 'not-in-this-state', state: state.kind });
  const { series, power } = state;
  const offAtMs = power?.offAtMs ?? null;
  const tooOld = series === null || t - series.provedAtMs >= setupHours * 3_600_000;
  if (tooOld || offAtMs === null || state.checks['pd-known1'] === undefined)
    return refuse(state, { code: 'no-series' });
  const checkIds = lackingBefore(state);
  if (checkIds.length > 0) return refuse(state, { code: 'checks-first', checkIds });
  const there = voltsStillThere(state, offAtMs);
  if (there !== null) return refuse(state, { code: 'volts-still-there', ...there });
  const fell = clippedFall(state, series.meterId, Math.max(offAtMs, state.checks['pd-plug']?.atMs ?? t));
  if (fell === null) return refuse(state, { code: 'fall-not-seen' });
  return standing(state, proofOf(state, 'between-points', by, t, fell), [['pd-ln', fell]], t);
}

/** When the series' own meter was read below the threshold on the fed circuit, having been well above it while live. */
function clippedFall(state: GuardState, meterId: number, sinceMs: number): number | null {
  for (const channel of fallenChannels(state, sinceMs)) {
    if (channel.meter?.meterId !== meterId) continue;
    const { highestLive, coupling, atMs } = watchOf(state, channel.id);
    const kind = coupling === 'ac' || coupling === 'dc' ? coupling : 'both';
    if (highestLive !== null && highestLive >= knownTimesThreshold * deadVolts(state.thresholds, kind)) return atMs;
  }
  return null;
}
