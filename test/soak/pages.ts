import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as rest } from 'node:timers/promises';
import type { Push } from '../../src-shared/contract/push.ts';
import { done } from '../../src-shared/contract/failure.ts';
import { seededGenerator } from '../../src-shared/quantity/generator.ts';
import { runLocal } from '../../src-main/host/run-local.ts';
import { partsOf } from '../contract/socket-wire.ts';
import { emptyServices } from '../contract/stand-in.ts';
import type { Soak } from './soak.ts';
import { Visitor } from './visitor.ts';

/** The local host with nothing behind it but what the soak pushes. */
async function openHost() {
  const folder = mkdtempSync(join(tmpdir(), 'turnwright-pages-'));
  writeFileSync(join(folder, 'index.html'), '');
  const listeners = new Set<(push: Push) => void>();
  const bugs: string[] = [];
  const subscribe = (listener: (push: Push) => void) => {
    listeners.add(listener);
    return () => listeners.delete(listener);
  };
  const running = await runLocal({
    chosen: { port: 0, folder },
    create: () => done({ services: emptyServices, subscribe, close: () => Promise.resolve() }),
    pages: folder,
    log: (line) => bugs.push(line),
    checkReplies: true,
  });
  if (!running.ok) throw new Error(running.failure.message);
  return {
    at: partsOf(running.value.url),
    bugs,
    push(what: Push) {
      for (const listener of listeners) listener(what);
    },
    async close() {
      await running.value.close();
      rmSync(folder, { recursive: true });
    },
  };
}

function readings(count: number, text: string): Push {
  const many = <T>(value: T) => Array.from({ length: count }, () => value);
  const columns = {
    runId: 1,
    channel: 'primary-volts',
    unit: 'V',
    atMs: many(1),
    kind: many('number' as const),
    value: many(1),
    u: many(null),
    text: many(text),
  };
  return { kind: 'readings', columns: [columns] };
}

/**
 * Pages that come, go, stall and come back at random while events and heavy readings are pushed: each must have seen
 * every event once and in order, and every reading or have been told that it was missed.
 */
export const pagesSoak: Soak = {
  name: 'pages',
  async run({ seed, isShort }) {
    const { uniform } = seededGenerator(seed);
    const below = (limit: number) => Math.floor(uniform() * limit);
    const host = await openHost();
    const visitors = Array.from({ length: 8 }, () => new Visitor());
    const all = { events: 0, readings: 0, visits: 0 };

    async function arrive(visitor: Visitor) {
      // The end of a run sends what is waiting, so that what was before this visit is exactly what was pushed.
      host.push({ kind: 'run', run: null });
      all.visits += 1;
      await visitor.arrive(host.at, { ...all });
    }
    const steps = isShort ? 2500 : 60_000;
    for (let step = 0; step < steps; step += 1) {
      for (let many = below(4); many > 0; many -= 1) {
        all.events += 1;
        host.push({ kind: 'changed', what: 'core', id: all.events });
      }
      const count = 1 + below(5);
      all.readings += count;
      host.push(readings(count, 'x'.repeat(uniform() < 0.2 ? 100_000 : 10)));
      const visitor = visitors[below(visitors.length)];
      const dice = uniform();
      if (visitor?.client === null && dice < 0.2) await arrive(visitor);
      else if (visitor !== undefined && dice < 0.1) visitor.turnPause();
      else if (dice < 0.2) await visitor?.leave();
      await rest(below(20));
    }

    for (const visitor of visitors) {
      await visitor.leave();
      await arrive(visitor);
    }
    host.push({ kind: 'run', run: null });
    all.events += 1;
    host.push({ kind: 'changed', what: 'core', id: all.events });
    for (const visitor of visitors) {
      const { client } = visitor;
      await client?.until(() => (client.of('changed').at(-1)?.id === all.events ? true : null), 30_000);
      await visitor.leave();
    }
    await host.close();
    const faults = [...visitors.flatMap((visitor) => visitor.fault(all) ?? []), ...host.bugs];
    if (faults.length > 0) throw new Error(faults.slice(0, 3).join(' '));
    return `${all.visits} visits, ${all.events} events, ${all.readings} readings`;
  },
};
