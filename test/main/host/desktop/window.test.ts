import type { BrowserWindow } from 'electron';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Push } from '../../../../src-shared/contract/push.ts';
import type { Run } from '../../../../src-shared/record/run.ts';
import { readPlace } from '../../../../src-main/host/desktop/kept-place.ts';
import { done, failed } from '../../../../src-shared/contract/failure.ts';
import { Client } from '../../../contract/client.ts';
import { emptyServices } from '../../../contract/stand-in.ts';
import { guardStates } from '../../../renderer/guard-states.ts';
import { bridgeWire, desktopForTest, type DesktopForTest } from './desktop-for-test.ts';
import { standInOf } from './stand-in-electron.ts';
import type { StandInWindow } from './stand-in-window.ts';

let desktop: DesktopForTest;
let window: StandInWindow;

const guardIs = (kind: keyof typeof guardStates): Push => ({
  kind: 'guard',
  guard: { nowMs: 0, state: guardStates[kind] },
});
const aRun: Run = {
  runId: 1,
  sessionId: 1,
  buildId: 1,
  procedure: 'test-coil',
  channels: [],
  startedWallMs: 0,
  startedMonoMs: 0,
  endedWallMs: null,
  ending: 'running',
  practice: false,
};
const runIs = (run: Run | null): Push => ({ kind: 'run', run });
const rest = () => new Promise((resolve) => setTimeout(resolve, 20));

beforeEach(async () => {
  desktop = await desktopForTest();
  ({ window } = await desktop.open());
  await rest();
});

afterEach(async () => {
  await desktop.close();
});

describe('the window', () => {
  it('shows when its page is drawn, and whoever started the program is told', () => {
    expect(window.options.show).toBe(false);
    expect(window.isShown).toBe(true);
    expect(desktop.told).toEqual(['Turnwright is in its window.']);
  });

  it.each([
    ['says that its page cannot be loaded, and the program ends with it', false, [0]],
    ['stays when its page crashed while it was loading, and is loaded again', true, []],
  ])('%s', async (_what, isReloading, exits) => {
    const broken = await desktopForTest({ pages: {} });
    const opened = standInOf(broken.running?.openWindow() as BrowserWindow);
    opened.webContents.isReloading = isReloading;
    await rest();
    expect(broken.log).toEqual([expect.stringContaining('The page could not be loaded')]);
    expect(broken.electron.errorBoxes).toHaveLength(isReloading ? 0 : 1);
    expect(broken.electron.app.exits).toEqual(exits);
    await broken.close();
  });

  it('comes back where it was, and as large', async () => {
    window.bounds = { x: 40, y: 50, width: 1200, height: 760 };
    window.isMax = true;
    window.close();
    expect(readPlace(join(desktop.folder, 'desktop', 'window.json'))).toMatchObject({ x: 40, maximised: true });
    const { window: next } = await desktop.open();
    expect(next.options).toMatchObject({ x: 40, y: 50, width: 1200, height: 760 });
    expect(next.isMax).toBe(true);
  });

  it('closes without a question when nothing speaks against it, and the program ends with it', async () => {
    window.close();
    await expect.poll(() => desktop.electron.app.exits).toEqual([0]);
    expect(desktop.electron.questions).toEqual([]);
  });

  it('ends the program also when what is behind it does not come to its end, and the log says so', async () => {
    const stuck = await desktopForTest({
      longestEndMs: 20,
      create: () =>
        done({
          services: emptyServices,
          subscribe: () => () => undefined,
          close: () => new Promise(() => undefined),
        }),
    });
    (await stuck.open()).window.close();
    await expect.poll(() => stuck.electron.app.exits).toEqual([1]);
    expect(stuck.log.at(-1)).toBe('The program ends without having come to its end: Error: It took too long to end.');
    await expect(stuck.close()).rejects.toThrow('too long');
  });

  it.each(['live', 'tripped'] as const)('asks before it closes while the guard is %s', async (kind) => {
    desktop.push(guardIs(kind));
    window.close();
    window.close();
    await rest();
    expect(desktop.electron.questions).toHaveLength(1);
    expect(desktop.electron.questions[0]).toMatchObject({
      message: 'Power is declared on.',
      buttons: ['Stay', 'Close all the same'],
      defaultId: 0,
      cancelId: 0,
    });
    expect(desktop.electron.questions[0]?.detail).toContain('It switches nothing off.');
    expect(window.isDestroyed()).toBe(false);
    desktop.electron.answers = [1];
    window.close();
    await rest();
    expect(window.isDestroyed()).toBe(true);
    await expect.poll(() => desktop.electron.app.exits).toEqual([0]);
  });

  it('asks when the whole program is to quit, too', async () => {
    desktop.push(guardIs('live'));
    desktop.electron.app.quit();
    await rest();
    expect(desktop.electron.questions).toHaveLength(1);
    expect(desktop.electron.app.exits).toEqual([]);
  });

  it('asks no more once power is declared off', async () => {
    desktop.push(guardIs('live'));
    desktop.push(guardIs('proving'));
    window.close();
    await expect.poll(() => desktop.electron.app.exits).toEqual([0]);
    expect(desktop.electron.questions).toEqual([]);
  });

  it('asks while a run records', async () => {
    desktop.push(runIs(aRun));
    window.close();
    await rest();
    expect(desktop.electron.questions[0]?.message).toBe('A run is being recorded.');
    desktop.push(runIs(null));
    window.close();
    expect(window.isDestroyed()).toBe(true);
  });

  it('is brought to the front when the program is started a second time', () => {
    window.isShown = false;
    window.isMin = true;
    desktop.electron.app.emit('second-instance');
    expect(window).toMatchObject({ isShown: true, isMin: false, isFocused: true });
  });
});

