import * as v from 'valibot';
import { type ToPage } from '../../../src-shared/contract/envelope.ts';
import { done, failed } from '../../../src-shared/contract/failure.ts';
import type { Push } from '../../../src-shared/contract/push.ts';
import { createContractServer, type ContractServerOptions } from '../../../src-main/host/contract-server.ts';
import type { ServicesOf } from '../../../src-main/host/service.ts';
import type { Later } from '../../../src-main/host/timers.ts';

/** A small contract to try the carrier with. */
export const smallTable = {
  greet: { input: v.strictObject({ who: v.string() }), output: v.strictObject({ text: v.string() }) },
  count: { input: v.strictObject({}), output: v.number() },
  refuse: { input: v.strictObject({ revision: v.number() }), output: v.strictObject({}) },
  crash: { input: v.strictObject({}), output: v.strictObject({}) },
  misfit: { input: v.strictObject({}), output: v.number() },
  wait: { input: v.strictObject({}), output: v.strictObject({}) },
};

export function smallServices(release: Promise<void> = Promise.resolve()): ServicesOf<typeof smallTable> {
  return {
    greet: ({ who }) => done({ text: `Good morning, ${who}.` }),
    count: () => done(3),
    refuse: () => failed('stale', 'The guard has moved on.', { detail: { revision: 7 } }),
    crash: () => {
      throw new Error('secret /home/someone/notes.txt');
    },
    misfit: () => done(Number.POSITIVE_INFINITY),
    wait: async () => {
      await release;
      return done({});
    },
  };
}

/** Time that moves only when told to. */
export function handClock() {
  let nowMs = 0;
  let waiting: { readonly at: number; readonly act: () => void }[] = [];
  const later: Later = (ms, act) => {
    const entry = { at: nowMs + ms, act };
    waiting.push(entry);
    return () => {
      waiting = waiting.filter((other) => other !== entry);
    };
  };
  function pass(ms: number) {
    const end = nowMs + ms;
    for (;;) {
      const next = waiting.filter(({ at }) => at <= end).sort((a, b) => a.at - b.at)[0];
      if (next === undefined) break;
      waiting = waiting.filter((other) => other !== next);
      nowMs = next.at;
      next.act();
    }
    nowMs = end;
  }
  return { later, pass, now: () => nowMs, waiting: () => waiting.length };
}

/** Where pushes come from in these tests. */
function emitter() {
  const listeners = new Set<(push: Push) => void>();
  return {
    subscribe: (listener: (push: Push) => void) => {
      listeners.add(listener);
      return () => {
        listeners.delete(listener);
      };
    },
    push(push: Push) {
      for (const listener of listeners) listener(push);
    },
    listeners: () => listeners.size,
  };
}

export function fakeConnection() {
  const sent: ToPage[] = [];
  const closed: string[] = [];
  return {
    sent,
    closed,
    bufferedAmount: 0,
    send(text: string) {
      sent.push(JSON.parse(text) as ToPage);
    },
    close(reason: string) {
      closed.push(reason);
    },
  };
}

export const hello = (seen: { life: string; sequence: number } | null = null) =>
  JSON.stringify({ kind: 'hello', contract: 1, seen });

export const ask = (id: number, name: string, input: unknown) => JSON.stringify({ kind: 'request', id, name, input });

/** Readings of one channel, numbered by time. */
export const readings = (times: readonly number[], channel = 'primary-volts', runId = 1): Push => ({
  kind: 'readings',
  columns: [
    {
      runId,
      channel,
      unit: 'V',
      atMs: [...times],
      kind: times.map(() => 'number'),
      value: times.map((at) => at / 10),
      u: times.map(() => null),
      text: times.map(String),
    },
  ],
});

export const changed = (id: number): Push => ({ kind: 'changed', what: 'core', id });

/** A server on a small contract, with its clock, its source of pushes and its log in hand. */
export function smallServer(options: Partial<ContractServerOptions<typeof smallTable>> = {}) {
  const clock = handClock();
  const source = emitter();
  const log: string[] = [];
  const server = createContractServer({
    table: smallTable,
    services: smallServices(),
    subscribe: source.subscribe,
    life: 'life-one',
    later: clock.later,
    log: (line) => log.push(line),
    checkReplies: true,
    ...options,
  });
  return { server, clock, source, log };
}
