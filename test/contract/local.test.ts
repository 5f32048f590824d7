import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { done } from '../../src-shared/contract/failure.ts';
import type { Push } from '../../src-shared/contract/push.ts';
import { runLocal, type Running } from '../../src-main/host/run-local.ts';
import { partsOf, socketWire } from './socket-wire.ts';
import { emptyServices } from './stand-in.ts';
import { contractSuite, type Wiring } from './suite.ts';

async function openLocal(): Promise<Wiring> {
  const folder = mkdtempSync(join(tmpdir(), 'turnwright-contract-'));
  writeFileSync(join(folder, 'index.html'), '<!doctype html>');
  const listeners = new Set<(push: Push) => void>();
  const log: string[] = [];
  async function start(): Promise<Running> {
    const running = await runLocal({
      chosen: { opensBrowser: false, port: 0, folder },
      create: () =>
        done({
          services: emptyServices,
          subscribe(listener: (push: Push) => void) {
            listeners.add(listener);
            return () => {
              listeners.delete(listener);
            };
          },
          close: () => Promise.resolve(),
        }),
      pages: folder,
      log: (line) => log.push(line),
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
    bugs: () => log,
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
