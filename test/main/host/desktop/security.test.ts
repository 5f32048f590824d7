import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { desktopForTest, type DesktopForTest } from './desktop-for-test.ts';
import type { StandInContents, StandInWindow } from './stand-in-window.ts';
import { builtPreload, type StandInPage } from './stand-in-page.ts';

let desktop: DesktopForTest;
let window: StandInWindow;
let page: StandInPage;
let contents: StandInContents;

beforeEach(async () => {
  desktop = await desktopForTest();
  ({ window, page } = await desktop.open());
  contents = window.webContents;
});

afterEach(async () => {
  await desktop.close();
});

const rest = () => new Promise((resolve) => setTimeout(resolve, 20));

describe('the page of the window', () => {
  it.each([
    ['sandbox', true],
    ['contextIsolation', true],
    ['nodeIntegration', false],
    ['nodeIntegrationInWorker', false],
    ['nodeIntegrationInSubFrames', false],
    ['webSecurity', true],
    ['allowRunningInsecureContent', false],
    ['experimentalFeatures', false],
    ['webviewTag', false],
    ['navigateOnDragDrop', false],
  ] as const)('has %s %s', (setting, value) => {
    expect(window.options.webPreferences?.[setting]).toBe(value);
  });

  it('is sandboxed with every other page there might ever be', () => {
    expect(desktop.electron.app.isSandboxed).toBe(true);
  });

  it('has one preload script, the built one', () => {
    expect(window.options.webPreferences?.preload).toBe(builtPreload);
    expect(existsSync(builtPreload)).toBe(true);
  });

  it('comes from a scheme of its own that has an origin, and not from a file', () => {
    expect(desktop.electron.schemes).toEqual([{ scheme: 'turnwright', privileges: { standard: true, secure: true } }]);
    expect(contents.mainFrame).toEqual({ origin: 'turnwright://app', url: 'turnwright://app/' });
  });
});

describe('the scheme', () => {
  const ask = (url: string, method?: string) => desktop.electron.ask(url, method);

  it('serves the files of the page with their types', async () => {
    const index = await ask('turnwright://app/');
    expect(index.status).toBe(200);
    expect(index.headers.get('Content-Type')).toBe('text/html; charset=utf-8');
    expect(await index.text()).toContain('<title>Turnwright</title>');
    const script = await ask('turnwright://app/assets/index-Ab3_x-9Z.js?v=1');
    expect([script.status, script.headers.get('Content-Type')]).toEqual([200, 'text/javascript; charset=utf-8']);
  });

  it.each([
    'turnwright://app/../secret.txt',
    'turnwright://app/%2e%2e/secret.txt',
    'turnwright://app/..%2fsecret.txt',
    'turnwright://app/..%5csecret.txt',
    'turnwright://app/assets/../../secret.txt',
    'turnwright://app//etc/passwd',
    'turnwright://app/C:/Windows/win.ini',
    'turnwright://app/assets',
    'turnwright://app/secret.txt',
    'turnwright://app/__proto__',
    'turnwright://app/index.html%00.js',
  ])('finds nothing at %s', async (url) => {
    const answer = await ask(url);
    expect(answer.status).toBe(404);
    expect(await answer.text()).toBe('Nothing is there.\n');
  });

  it.each(['turnwright://other/', 'turnwright://app.example/', 'turnwright://app@other/', 'turnwright://app:80/'])(
    'answers for no other host: %s',
    async (url) => {
      expect((await ask(url)).status).toBe(403);
    },
  );

  it('takes nothing: only GET', async () => {
    for (const method of ['POST', 'PUT', 'DELETE', 'HEAD']) {
      expect((await ask('turnwright://app/', method)).status, method).toBe(405);
    }
  });

  it.each(['turnwright://app/', 'turnwright://app/not-there', 'turnwright://other/'])(
    'sends the content policy with every answer: %s',
    async (url) => {
      const { headers } = await ask(url);
      const policy = headers.get('Content-Security-Policy')?.split('; ') ?? [];
      expect(policy.sort()).toEqual([
        "base-uri 'none'",
        "connect-src 'none'",
        "default-src 'none'",
        "font-src 'self'",
        "form-action 'none'",
        "frame-ancestors 'none'",
        "img-src 'self'",
        "script-src 'self'",
        "style-src 'self'",
      ]);
      expect(headers.get('X-Content-Type-Options')).toBe('nosniff');
    },
  );
});

describe('the session denies', () => {
  it.each(['media', 'geolocation', 'serial', 'usb', 'hid', 'notifications', 'openExternal', 'fileSystem'])(
    'the permission %s, asked for or looked up',
    (permission) => {
      expect(desktop.electron.session.defaultSession.grantsRequest(permission)).toBe(false);
      expect(desktop.electron.session.defaultSession.grantsCheck(permission)).toBe(false);
    },
  );

  it('devices', () => {
    expect(desktop.electron.session.defaultSession.grantsDevice('serial')).toBe(false);
  });

  it('pictures of the screen', () => {
    expect(desktop.electron.session.defaultSession.grantsDisplay()).toBe(false);
  });

  it('downloads', () => {
    expect(desktop.electron.session.defaultSession.downloads()).toBe(false);
  });
});

