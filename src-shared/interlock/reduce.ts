import { assertNever } from '../quantity/assert-never.ts';
import { acceptReading } from './accept.ts';
import { mustsBeforePower } from './demand.ts';
import type { Acceptance, Effect, Reduced } from './effect.ts';
import type { GuardEvent } from './event.ts';
import {
  onAlarmHeard,
  onAutoCheck,
  onChanged,
  onCheckConfirmed,
  onCheckWithdrawn,
  onCoreState,
  onShouldSkipped,
} from './on-check.ts';
import { onNextPointProved, onPlugOutProved } from './on-lesser-proof.ts';
import { onLimitsSet, onThresholdsSet } from './on-limit.ts';
import { onPowerOff, onPowerOnBegun, onPowerOnConfirmed, onPowerOnLetGo, onReadyAsked } from './on-power.ts';
import { onProofAbandoned, onProofStarted, onProofStep } from './on-proof.ts';
import { onMeterSilent, onReading } from './on-reading.ts';
import { onBenchDescribed, onRestarted, onSessionEnded, onSessionOpened } from './on-session.ts';
import { onSetUp } from './on-set-up.ts';
import { onTakenOver } from './on-taken-over.ts';
import { hasSteppedBack, instantOf, passTime, slept, stepBack, heldUp } from './on-time.ts';
import { settle } from './settle.ts';
import type { GuardState } from './state.ts';
import { accept, andThen, type Turn } from './turn.ts';
import { channelOf } from './watch.ts';
import type { Lapse } from './why.ts';

/**
 * What one event makes of the guard. Pure; it never throws on an event of the type, and takes nothing back: first time
 * passes up to the event's instant, then the event acts, then the state is brought down to what still bears it. The
 * state handed back replaces the old one even when the event is refused. The revision counts up by one when anything but
 * the watch changed.
 */
export function reduce(state: GuardState, event: GuardEvent): Reduced {
  const t = instantOf(state, event.atMs);
  const timed =
    event.kind === 'restarted' ? accept(state) : andThen(upTo(state, event.atMs, t), (now) => settle(now, t));
  const handled = andThen(timed, (now) => handle(now, event, t));
  const turn = andThen(handled, (now) => settle(now, t));
  const changed = differs(state, turn.state);
  const next: GuardState = changed ? { ...turn.state, revision: turn.state.revision + 1 } : turn.state;
  return {
    state: next,
    refusal: turn.refusal,
    effects: effectsOf(state, next, event, turn),
    acceptance: acceptanceOf(timed.state, event, turn),
  };
}

/**
 * The same for a person's command, which names the revision that the person was looking at: a stale one is refused.
 * "Power is off" is taken whatever it names.
 */
export function command(state: GuardState, revision: number, event: GuardEvent): Reduced {
  if (event.kind === 'power-off' || revision === state.revision) return reduce(state, event);
  const { state: now, effects } = reduce(state, { kind: 'tick', atMs: event.atMs });
  return { state: now, effects, acceptance: null, refusal: { code: 'stale', sent: revision, current: now.revision } };
}

const upTo = (state: GuardState, atMs: number, t: number): Turn =>
  hasSteppedBack(state, atMs) ? andThen(stepBack(state, t), (now) => passTime(now, t)) : passTime(state, t);

