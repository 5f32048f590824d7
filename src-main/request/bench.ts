import { done, failed } from '../../src-shared/contract/failure.ts';
import { eventOf } from '../../src-shared/interlock/event.ts';
import type { Bench } from '../bench/bench.ts';
import { isTyped } from '../bench/choose.ts';
import type { Clock } from '../bench/clock.ts';
import { refusedByGuard, type GuardKeeper } from '../bench/guard-keeper.ts';
import type { Services } from '../host/service.ts';
import type { MeterHub } from '../meter/hub.ts';
import type { Store } from '../store/store.ts';

interface Parts {
  readonly store: Store;
  readonly clock: Clock;
  readonly guard: GuardKeeper;
  readonly bench: Bench;
  readonly hub: MeterHub;
}

/** Answers about the guard, the set-up and what is typed. */
export function benchServices({
  store,
  clock,
  guard,
  bench,
  hub,
}: Parts): Pick<
  Services,
  'bench.take-over' | 'bench.set-up' | 'bench.set-up-again' | 'bench.meter-to' | 'guard.send' | 'reading.type'
> {
  const who = () => store.sessions.current()?.fields.who ?? store.settings.get().who;
  const proofMeter = (meterId: number) => {
    const meter = store.meters.get(meterId);
    if (meter === null || meter.retired) return null;
    const { label, maxVolts, kind } = meter.description;
    return { label, maxVolts, practice: kind === 'practice' };
  };

  return {
    'bench.set-up': ({ procedure, channels, answers }) => bench.setUpWith(procedure, channels, answers ?? {}, who()),
    'bench.set-up-again': () => bench.sameSetUp(who()),
    'bench.take-over': ({ reader, reason }) => bench.takeOver(reader, reason, who()),
    'bench.meter-to': ({ channel }) => bench.meterTo(channel),

    'guard.send': ({ revision, command }) => {
      const event = eventOf(command, { atMs: clock.monoMs(), by: who() }, proofMeter);
      if (event === null)
        return failed('meter-missing', 'There is no such meter on the list.', { path: 'command.instrument' });
      const refusal = guard.command(revision, event);
      return refusal === null ? done(guard.view()) : refusedByGuard(refusal);
    },

    'reading.type': ({ channel, text }) => {
      const filled = bench.setUp?.filled.find((one) => one.channel.id === channel);
      if (filled === undefined)
        return failed('not-found', `"${channel}" is no channel of the set-up.`, { path: 'channel' });
      const { unit, coupling } = filled.channel;
      if (isTyped(filled)) bench.meterTo(channel);
      const entered = hub.enter(filled.meterId, text, { unit, coupling }, { byEye: filled.byEye });
      if (!entered.ok) {
        const code = entered.code === 'wrong-unit' ? 'wrong-unit' : 'unreadable';
        return failed(code, entered.sentence, { path: 'text', detail: { code: entered.code } });
      }
      const outcome = bench.lastOutcome;
      if (!outcome.ok) return outcome;
      const last = bench.memory(filled.meterId, channel).last;
      return done({ value: last?.value ?? null, unit, sentence: `Taken as ${last?.value ?? 'over range'} ${unit}.` });
    },
  };
}
