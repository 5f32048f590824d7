import { readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { desktopForTest, type DesktopForTest } from '../main/host/desktop/desktop-for-test.ts';
import type { StandInContents } from '../main/host/desktop/stand-in-window.ts';
import { builtPreload, type StandInPage } from '../main/host/desktop/stand-in-page.ts';
import { openBrowser, patienceMs } from './browser.ts';
import { Person } from './person.ts';

/** Where the browser takes the scheme's answers to come from: it knows no scheme of ours. */
const origin = 'https://app.turnwright.test';

/** Runs the built preload script in the page itself, with messages that leave and arrive through the test. */
const preloadInPage = `
  (() => {
    const hearers = new Map();
    window.arrive = (channel, message) => hearers.get(channel)?.({}, message);
    const electron = {
      contextBridge: { exposeInMainWorld: (name, api) => { window[name] = Object.freeze(api); } },
      ipcRenderer: {
        on: (channel, hear) => hearers.set(channel, hear),
        send: (channel, message) => void window.leave(channel, message),
        invoke: (channel, message) => window.leave(channel, message, true),
      },
    };
    ((require, module, exports) => { ${readFileSync(builtPreload, 'utf8')} })(() => electron, {}, {});
  })();
`;

let browser: Browser;
let context: BrowserContext;
let page: Page;
let desktop: DesktopForTest;
let contents: StandInContents;
let errors: string[];
let person: Person;

beforeAll(async () => {
  browser = await openBrowser();
});
afterAll(() => browser.close());

beforeEach(async () => {
  desktop = await desktopForTest({ pages: resolve(import.meta.dirname, '../../out/renderer') });
  contents = (await desktop.open()).window.webContents;
  context = await browser.newContext({ viewport: { width: 1280, height: 800 }, reducedMotion: 'reduce' });
  page = await context.newPage();
  page.setDefaultTimeout(patienceMs);
  errors = [];
  page.on('console', (message) => {
    if (message.type() === 'error') errors.push(message.text());
  });
  page.on('pageerror', (error) => errors.push(error.message));

  // The browser's page takes the place of the window's: what main sends goes there, what it sends is from our frame.
  const inBrowser = {
    leave: () => undefined,
    take: (channel: string, message: unknown) => {
      const act = ([on, what]: [string, unknown]) => {
        (window as unknown as { arrive: (channel: string, message: unknown) => void }).arrive(on, what);
      };
      // A page that is just being loaded again hears nothing.
      page.evaluate(act, [channel, message] as [string, unknown]).catch(() => undefined);
    },
  };
  contents.page = inBrowser as unknown as StandInPage;
  contents.reload = () => {
    void page.reload();
  };
  await page.exposeFunction('leave', (channel: string, message: unknown, isAsked?: boolean) => {
    const main = contents.mainFor(contents.mainFrame);
    if (isAsked === true) return main.invoke(channel, message);
    main.send(channel, message);
    return undefined;
  });
  await page.addInitScript(preloadInPage);
  await page.route(`${origin}/**`, async (route) => {
    const answer = await desktop.electron.ask(`turnwright://app${route.request().url().slice(origin.length)}`);
    await route.fulfill({
      status: answer.status,
      headers: Object.fromEntries(answer.headers),
      body: Buffer.from(await answer.arrayBuffer()),
    });
  });
  await page.goto(`${origin}/`);
  person = new Person(page);
});

afterEach(async () => {
  await context.close();
  const { log } = desktop;
  await desktop.close();
  expect({ errors, log }).toEqual({ errors: [], log: [] });
});

describe('the built page, as the desktop window shows it', () => {
  it('needs no key, works under the policy of its scheme, and keeps what is saved', async () => {
    await person.arrive('Rowan');
    await person.addCore('Dimmer core A');
    expect(await person.state()).toBe('Unproved');
    await page.reload();
    await page.getByRole('heading', { level: 1, name: 'Dimmer core A' }).waitFor();
  });

  it('connects to nothing else: the policy stops it', async () => {
    await person.arrive('Rowan');
    const reached = await page.evaluate(() =>
      fetch('/index.html').then(
        () => 'reached',
        () => 'stopped',
      ),
    );
    expect(reached).toBe('stopped');
    expect(errors.splice(0).join()).toContain("connect-src 'none'");
  });

  it('is shown the guard again by the program after it crashed', async () => {
    await person.arrive('Rowan');
    await person.addCore('Dimmer core A');
    const loaded = page.waitForEvent('load');
    contents.emit('render-process-gone', {}, { reason: 'killed', exitCode: 9 });
    await loaded;
    await page.getByRole('heading', { level: 1, name: 'Dimmer core A' }).waitFor();
    expect(await person.state()).toBe('Unproved');
    expect(desktop.log.splice(0)).toEqual(['The page ended by itself (killed, 9).']);
  });

  it('can be saved as a PDF through its bridge', async () => {
    desktop.electron.saveTo = { canceled: false, filePath: join(desktop.folder, 'sheet.pdf') };
    const saved = await page.evaluate(() => window.turnwright?.savePdf('Build sheet'));
    expect(saved).toEqual({ ok: true, value: { kind: 'saved', file: join(desktop.folder, 'sheet.pdf') } });
  });
});