function handle(state: GuardState, event: GuardEvent, t: number): Turn {
  switch (event.kind) {
    case 'session-opened':
      return onSessionOpened(state, event, t);
    case 'session-ended':
      return onSessionEnded(state, t);
    case 'restarted':
      return onRestarted(state, event, t);
    case 'bench-described':
      return onBenchDescribed(state, event, t);
    case 'set-up':
      return onSetUp(state, event, t);
    case 'taken-over':
      return onTakenOver(state, event, t);
    case 'check-confirmed':
      return onCheckConfirmed(state, event, t);
    case 'check-withdrawn':
      return onCheckWithdrawn(state, event, t);
    case 'should-skipped':
      return onShouldSkipped(state, event, t);
    case 'auto-check':
      return onAutoCheck(state, event, t);
    case 'changed':
      return onChanged(state, event, t);
    case 'core-state':
      return onCoreState(state, event);
    case 'proof-started':
      return onProofStarted(state, event, t);
    case 'proof-step':
      return onProofStep(state, event, t);
    case 'proof-abandoned':
      return onProofAbandoned(state);
    case 'plug-out-proved':
      return onPlugOutProved(state, event, t);
    case 'next-point-proved':
      return onNextPointProved(state, event, t);
    case 'limits-set':
      return onLimitsSet(state, event);
    case 'thresholds-set':
      return onThresholdsSet(state, event, t);
    case 'ready-asked':
      return onReadyAsked(state, event, t);
    case 'power-on-begun':
      return onPowerOnBegun(state, event, t);
    case 'power-on-let-go':
      return onPowerOnLetGo(state);
    case 'power-on-confirmed':
      return onPowerOnConfirmed(state, event, t);
    case 'power-off':
      return onPowerOff(state, event, t);
    case 'alarm-heard':
      return onAlarmHeard(state);
    case 'reading-seen':
      return onReading(state, event, t);
    case 'meter-silent':
      return onMeterSilent(state, event, t);
    case 'slept':
      return slept(state, event.sleptMs, t);
    case 'held-up':
      return heldUp(state, event.heldUpMs);
    case 'tick':
      return accept(state);
    default:
      return assertNever(event);
  }
}

/** Whether anything but the watch and the revision is another thing than before. */
function differs(before: GuardState, after: GuardState): boolean {
  // Asked for every reading: compared in place, without a copy of either.
  for (const key in after) {
    if (key === 'watch' || key === 'revision') continue;
    if (Reflect.get(before, key) !== Reflect.get(after, key)) return true;
  }
  return false;
}

function acceptanceOf(state: GuardState, event: GuardEvent, { refusal }: Turn): Acceptance | null {
  if (event.kind !== 'reading-seen') return null;
  if (refusal !== null) return { accepted: false, refusal };
  const channel = channelOf(state, event.channel);
  return channel === undefined
    ? { accepted: false, refusal: { code: 'channel-not-known' } }
    : acceptReading(state, channel.kind);
}

/** Events that are no act of anybody: they are recorded only by what they changed. */
const isAct = ({ kind }: GuardEvent): boolean => kind !== 'tick' && kind !== 'reading-seen' && kind !== 'held-up';

function effectsOf(before: GuardState, after: GuardState, event: GuardEvent, turn: Turn): readonly Effect[] {
  const { lapses, effects, refusal } = turn;
  const changed = after.revision !== before.revision;
  const act = isAct(event) && refusal === null;
  // Most readings change nothing, and nothing is made for them.
  if (!changed && !act && lapses.length === 0) return effects;
  const by = 'by' in event ? event.by : '';
  const lapsed = lapses.map((lapse): Effect => ({
    kind: 'check',
    checkId: lapse.checkId,
    mark: 'lapsed',
    who: by,
    lapse,
    reason: null,
  }));
  const record: readonly Effect[] =
    changed || act
      ? [
          {
            kind: 'record',
            event: act ? event : null,
            from: before.kind,
            to: after.kind,
            why: after.why,
            revision: after.revision,
          },
        ]
      : [];
  const called = noticed(before, after, lapses);
  return [...record, ...lapsed, ...effects, ...called];
}

/** Musts that lapse in *ready* or with power on are asked again at once; in every other state they lapse silently. */
function noticed(before: GuardState, after: GuardState, lapses: readonly Lapse[]): readonly Effect[] {
  if (lapses.length === 0) return [];
  const fellBack = before.kind === 'ready' && (after.kind === 'isolated' || after.kind === 'unproved');
  const stillOn = before.kind === 'live' && after.kind === 'live';
  if (!fellBack && !stillOn) return [];
  const musts = new Set(mustsBeforePower(after).map(({ id }) => id));
  const asked = lapses.filter(({ checkId }) => fellBack || musts.has(checkId));
  return asked.length === 0
    ? []
    : [
        { kind: 'notice', lapses: asked },
        { kind: 'sound', sound: 'tick' },
      ];
}
