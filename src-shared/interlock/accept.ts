import { assertNever } from '../quantity/assert-never.ts';
import type { ChannelKind } from './bench.ts';
import type { Acceptance } from './effect.ts';
import type { Refusal } from './refusal.ts';
import type { GuardState } from './state.ts';
import { voltsIn, watchOf } from './watch.ts';

const taken: Acceptance = { accepted: true, marked: false };
const takenAfterTrip: Acceptance = { accepted: true, marked: true };
const refused = (code: 'power-not-declared' | 'not-proved-dead' | 'plug-out-first'): Acceptance => ({
  accepted: false,
  refusal: { code } satisfies Refusal,
});

/**
 * Whether a reading of this kind of channel is recorded in this state. Volts, amps and watts of an energised circuit need
 * declared power, and are marked after a trip. Resistance and insulation need a proof of dead: an ohmmeter on a live
 * winding is destroyed. The resistance of a cooling winding is taken through the plug before the proof, but only once the
 * plug is out and the voltmeter was seen below the threshold. Everything else is always taken. Volts that are seen act
 * on the guard whether they are recorded or not.
 */
export function acceptReading(state: GuardState, kind: ChannelKind): Acceptance {
  switch (kind) {
    case 'energised-volts':
    case 'energised-amps':
    case 'watts':
      if (state.kind === 'live') return taken;
      return state.kind === 'tripped' ? takenAfterTrip : refused('power-not-declared');
    case 'resistance':
    case 'insulation':
      return isWhollyProved(state) ? taken : refused('not-proved-dead');
    case 'cooling-resistance':
      return isWhollyProved(state) || coolingMayBegin(state) ? taken : refused('plug-out-first');
    case 'temperature':
    case 'ambient':
    case 'hertz':
    case 'proof':
      return taken;
    default:
      return assertNever(kind);
  }
}

/** The whole circuit was proved dead, windings and core included; a proof of less does not do for an ohmmeter. */
const isWhollyProved = (state: GuardState): boolean =>
  (state.kind === 'isolated' || state.kind === 'ready') &&
  (state.lastProof.kind === 'meter' || state.lastProof.kind === 'indicator');

/**
 * Whether the resistance of the cooling winding may be read at the plug before the full proof: power declared off, since
 * then the plug confirmed out, since then the voltmeter on the fed circuit below the threshold, and no circuit channel
 * showing volts. Also when volts were seen after switching off: a meter is slower than the hand on the key, and both
 * facts are asked anew after it. Hands on metal wait for the full proof in any case.
 */
export function coolingMayBegin(state: GuardState): boolean {
  const waiting = state.kind === 'proving' || (state.kind === 'unproved' && state.why.code === 'volts-seen');
  const offAtMs = state.power?.offAtMs ?? null;
  const plug = state.checks['pd-plug'];
  if (!waiting || offAtMs === null || plug === undefined || plug.atMs < offAtMs) return false;
  return hasFallen(state, plug.atMs) && !showsVolts(state, offAtMs);
}

/** The voltmeter on the fed circuit was read below the threshold at or after `sinceMs`. */
const hasFallen = (state: GuardState, sinceMs: number): boolean => fallenChannels(state, sinceMs).length > 0;

/** The channels on the fed circuit whose last reading, at or after `sinceMs`, is below the threshold. */
export const fallenChannels = (state: GuardState, sinceMs: number) =>
  (state.setUp?.channels ?? []).filter((channel) => {
    if (channel.kind !== 'energised-volts' || !channel.onFed) return false;
    const watch = watchOf(state, channel.id);
    return watch.kind === 'number' && watch.atMs >= sinceMs && voltsIn(state.thresholds, watch) === null;
  });

/** The first circuit channel whose last reading, at or after `sinceMs`, is not below the threshold; null when none is. */
export function voltsStillThere(
  state: GuardState,
  sinceMs: number,
): { readonly channel: string; readonly volts: number | null } | null {
  for (const channel of state.setUp?.channels ?? []) {
    if (channel.kind !== 'energised-volts') continue;
    const watch = watchOf(state, channel.id);
    const seen = watch.atMs >= sinceMs ? voltsIn(state.thresholds, watch) : null;
    if (seen !== null) return { channel: channel.label, volts: seen.volts };
  }
  return null;
}

const showsVolts = (state: GuardState, sinceMs: number): boolean => voltsStillThere(state, sinceMs) !== null;
