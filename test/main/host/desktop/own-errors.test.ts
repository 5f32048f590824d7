import { EventEmitter } from 'node:events';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { catchOwnErrors } from '../../../../src-main/host/desktop/own-errors.ts';
import { Program } from '../../../../src-main/host/desktop/program.ts';
import { openStore } from '../../../../src-main/store/open-store.ts';
import { done, failed } from '../../../../src-shared/contract/failure.ts';
import { Client } from '../../../contract/client.ts';
import { emptyServices } from '../../../contract/stand-in.ts';
import { goLiveOn, type LiveBench } from '../../../live-bench.ts';
import { typed } from '../../../walk.ts';
import { bridgeWire, desktopForTest, type DesktopForTest } from './desktop-for-test.ts';
import type { StandInPage } from './stand-in-page.ts';

const rest = () => new Promise((resolve) => setTimeout(resolve, 10));

describe('with power on', () => {
  let desktop: DesktopForTest;
  let bench: LiveBench;

  let client: Client;
  let page: StandInPage;

  beforeEach(async () => {
    desktop = await desktopForTest();
    ({ page } = await desktop.open());
    client = new Client(bridgeWire(page));
    await client.hello();
    bench = await goLiveOn({ client, ask: typed((name, input) => client.value(name, input)) });
    expect(await client.value('app.present', {})).toMatchObject({ guard: { state: { kind: 'live' } } });
  });

  afterEach(async () => {
    await bench.close();
    await desktop.close();
  });

  it('power is declared off from the menu, also while the page does not answer', async () => {
    page.pause();
    const items = desktop.electron.menu.flatMap(({ submenu }) => (Array.isArray(submenu) ? submenu : []));
    const item = items.find(({ accelerator }) => accelerator === 'F8');
    (item?.click as (() => void) | undefined)?.();
    page.resume();
    await client.until(() => client.of('guard').find(({ guard }) => guard.state.kind === 'proving'));
    expect(desktop.electron.errorBoxes).toEqual([]);
  });

  it('an error of its own lands in the log, and in the record with the guard unproved; the page comes back to it', async () => {
    const before = client.seen;
    desktop.failing.emit('uncaughtException', new Error('planted'));
    await expect.poll(() => desktop.log.at(-1)).toContain('began again from its record');
    expect(desktop.log[0]).toMatch(/An error that nobody caught: Error: planted\n +at .*own-errors\.test\.ts/);

    const again = new Client(bridgeWire(page));
    const welcome = await again.hello(client.seen);
    expect(welcome.afresh).toBe(true);
    expect(welcome.life).not.toBe(before.life);
    expect(await again.value('app.present', {})).toMatchObject({
      guard: {
        state: {
          kind: 'unproved',
          why: { code: 'restarted', was: 'live' },
          alarms: [{ code: 'restarted-while-live' }],
        },
      },
      session: { fields: { who: 'Rowan' } },
      run: null,
    });
    const runOf = await again.value('run.get', { runId: bench.runId });
    expect(runOf).toMatchObject({ run: { ending: 'interrupted' } });

    await desktop.running?.end();
    const store = openStore(desktop.folder, { wallNow: () => 0, programVersion: '0.0.0' });
    if (!store.ok) throw new Error(store.failure.message);
    expect(store.value.opening.lastGuard?.body).toMatchObject({ kind: 'unproved', why: { code: 'restarted' } });
    store.value.close();
  });
});

describe('errors that nobody caught', () => {
  function caught(beginAgain: () => Promise<void> = () => Promise.resolve()) {
    const failing = new EventEmitter();
    const log: string[] = [];
    const did: string[] = [];
    const clock = { nowMs: 0 };
    catchOwnErrors(failing, {
      log: (line) => log.push(line),
      nowMs: () => clock.nowMs,
      beginAgain: () => {
        did.push('begin again');
        return beginAgain();
      },
      giveUp: (sentence) => did.push(sentence),
    });
    return { failing, log, did, clock };
  }

  it('make the program begin again, whether thrown or rejected', async () => {
    const { failing, log, did } = caught();
    failing.emit('uncaughtException', new Error('one'));
    await rest();
    failing.emit('unhandledRejection', 'two');
    await rest();
    expect(did).toEqual(['begin again', 'begin again']);
    expect(log.filter((line) => line.startsWith('An error that nobody caught'))).toHaveLength(2);
  });

  it('make it begin again once when they come together', async () => {
    const { failing, did } = caught(rest as () => Promise<void>);
    failing.emit('uncaughtException', new Error('one'));
    failing.emit('uncaughtException', new Error('two'));
    await rest();
    expect(did).toEqual(['begin again']);
  });

  it('end it at the fourth within a minute, once', async () => {
    const { failing, did, clock } = caught();
    for (const nowMs of [0, 61_000, 62_000, 63_000, 64_000, 65_000]) {
      clock.nowMs = nowMs;
      failing.emit('uncaughtException', new Error('again'));
      await rest();
    }
    expect(did.slice(0, 4)).toEqual(Array(4).fill('begin again'));
    expect(did.slice(4)).toEqual([expect.stringContaining('Treat everything as live.')]);
  });

  it('end it when it cannot begin again', async () => {
    const { failing, did } = caught(() => Promise.reject(new Error('held')));
    failing.emit('uncaughtException', new Error('one'));
    await rest();
    expect(did).toEqual([
      'begin again',
      expect.stringMatching(/could not begin again \(Error: held[^]*Treat everything/),
    ]);
  });
});

describe('the program behind the windows', () => {
  const options = { log: (line: string) => expect.fail(line), checkReplies: true, onBegun: () => () => undefined };
  const carried = (close: () => Promise<void>) =>
    done({ services: emptyServices, subscribe: () => () => undefined, close });

  it('rejects when it cannot begin again', async () => {
    let starts = 0;
    const program = new Program({
      ...options,
      create: () => ((starts += 1) === 1 ? carried(() => Promise.resolve()) : failed('store-held', 'Held.')),
    });
    expect(program.begin().ok).toBe(true);
    await expect(program.beginAgain()).rejects.toThrow('Held.');
    expect(program.accept({ send: () => undefined, close: () => undefined, bufferedAmount: 0 })).toBeNull();
  });

  it('ends once, however often it is told to, and not before it has ended', async () => {
    const closed = Promise.withResolvers<undefined>();
    let closes = 0;
    const program = new Program({
      ...options,
      create: () =>
        carried(() => {
          closes += 1;
          return closed.promise;
        }),
    });
    program.begin();
    let ends = 0;
    const both = [program.end(), program.end()].map((end) => end.then(() => (ends += 1)));
    await rest();
    expect(ends).toBe(0);
    closed.resolve(undefined);
    await Promise.all(both);
    expect(closes).toBe(1);
  });

  it('rejects when it does not come to an end', async () => {
    const program = new Program({
      ...options,
      longestEndMs: 20,
      create: () => carried(() => new Promise(() => undefined)),
    });
    program.begin();
    await expect(program.beginAgain()).rejects.toThrow('too long');
  });
});
