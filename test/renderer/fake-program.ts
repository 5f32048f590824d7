import { contractVersion, type FromPage, type ToPage } from '../../src-shared/contract/envelope.ts';
import { failed, done, type Outcome } from '../../src-shared/contract/failure.ts';
import type { GuardView } from '../../src-shared/contract/guard-view.ts';
import type { MeterState } from '../../src-shared/contract/meter-view.ts';
import type { Push } from '../../src-shared/contract/push.ts';
import {
  isRequestName,
  requests,
  type RequestName,
  type Requests,
  type RequestValue,
} from '../../src-shared/contract/request.ts';
import { guardAtFirst, type GuardState } from '../../src-shared/interlock/state.ts';
import type { MeterDescription } from '../../src-shared/meter/description.ts';
import type { Build, BuildFields, WindingFields } from '../../src-shared/record/build.ts';
import type { Core, CoreFields } from '../../src-shared/record/core.ts';
import { settingsAtFirst, type Settings } from '../../src-shared/record/settings.ts';
import type { Listener, Transport } from '../../src-renderer/state/transport.ts';
import * as v from 'valibot';

type Read<N extends RequestName> = v.InferOutput<Requests[N]['input']>;
type Handlers = { [N in RequestName]?: (input: Read<N>) => Outcome<RequestValue<N>> };
type Present = RequestValue<'app.present'>;

/** 25 November 2026, 14:00 UTC. */
export const fakeWallMs = Date.UTC(2026, 10, 25, 14, 0, 0);

/**
 * A program behind the contract, in memory and without a clock of its own: what a page test needs to see how the page
 * asks, and what it does with what it is told. Times come from `nowMs`, which only the test moves.
 */
export class FakeProgram {
  nowMs = 100_000;
  life = 'life-1';
  settings: Settings = { ...settingsAtFirst, who: 'Test person' };
  guard: GuardState = guardAtFirst(100_000);
  session: Present['session'] = null;
  run: Present['run'] = null;
  setup: Present['setup'] = null;
  warning: string | null = null;
  ports: RequestValue<'port.list'> = { ports: [], failed: null };
  readonly cores = new Map<number, Core[]>();
  readonly builds: Build[] = [];
  /** Plans of all cores, by the build that they were made for. */
  readonly plans: RequestValue<'plan.list'>[number][] = [];
  needs: RequestValue<'need.list'> = [];
  readonly meters: Present['meters'] = [];
  /** Every request as it came, newest last. */
  readonly asked: { readonly name: string; readonly input: unknown }[] = [];
  /** Hellos as they came. */
  readonly hellos: Extract<FromPage, { kind: 'hello' }>[] = [];
  /** Answers that a test puts in place of the fake's own. */
  readonly instead: Handlers = {};
  /** Answers to the requests of this name are held back until the test lets them go. */
  heldBack: RequestName | null = null;
  readonly #held: (() => void)[] = [];
  /** False: no link opens. */
  isReachable = true;
  #sequence = 0;
  #nextId = 1;
  #listener: Listener | null = null;
  readonly #backlog: ToPage[] = [];