describe('a page goes nowhere', () => {
  it.each([
    'https://example.org/',
    'file:///etc/passwd',
    'turnwright://other/',
    'turnwright://app/other.html',
    'turnwright://app.example/',
    'javascript:alert(1)',
    'about:blank',
  ])('by itself: %s', (url) => {
    expect(contents.navigates(url)).toBe(false);
  });

  it('but may load itself again, wherever it stands', () => {
    expect(contents.navigates('turnwright://app/')).toBe(true);
    expect(contents.navigates('turnwright://app/#/bench')).toBe(true);
  });

  it('by a redirect', () => {
    expect(contents.redirects('https://example.org/')).toBe(false);
  });

  it('with a frame in it', () => {
    expect(contents.navigates('turnwright://app/', false)).toBe(false);
  });

  it('in another window', () => {
    expect(contents.opensWindow('turnwright://app/')).toBe(false);
    expect(contents.opensWindow('https://example.org/')).toBe(false);
  });

  it('in a webview', () => {
    expect(contents.attachesWebview()).toBe(false);
  });

  it('and keeps its link to the program when it was stopped from going', async () => {
    const closed: string[] = [];
    page.bridge.open(
      () => undefined,
      () => closed.push('closed'),
    );
    await rest();
    contents.navigates('https://example.org/');
    await expect.poll(() => closed).toEqual(['closed']);
    const heard: string[] = [];
    const link = page.bridge.open(
      (text) => heard.push(text),
      () => undefined,
    );
    page.bridge.send(link, '{"kind":"hello","contract":1,"seen":null}');
    await expect.poll(() => heard.length).toBe(1);
  });
});

describe('a message is taken', () => {
  const hello = '{"kind":"hello","contract":1,"seen":null}';

  /** What comes back to the window's page when these are sent from a frame; null is a frame that is gone. */
  async function sentFrom(frame: object | null, from: StandInContents = contents): Promise<string[]> {
    const heard: string[] = [];
    from.page?.bridge.open(
      (text) => heard.push(text),
      () => undefined,
    );
    await rest();
    from.mainFor(frame).send('turnwright:contract', { kind: 'text', link: 1, text: hello });
    await rest();
    return heard;
  }
  const refusedPaper = { ok: false, failure: { code: 'bad-message' } };
  const printFrom = (frame: object | null, from: StandInContents = contents) =>
    from.mainFor(frame).invoke('turnwright:paper', { kind: 'print' });

  it('from the main frame of our page', async () => {
    expect(await sentFrom(contents.mainFrame)).toHaveLength(1);
    expect(await printFrom(contents.mainFrame)).toEqual({ ok: true, value: { kind: 'printed' } });
    expect(desktop.log).toEqual([]);
  });

  it('from no other frame, though it has our origin', async () => {
    const frame = { ...contents.mainFrame };
    expect(await sentFrom(frame)).toEqual([]);
    expect(await printFrom(frame)).toMatchObject(refusedPaper);
    expect(desktop.log).toEqual(['A message that does not come from our own page was turned away.']);
  });

  it('from no frame that is gone', async () => {
    expect(await sentFrom(null)).toEqual([]);
    expect(await printFrom(null)).toMatchObject(refusedPaper);
  });

  it.each(['turnwright://other', 'turnwright://app.example', 'https://app', 'file://', 'null', 'turnwright://app/'])(
    'from no other origin: %s',
    async (origin) => {
      page.bridge.open(
        () => undefined,
        () => undefined,
      );
      contents.mainFrame.origin = origin;
      expect(await sentFrom(contents.mainFrame)).toEqual([]);
      expect(await printFrom(contents.mainFrame)).toMatchObject(refusedPaper);
    },
  );

  it('from no page in a window that is not ours', async () => {
    const shell = desktop.electron.shell;
    const other = new shell.BrowserWindow({ webPreferences: { preload: builtPreload } }) as unknown as StandInWindow;
    await other.loadURL('turnwright://app/');
    expect(await sentFrom(other.webContents.mainFrame, other.webContents)).toEqual([]);
    expect(await printFrom(other.webContents.mainFrame, other.webContents)).toMatchObject(refusedPaper);
    other.destroy();
  });

  it('only when it fits the bridge', async () => {
    const main = contents.mainFor(contents.mainFrame);
    for (const message of ['tea', null, { kind: 'open' }, { kind: 'open', link: 0 }, { kind: 'text', link: 1 }]) {
      main.send('turnwright:contract', message);
    }
    await rest();
    expect(desktop.log).toHaveLength(5);
    expect(await main.invoke('turnwright:paper', { kind: 'shred' })).toMatchObject({ ok: false });
  });

  it('from sixteen links of a page and no more', async () => {
    const closed: number[] = [];
    for (let at = 1; at <= 17; at += 1) {
      page.bridge.open(
        () => undefined,
        () => closed.push(at),
      );
    }
    await expect.poll(() => closed).toEqual([17]);
  });
});

it('keeps nothing of its own outside its folder', () => {
  expect(desktop.electron.app.paths.get('userData')).toBe(join(desktop.folder, 'desktop'));
});
