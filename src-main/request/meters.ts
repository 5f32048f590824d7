import { done, failed } from '../../src-shared/contract/failure.ts';
import type { Push, TriedLine } from '../../src-shared/contract/push.ts';
import type { MeterWhole } from '../../src-shared/contract/request.ts';
import type { Bench } from '../bench/bench.ts';
import type { Clock } from '../bench/clock.ts';
import type { MeterStates } from '../bench/meter-states.ts';
import type { Services } from '../host/service.ts';
import type { MeterHub } from '../meter/hub.ts';
import { listPorts } from '../meter/ports.ts';
import { tryMeter, type Trial } from '../meter/try-line.ts';
import type { MeterRevision } from '../store/meters.ts';
import type { Store } from '../store/store.ts';

interface Parts {
  readonly store: Store;
  readonly clock: Clock;
  readonly hub: MeterHub;
  readonly bench: Bench;
  readonly states: MeterStates;
  readonly push: (push: Push) => void;
}

type MeterServices = Pick<
  Services,
  'meter.list' | 'meter.save' | 'meter.retire' | 'port.list' | 'meter.try' | 'meter.try-stop'
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

/** Lines on trial are shown a few times a second, however fast the meter sends; of a flood the last lines. */
const showEveryMs = 100;
const mostShown = 50;

/** Answers about meters and ports. */
export function meterServices({ store, clock, hub, bench, states, push }: Parts): MeterServices {
  let trial: Trial | null = null;
  let tryId = 0;
  const inUse = (meterId: number) =>
    bench.run !== null && (bench.setUp?.filled.some((one) => one.meterId === meterId) ?? false);
  const busy = failed('meter-in-use', 'The meter fills a channel of the open run. End the run first; nothing is lost.');
  const changed = (meterId: number) => {
    push({ kind: 'changed', what: 'meter', id: meterId });
  };
  const stopTrial = async () => {
    const running = trial;
    trial = null;
    await running?.stop();
  };

  return {
    'meter.list': () => done(store.meters.list().map((meter) => meterWhole(meter, states))),

    'meter.save': async ({ meterId, reason, description }) => {
      if (meterId !== undefined && inUse(meterId)) return busy;
      const saved =
        meterId === undefined
          ? store.meters.add(description)
          : store.meters.revise(meterId, reason ?? null, description);
      if (!saved.ok) return saved;
      await stopTrial();
      await hub.stop(saved.value.meterId);
      const started = await hub.start(saved.value.meterId, description);
      changed(saved.value.meterId);
      // The description is kept either way; a port that another meter holds is the person's to sort out.
      return started.ok || started.code !== 'port-taken'
        ? done({ meterId: saved.value.meterId })
        : failed('port-taken', `Saved. ${started.sentence}`, { path: 'description.port.path' });
    },

    'meter.retire': async ({ meterId, reason }) => {
      if (inUse(meterId)) return busy;
      const retired = store.meters.retire(meterId, reason);
      if (!retired.ok) return retired;
      await hub.stop(meterId);
      changed(meterId);
      return done({});
    },

    'port.list': async () => {
      const { ports, failed: failure } = await listPorts();
      return done({ ports: [...ports], failed: failure?.sentence ?? null });
    },

    'meter.try': async ({ description }) => {
      if (description.kind !== 'serial') {
        return failed('bad-input', 'Only a meter on a port can be listened to.', { path: 'description.kind' });
      }
      await stopTrial();
      const holder = store.meters
        .list()
        .find(({ description: other }) => other.kind === 'serial' && other.port.path === description.port.path);
      // A saved meter on the same port is let go for the trial, and taken up again after it.
      if (holder !== undefined) {
        if (inUse(holder.meterId)) return busy;
        await hub.stop(holder.meterId);
      }
      tryId += 1;
      const id = tryId;
      let lines: TriedLine[] = [];
      let heard = 'Opening the port and waiting for the first line.';
      const show = () => {
        if (lines.length > 0 || trial !== null) push({ kind: 'tried', tryId: id, lines, heard });
        lines = [];
      };
      const stopShowing = clock.every(showEveryMs, () => {
        if (lines.length > 0) show();
      });
      const running = tryMeter({
        meter: description,
        clock,
        onLine: (line, sentence) => {
          lines.push({ atMs: line.atMs, text: line.text, read: line, sentence });
          if (lines.length > mostShown) lines.shift();
        },
        onStatus: (status) => {
          heard = status.sentence;
          show();
        },
      });
      trial = {
        stop: async () => {
          stopShowing();
          await running.stop();
          if (holder !== undefined) await hub.start(holder.meterId, holder.description);
        },
      };
      return done({ tryId: id });
    },

    'meter.try-stop': async () => {
      await stopTrial();
      return done({});
    },
  };
}