  readonly transport: Transport = (listener) => {
    let isOpen = true;
    queueMicrotask(() => {
      if (!this.isReachable) {
        isOpen = false;
        listener.closed();
        return;
      }
      this.#listener = listener;
      listener.opened();
    });
    return {
      send: (message) => {
        if (isOpen && this.#listener === listener) queueMicrotask(() => this.#take(message, listener));
      },
      close: () => {
        isOpen = false;
        queueMicrotask(() => listener.closed());
      },
    };
  };

  /** Ends the link, as a lost connection does. */
  lose(): void {
    const listener = this.#listener;
    this.#listener = null;
    listener?.closed();
  }

  push(push: Push): void {
    const message: ToPage = { kind: 'push', sequence: ++this.#sequence, push };
    this.#backlog.push(message);
    this.#listener?.heard(message);
  }

  /** Puts the guard into a state and tells the page. */
  setGuard(guard: GuardState): void {
    this.guard = { ...guard, revision: this.guard.revision + 1 };
    this.push({ kind: 'guard', guard: this.#guardView() });
  }

  addCore(fields: CoreFields, windings: readonly WindingFields[] = []): number {
    const coreId = this.#nextId++;
    this.cores.set(coreId, [
      { coreId, revisionId: this.#nextId++, replaces: null, reason: null, wallMs: fakeWallMs, fields },
    ]);
    this.addBuild(coreId, { title: 'As found', joint: 'as-welded', shunts: 'not-known' }, windings);
    return coreId;
  }

  addBuild(coreId: number, fields: BuildFields, windings: readonly WindingFields[]): number {
    const buildId = this.#nextId++;
    this.builds.push({
      buildId,
      coreId,
      number: this.builds.filter((build) => build.coreId === coreId).length + 1,
      wallMs: fakeWallMs,
      fields,
      windings: windings.map((fields) => this.#winding(fields)),
      hasRuns: false,
    });
    return buildId;
  }

  addMeter(description: MeterDescription, state: Partial<MeterState> = {}): number {
    const meterId = this.#nextId++;
    this.meters.push({
      meterId,
      revisionId: this.#nextId++,
      wallMs: fakeWallMs,
      description,
      state: {
        meterId,
        status: description.kind === 'keyboard' ? 'keyboard' : 'off',
        why: null,
        sentence: '',
        sinceMs: this.nowMs,
        last: null,
        channel: null,
        settling: null,
        ...state,
      },
    });
    return meterId;
  }

  #winding(fields: WindingFields): Build['windings'][number] {
    const windingId = this.#nextId++;
    return { windingId, revisionId: this.#nextId++, replaces: null, reason: null, wallMs: fakeWallMs, fields };
  }

  #guardView(): GuardView {
    return { nowMs: this.nowMs, state: this.guard };
  }

  #take(message: FromPage, listener: Listener): void {
    if (message.kind === 'hello') {
      this.hellos.push(message);
      const seen = message.seen?.life === this.life ? message.seen.sequence : null;
      listener.heard({
        kind: 'welcome',
        contract: contractVersion,
        life: this.life,
        sequence: seen ?? this.#sequence,
        afresh: seen === null,
      } satisfies ToPage);
      for (const missed of seen === null ? [] : this.#backlog.slice(seen)) listener.heard(missed);
      return;
    }
    this.asked.push({ name: message.name, input: message.input });
    const outcome = this.#answer(message.name, message.input);
    const { id } = message;
    const reply = outcome.ok
      ? ({ kind: 'reply', id, ok: true, value: outcome.value } satisfies ToPage)
      : ({ kind: 'refusal', id, ok: false, failure: outcome.failure } satisfies ToPage);
    const answer = () => {
      listener.heard(structuredClone(reply));
    };
    if (message.name === this.heldBack) this.#held.push(answer);
    else answer();
  }

  /** Lets go of every answer that was held back. */
  letGo(): void {
    for (const answer of this.#held.splice(0)) answer();
  }

  #answer(name: string, input: unknown): Outcome<unknown> {
    if (!isRequestName(name)) return failed('unknown-request', `There is no request ${name}.`);
    return this.#answerNamed(name, input);
  }

  #answerNamed<N extends RequestName>(name: N, input: unknown): Outcome<unknown> {
    const read = v.safeParse<Requests[N]['input']>(requests[name].input, input);
    if (!read.success) {
      const path = v.getDotPath(read.issues[0]);
      return failed('bad-input', read.issues[0].message, path === null ? {} : { path });
    }
    const handler: Handlers[N] = this.instead[name] ?? this.#handlers[name];
    return handler === undefined ? failed('internal', `The fake has no ${name}.`) : handler(read.output);
  }

  readonly #handlers: Handlers = {
    'app.present': () =>
      done({
        version: '0.1.0',
        dataFolder: '/home/bench/turnwright',
        warning: this.warning,
        nowMs: this.nowMs,
        wallMs: fakeWallMs,
        settings: this.settings,
        guard: this.#guardView(),
        session: this.session,
        run: this.run,
        lastRun: this.run,
        meters: this.meters,
        setup: this.setup,
      }),
    'settings.save': ({ settings }) => {
      this.settings = settings;
      return done(settings);
    },
    'lesson.list': () => done({ inHand: null, core: null, lessons: [] }),
    'core.list': () =>
      done(
        [...this.cores.values()].flatMap((revisions) => {
          const core = revisions.at(-1);
          if (core === undefined) return [];
          return [{ core, builds: this.builds.filter(({ coreId }) => coreId === core.coreId), results: [] }];
        }),
      ),
    'core.get': ({ coreId }) => {
      const history = this.cores.get(coreId) ?? [];
      const core = history.at(-1);
      if (core === undefined) return failed('not-found', 'There is no such core.');
      const builds = this.builds.filter((build) => build.coreId === coreId);
      return done({ core, builds, results: [], runs: [], history });
    },
    'core.save': ({ coreId, reason, fields }) => {
      if (coreId === undefined) {
        const made = this.addCore(fields);
        this.push({ kind: 'changed', what: 'core', id: made });
        return done({ coreId: made });
      }
      const before = this.cores.get(coreId);
      const last = before?.at(-1);
      if (before === undefined || last === undefined) return failed('not-found', 'There is no such core.');
      if (reason === undefined) return failed('bad-input', 'A correction needs a reason.', { path: 'reason' });
      before.push({
        coreId,
        revisionId: this.#nextId++,
        replaces: last.revisionId,
        reason,
        wallMs: fakeWallMs + 60_000,
        fields,
      });
      this.push({ kind: 'changed', what: 'core', id: coreId });
      return done({ coreId });
    },
    'build.add': ({ coreId, fields, windings }) => {
      const buildId = this.addBuild(coreId, fields, windings);
      this.push({ kind: 'changed', what: 'build', id: buildId });
      return done({ buildId });
    },
    'winding.save': ({ buildId, windingId, fields, reason }) => {
      const at = this.builds.findIndex((build) => build.buildId === buildId);
      const build = this.builds[at];
      if (build === undefined) return failed('not-found', 'There is no such build.');
      const saved = this.#winding(fields);
      const windings =
        windingId === undefined
          ? [...build.windings, saved]
          : build.windings.map((winding) =>
              winding.windingId === windingId
                ? { ...saved, windingId, replaces: winding.revisionId, reason: reason ?? null }
                : winding,
            );
      this.builds[at] = { ...build, windings };
      this.push({ kind: 'changed', what: 'build', id: buildId });
      return done({ windingId: windingId ?? saved.windingId });
    },
    'session.list': () => done([]),
    'plan.list': ({ coreId }) => {
      const isOfCore = (buildId: number) => this.builds.some((one) => one.buildId === buildId && one.coreId === coreId);
      return done(this.plans.filter(({ buildId }) => isOfCore(buildId)));
    },
    'plan.get': ({ planId }) => {
      const plan = this.plans.find((each) => each.planId === planId);
      return plan === undefined ? failed('not-found', 'There is no such plan.') : done(plan);
    },
    'need.list': () => done(this.needs),
    'need.save': ({ needId, reason, fields }) => {
      const at = this.needs.findIndex((need) => need.needId === needId);
      const before = this.needs[at];
      const saved = {
        needId: needId ?? this.#nextId++,
        revisionId: this.#nextId++,
        replaces: before?.revisionId ?? null,
        reason: reason ?? null,
        wallMs: fakeWallMs,
        retired: false,
        fields,
      };
      if (before === undefined) this.needs.push(saved);
      else this.needs[at] = saved;
      this.push({ kind: 'changed', what: 'need', id: saved.needId });
      return done({ needId: saved.needId });
    },
    'need.retire': ({ needId }) => {
      this.needs = this.needs.filter((need) => need.needId !== needId);
      this.push({ kind: 'changed', what: 'need', id: needId });
      return done({});
    },
    'plan.save': ({ planId, buildId, reason, fields }) => {
      const known = this.plans.find((plan) => plan.planId === planId);
      const plan = known ?? { planId: this.#nextId++, buildId, versions: [] };
      if (known === undefined) this.plans.push(plan);
      const before = plan.versions.at(-1);
      const revisionId = this.#nextId++;
      plan.versions.push({
        ...{ planId: plan.planId, revisionId, number: plan.versions.length + 1, replaces: before?.revisionId ?? null },
        ...{ reason: reason ?? null, wallMs: fakeWallMs, fields, stale: [] },
      });
      this.push({ kind: 'changed', what: 'plan', id: plan.planId });
      return done({ planId: plan.planId, revisionId });
    },
    'meter.list': () => done(this.meters),
    'meter.save': ({ meterId, description }) => {
      if (meterId === undefined) {
        const made = this.addMeter(description);
        this.push({ kind: 'changed', what: 'meter', id: made });
        return done({ meterId: made });
      }
      const at = this.meters.findIndex((meter) => meter.meterId === meterId);
      const known = this.meters[at];
      if (known === undefined) return failed('not-found', 'There is no such meter.');
      this.meters[at] = { ...known, description };
      this.push({ kind: 'changed', what: 'meter', id: meterId });
      return done({ meterId });
    },
    'meter.retire': ({ meterId }) => {
      const at = this.meters.findIndex((meter) => meter.meterId === meterId);
      if (at < 0) return failed('not-found', 'There is no such meter.');
      this.meters.splice(at, 1);
      this.push({ kind: 'changed', what: 'meter', id: meterId });
      return done({});
    },
    'port.list': () => done(this.ports),
    'meter.try': () => done({ tryId: 1 }),
    'meter.replay': () => done({ tryId: 2 }),
    'port.find': () => done({ findId: 1 }),
    'meter.try-stop': () => done({}),
    'guard.send': ({ revision, command }) => {
      if (command.kind !== 'power-off' && revision !== this.guard.revision) {
        return failed('stale', 'The bench has changed meanwhile. Look again.');
      }
      this.setGuard(this.#after(command.kind));
      return done(this.#guardView());
    },
  };

  /** Only as much of the guard as the strip needs: hold, power on, power off. */
  #after(command: string): GuardState {
    const { guard, nowMs } = this;
    const by = this.settings.who;
    if (command === 'power-on-begun' && guard.kind === 'ready') return { ...guard, hold: { begunAtMs: nowMs, by } };
    if (command === 'power-on-let-go') return { ...guard, hold: null };
    if (command === 'power-on-confirmed' && guard.kind === 'ready') {
      const power = { by, onAtMs: nowMs, offAtMs: null };
      return { ...guard, kind: 'live', hold: null, power, why: { code: 'declared-on', by }, sinceMs: nowMs };
    }
    if (command === 'power-off' && (guard.kind === 'live' || guard.kind === 'tripped')) {
      return { ...guard, kind: 'proving', why: { code: 'declared-off', by, was: guard.kind }, sinceMs: nowMs };
    }
    return guard;
  }
}
