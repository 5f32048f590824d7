import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { done } from '../../src-shared/contract/failure.ts';
import type { Push } from '../../src-shared/contract/push.ts';
import { createApp } from '../../src-main/app.ts';
import { runLocal, type Running } from '../../src-main/host/run-local.ts';
import { partsOf, socketWire } from './socket-wire.ts';
import { contractSuite, type Wiring } from './suite.ts';

/** The whole program on an empty folder behind the local host; `push` speaks beside it. */
async function openLocal(): Promise<Wiring> {
  const folder = mkdtempSync(join(tmpdir(), 'turnwright-contract-'));
  const pages = join(folder, 'pages');
  mkdirSync(pages);
  writeFileSync(join(pages, 'index.html'), '<!doctype html>');
  const listeners = new Set<(push: Push) => void>();
  const bugs: string[] = [];
  const log = (line: string) => bugs.push(line);

  async function start(): Promise<Running> {
    const running = await runLocal({
      chosen: { port: 0, folder: join(folder, 'data') },
      create: (data) => {
        const app = createApp({ folder: data, version: '0.0.0', warning: null, log });
        if (!app.ok) return app;
        const { services, subscribe } = app.value;
        return done({
          services,
          subscribe: (listener: (push: Push) => void) => {
            const leave = subscribe(listener);
            listeners.add(listener);
            return () => {
              leave();
              listeners.delete(listener);
            };
          },
          close: () => app.value.close(),
        });
      },
      pages,
      log,
      checkReplies: true,
    });
    if (!running.ok) throw new Error(running.failure.message);
    return running.value;
  }

  let running = await start();
  return {
    connect: () => socketWire(partsOf(running.url)),
    push(push) {
      for (const listener of listeners) listener(push);
    },
    bugs: () => bugs,
    async restart() {
      await running.close();
      running = await start();
    },
    async close() {
      await running.close();
      rmSync(folder, { recursive: true });
    },
  };
}

contractSuite('local host', openLocal);