it('keeps computer and screen awake while a run records, and only then', () => {
  const { awake } = desktop.electron;
  expect([...awake.values()]).toEqual([]);
  desktop.push(runIs(aRun));
  desktop.push(runIs(aRun));
  desktop.push(guardIs('live'));
  expect([...awake.values()]).toEqual(['prevent-display-sleep']);
  desktop.push(runIs(null));
  expect([...awake.values()]).toEqual([]);
});

describe('a page that crashes', () => {
  it('is loaded again, and is shown the guard as the program has it', async () => {
    const present = async () => {
      const page = window.webContents.page;
      if (page === null) throw new Error('There is no page.');
      const client = new Client(bridgeWire(page));
      const welcome = await client.hello();
      return { welcome, value: await client.value('app.present', {}) };
    };
    const before = await present();
    window.webContents.crash();
    await expect.poll(() => window.webContents.reloads).toBe(1);
    await rest();
    const after = await present();
    expect(after.welcome.life).toBe(before.welcome.life);
    expect(after.value).toMatchObject({ guard: { state: { kind: 'unproved', revision: 0 } } });
    expect(desktop.log).toEqual(['The page ended by itself (crashed, 5).']);
  });

  it('is not loaded for ever: from the fourth time within a minute the person is asked', async () => {
    for (let at = 0; at < 4; at += 1) {
      window.webContents.crash();
      await rest();
    }
    expect(window.webContents.reloads).toBe(4);
    expect(desktop.electron.questions.map(({ message }) => message)).toEqual(['The page crashes again and again.']);
    desktop.clock.nowMs = 61_000;
    window.webContents.crash();
    await rest();
    expect(desktop.electron.questions).toHaveLength(1);
  });

  it('is not loaded again when it ended because the window closed', async () => {
    window.webContents.crash('clean-exit');
    await rest();
    expect(window.webContents.reloads).toBe(0);
  });

  it('is ended and loaded again when it does not answer and the person says so', async () => {
    desktop.electron.answers = [1];
    window.emit('unresponsive');
    await rest();
    expect(window.webContents.reloads).toBe(0);
    window.emit('unresponsive');
    await expect.poll(() => window.webContents.reloads).toBe(1);
  });
});

describe('the menu', () => {
  const items = () => desktop.electron.menu.flatMap(({ submenu }) => (Array.isArray(submenu) ? submenu : []));
  const click = (label: string) => {
    const item = items().find((each) => each.label === label);
    (item?.click as (() => void) | undefined)?.();
  };

  it('holds what works here and nothing else', () => {
    const named = items().flatMap(({ type, label, role }) => (type === 'separator' ? [] : [label ?? role]));
    expect(named).toEqual([
      '&Print...',
      'Save page as P&DF...',
      'Show &data folder',
      'quit',
      'undo',
      'redo',
      'cut',
      'copy',
      'paste',
      'selectAll',
      'Power is &off',
      'reload',
      'zoomIn',
      'zoomOut',
      'resetZoom',
      'togglefullscreen',
    ]);
  });

  it('begins with the program’s own menu on macOS, where a window is closed and the program quits there', async () => {
    const onMac = await desktopForTest({ platform: 'darwin' });
    expect(onMac.electron.menu[0]).toEqual({ role: 'appMenu' });
    expect(JSON.stringify(onMac.electron.menu[1])).toContain('"role":"close"');
    await onMac.close();
  });

  it('does what it says', async () => {
    click('Show &data folder');
    expect(desktop.electron.opened).toEqual([desktop.folder]);
    click('Save page as P&DF...');
    await rest();
    expect(desktop.electron.saveOffered.defaultPath).toBe('Turnwright.pdf');
    window.webContents.printed = 'Print job failed';
    click('&Print...');
    await rest();
    expect(desktop.electron.errorBoxes).toEqual([
      ['Turnwright', 'The page could not be printed: Print job failed. Nothing was changed.'],
    ]);
  });
});

describe('a start that comes to nothing', () => {
  it('raises the window of the copy that has the record, and ends without touching it', async () => {
    let created = 0;
    const second = await desktopForTest({
      before: (electron) => {
        electron.app.isOnly = false;
      },
      create: () => {
        created += 1;
        return failed('store-held', 'Held.');
      },
    });
    expect(second.running).toBeNull();
    expect(second.told).toEqual(['Turnwright is open already; its window is in front now.']);
    expect(second.electron.app.exits).toEqual([0]);
    expect(created).toBe(0);
    await second.close();
  });

  it('says why, to the person and to whoever started it', async () => {
    const refused = await desktopForTest({ create: () => failed('store-newer', 'The record is of a newer program.') });
    expect(refused.running).toBeNull();
    expect(refused.told).toEqual(['Turnwright cannot start: The record is of a newer program.']);
    expect(refused.electron.errorBoxes).toEqual([['Turnwright cannot start', 'The record is of a newer program.']]);
    expect(refused.electron.app.exits).toEqual([1]);
    await refused.close();
  });

  it('knows how the bench stands when the program begins on one that is live', async () => {
    const live = await desktopForTest({
      create: () =>
        done({
          services: {
            ...emptyServices,
            'app.present': () => done({ guard: { nowMs: 0, state: guardStates.live }, run: null } as never),
          },
          subscribe: () => () => undefined,
          close: () => Promise.resolve(),
        }),
    });
    const { window: other } = await live.open();
    await rest();
    other.close();
    await rest();
    expect(live.electron.questions).toHaveLength(1);
    await live.close();
  });
});
