import { EventEmitter } from 'node:events';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { done, type Outcome } from '../../../../src-shared/contract/failure.ts';
import type { Push } from '../../../../src-shared/contract/push.ts';
import { createApp } from '../../../../src-main/app.ts';
import { runDesktop, type RunningDesktop } from '../../../../src-main/host/desktop/run-desktop.ts';
import type { Deliver } from '../../../../src-main/export/delivery.ts';
import type { Carried } from '../../../../src-main/host/run-local.ts';
import type { Wire } from '../../../contract/client.ts';
import { StandInElectron, standInOf } from './stand-in-electron.ts';
import type { StandInWindow } from './stand-in-window.ts';
import { builtPreload, type StandInPage } from './stand-in-page.ts';

/** The desktop host on a stand-in for Electron, with the whole program on an empty folder behind it. */
export interface DesktopForTest {
  readonly electron: StandInElectron;
  /** Null when the start came to nothing. */
  readonly running: RunningDesktop | null;
  readonly folder: string;
  readonly log: string[];
  readonly told: string[];
  /** Where errors that nobody caught arrive. */
  readonly failing: EventEmitter;
  /** Time on the clock that counts crashes and errors. */
  readonly clock: { nowMs: number };
  push(push: Push): void;
  /** Opens a window and waits until its page is there. */
  open(): Promise<{ window: StandInWindow; page: StandInPage }>;
  close(): Promise<void>;
}

export interface DesktopSetUp {
  /** Instead of the whole program. */
  readonly create?: (deliver: Deliver) => Outcome<Carried>;
  readonly folder?: string;
  readonly platform?: string;
  readonly longestEndMs?: number;
  /** Instead of a small page: its files, or the folder of a built one. */
  readonly pages?: Readonly<Record<string, string>> | string;
  /** Changes the stand-in before anything starts. */
  readonly before?: (electron: StandInElectron) => void;
}

const usualPages = {
  'index.html': '<!doctype html><title>Turnwright</title>',
  'assets/index-Ab3_x-9Z.js': 'export {};',
};

const rest = () => new Promise((resolve) => setImmediate(resolve));

export async function desktopForTest(setUp: DesktopSetUp = {}): Promise<DesktopForTest> {
  const base = mkdtempSync(join(tmpdir(), 'turnwright-desktop-'));
  const folder = setUp.folder ?? join(base, 'data');
  const pages = typeof setUp.pages === 'string' ? setUp.pages : join(base, 'pages');
  if (typeof setUp.pages !== 'string') {
    mkdirSync(join(pages, 'assets'), { recursive: true });
    for (const [name, text] of Object.entries(setUp.pages ?? usualPages)) writeFileSync(join(pages, name), text);
  }
  writeFileSync(join(base, 'secret.txt'), 'not for the page');
  const electron = new StandInElectron();
  setUp.before?.(electron);
  const listeners = new Set<(push: Push) => void>();
  const log: string[] = [];
  const told: string[] = [];
  const failing = new EventEmitter();
  const clock = { nowMs: 0 };
  const note = (line: string) => log.push(line);

  const running = await runDesktop({
    shell: electron.shell,
    folder,
    create: (deliver) => {
      const app =
        setUp.create?.(deliver) ??
        createApp({ deliver, folder: join(folder), version: '0.0.0', warning: null, log: note });
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
    preload: builtPreload,
    log: note,
    checkReplies: true,
    nowMs: () => clock.nowMs,
    failing,
    longestEndMs: setUp.longestEndMs,
    platform: setUp.platform ?? 'linux',
    tell: (line) => told.push(line),
  });
  return {
    electron,
    running,
    folder,
    log,
    told,
    failing,
    clock,
    push(push) {
      for (const listener of listeners) listener(push);
    },
    async open() {
      if (running === null) throw new Error('The desktop did not start.');
      const window = standInOf(running.openWindow());
      while (window.webContents.page === null) await rest();
      return { window, page: window.webContents.page };
    },
    async close() {
      await running?.end();
      rmSync(base, { recursive: true, force: true });
    },
  };
}

/** A link of a page, opened through its bridge, as a test client speaks over it. */
export function bridgeWire(page: StandInPage): Wire {
  const early: string[] = [];
  let hear: (text: string) => void = (text) => early.push(text);
  let ended: () => void = () => undefined;
  const isClosed = new Promise<void>((resolve) => {
    ended = resolve;
  });
  const link = page.bridge.open(
    (text) => {
      hear(text);
    },
    () => {
      ended();
    },
  );
  return {
    send(text) {
      page.bridge.send(link, text);
    },
    listen(listener) {
      hear = listener;
      for (const text of early) listener(text);
    },
    pause() {
      page.pause();
    },
    resume() {
      page.resume();
    },
    close() {
      page.resume();
      page.bridge.close(link);
      return isClosed;
    },
  };
}
