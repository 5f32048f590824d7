import { randomUUID } from 'node:crypto';
import { homedir } from 'node:os';
import { resolve } from 'node:path';
import { done, type Outcome } from '../../src-shared/contract/failure.ts';
import { requests } from '../../src-shared/contract/request.ts';
import { systemClock } from '../bench/clock.ts';
import { createContractServer } from './contract-server.ts';
import type { Deliver } from '../export/delivery.ts';
import { createDownloads } from './downloads.ts';
import { usualDataFolder } from './data-folder.ts';
import { startLocalHost, type LocalHost } from './local-host.ts';
import type { Services, Subscribe } from './service.ts';
import type { StartOptions } from './start-options.ts';
import { usualPort } from './usual-port.ts';

/** What a host carries, and ends when it ends. */
export interface Carried {
  readonly services: Services;
  readonly subscribe: Subscribe;
  close(): Promise<void>;
}

export interface RunLocalOptions<C extends Carried> {
  readonly chosen: Pick<StartOptions, 'port' | 'folder'>;
  /** Wires the program on a folder; fails when another copy holds it, among other things. `deliver` is this host's. */
  readonly create: (folder: string, deliver: Deliver) => Outcome<C>;
  readonly pages: string;
  readonly log: (line: string) => void;
  readonly checkReplies: boolean;
}

export interface Running {
  readonly url: LocalHost['url'];
  /** Ends the connections first, then the program behind them. */
  close(): Promise<void>;
}

/** The program on the local host, answering; or why it cannot be had. */
export async function runLocal<C extends Carried>(options: RunLocalOptions<C>): Promise<Outcome<Running>> {
  const { chosen, log, checkReplies } = options;
  const folder = resolve(chosen.folder ?? usualDataFolder(process.platform, process.env, homedir()));
  const later = (ms: number, act: () => void) => systemClock.after(ms, act);
  const downloads = createDownloads(later);
  const created = options.create(folder, (file) => downloads.offer(file));
  if (!created.ok) return created;
  const app = created.value;
  const contract = createContractServer({
    table: requests,
    services: app.services,
    subscribe: app.subscribe,
    life: randomUUID(),
    later,
    log,
    checkReplies,
  });
  const host = await startLocalHost({
    contract,
    downloads,
    pages: options.pages,
    port: chosen.port ?? usualPort(folder),
    orAnother: chosen.port === null,
  });
  if (!host.ok) {
    contract.close();
    await app.close();
    return host;
  }
  return done({
    url: host.value.url,
    async close() {
      await host.value.close();
      await app.close();
    },
  });
}
