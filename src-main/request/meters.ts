import { done, failed } from '../../src-shared/contract/failure.ts';
import type { Push } from '../../src-shared/contract/push.ts';
import type { MeterWhole } from '../../src-shared/contract/meter-view.ts';
import { isPowered } from '../../src-shared/interlock/state.ts';
import type { Bench } from '../bench/bench.ts';
import type { Clock } from '../bench/clock.ts';
import type { GuardKeeper } from '../bench/guard-keeper.ts';
import type { MeterStates } from '../bench/meter-states.ts';
import type { Services } from '../host/service.ts';
import type { MeterHub } from '../meter/hub.ts';
import { listPorts } from '../meter/ports.ts';
import { meterBusy, type PortDesk } from '../meter/port-desk.ts';
import type { MeterRevision } from '../store/meters.ts';
import { checkMeter } from './meter-check.ts';
import type { Store } from '../store/store.ts';

interface Parts {
  readonly store: Store;
  readonly desk: PortDesk;
  readonly hub: MeterHub;
  readonly clock: Clock;
  readonly guard: GuardKeeper;
  readonly bench: Bench;
  readonly states: MeterStates;
  readonly push: (push: Push) => void;
}

type MeterServices = Pick<
  Services,
  | 'meter.list'
  | 'meter.save'
  | 'meter.retire'
  | 'meter.check'
  | 'port.list'
  | 'meter.try'
  | 'meter.replay'
  | 'port.find'
  | 'meter.try-stop'
>;

/** A meter as the record describes it and as it is now. */
export const meterWhole = (
  { meterId, revisionId, wallMs, description }: MeterRevision,
  states: MeterStates,
): MeterWhole => ({
  meterId,
  revisionId,
  wallMs,
  description,
  state: states.of(meterId),
});

const onlySerial = failed('bad-input', 'Only a meter on a port can be listened to.', { path: 'description.kind' });

/** Answers about meters and ports. */
export function meterServices({ store, clock, hub, desk, guard, bench, states, push }: Parts): MeterServices {
  const isSetUp = (meterId: number) => bench.setUp?.filled.some((one) => one.meterId === meterId) ?? false;
  /** Power is declared on, and the meter watches over it. */
  const isWatching = (meterId: number) => isPowered(guard.state) && isSetUp(meterId);
  const changed = (meterId: number) => {
    push({ kind: 'changed', what: 'meter', id: meterId });
  };

  return {
    'meter.list': () => done(store.meters.list().map((meter) => meterWhole(meter, states))),

    'meter.save': async ({ meterId, reason, description: given }) => {
      if (meterId !== undefined && (bench.isInRun(meterId) || isWatching(meterId))) return meterBusy;
      const before = meterId === undefined ? null : store.meters.get(meterId);
      // Checks are kept by `meter.check` alone: a page that was open meanwhile does not know the last of them.
      const { checks: _given, ...said } = given;
      const checks = before?.description.checks;
      const description = checks === undefined ? said : { ...said, checks };
      const saved =
        meterId === undefined
          ? store.meters.add(description)
          : store.meters.revise(meterId, reason ?? null, description);
      if (!saved.ok) return saved;
      await desk.stop();
      const started = await hub.restart(saved.value.meterId, description);
      if (isSetUp(saved.value.meterId)) bench.setUpAgain();
      changed(saved.value.meterId);
      // The description is kept either way; a port that another meter holds is the person's to sort out.
      return started.ok || started.code !== 'port-taken'
        ? done({ meterId: saved.value.meterId })
        : failed('port-taken', `Saved. ${started.sentence}`, { path: 'description.port.path' });
    },

    'meter.retire': async ({ meterId, reason }) => {
      if (bench.isInRun(meterId) || isWatching(meterId)) return meterBusy;
      const retired = store.meters.retire(meterId, reason);
      if (!retired.ok) return retired;
      // A trial on its port gives the port back to it when it ends: that has to come before.
      await desk.stop();
      await hub.stop(meterId);
      if (isSetUp(meterId)) bench.setUpAgain();
      changed(meterId);
      return done({});
    },

    'meter.check': (input) => {
      const kept = checkMeter({ store, clock, bench }, input);
      if (kept.ok) changed(input.meterId);
      return kept;
    },

    'port.list': async () => {
      const { ports, failed: failure } = await listPorts();
      return done({ ports: [...ports], failed: failure?.sentence ?? null });
    },

    'meter.try': ({ description }) => (description.kind === 'serial' ? desk.try(description) : onlySerial),
    'meter.replay': ({ description, sample }) =>
      description.kind === 'serial' ? desk.replay(description, sample) : onlySerial,
    'port.find': ({ path }) => desk.find(path),
    'meter.try-stop': async () => {
      await desk.stop();
      return done({});
    },
  };
}
