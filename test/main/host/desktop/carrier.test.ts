import { EventEmitter } from 'node:events';
import { beforeEach, describe, expect, it } from 'vitest';
import type { IpcMain, WebContents } from 'electron';
import { carryOverMessages, type Carrier } from '../../../../src-main/host/desktop/carrier.ts';
import type { Connection } from '../../../../src-main/host/connection.ts';

const frame = { origin: 'turnwright://app' };

/** A page whose messages are sent by hand; what it is told is kept. */
class HandPage extends EventEmitter {
  readonly mainFrame = frame;
  readonly told: unknown[] = [];
  isGone = false;

  send(_channel: string, message: unknown) {
    if (this.isGone) throw new Error('Object has been destroyed');
    this.told.push(message);
  }

  isDestroyed() {
    return this.isGone;
  }
}

let ipcMain: EventEmitter;
let page: HandPage;
let carrier: Carrier;
let connections: Connection[];
let did: string[];
let isThere: boolean;

beforeEach(() => {
  ipcMain = new EventEmitter();
  page = new HandPage();
  connections = [];
  did = [];
  isThere = true;
  carrier = carryOverMessages({
    ipcMain: ipcMain as unknown as IpcMain,
    isOurs: (contents) => contents === (page as unknown as WebContents),
    accept: (connection) => {
      if (!isThere) return null;
      const number = connections.push(connection);
      return {
        message: (text) => did.push(`${number} hears ${text}`),
        closed: () => did.push(`${number} closed`),
      };
    },
    log: (line) => expect.fail(line),
  });
});

const say = (message: object) => {
  ipcMain.emit('turnwright:contract', { sender: page, senderFrame: frame }, message);
};
const open = (link = 1) => {
  say({ kind: 'open', link });
};

describe('a link of a page', () => {
  it('carries text both ways, each link its own', () => {
    open(1);
    open(2);
    say({ kind: 'text', link: 2, text: 'tea' });
    connections[0]?.send('one');
    connections[1]?.send('two');
    say({ kind: 'text', link: 3, text: 'nobody' });
    expect(did).toEqual(['2 hears tea']);
    expect(page.told).toEqual([
      { kind: 'text', link: 1, text: 'one' },
      { kind: 'text', link: 2, text: 'two' },
    ]);
  });

  it('counts as buffered what the page has not taken in, whatever the page claims', () => {
    open();
    connections[0]?.send('12345');
    connections[0]?.send('12345');
    expect(connections[0]?.bufferedAmount).toBe(10);
    for (const [characters, buffered] of [
      [5, 5],
      [2, 5],
      [1000, 0],
    ] as const) {
      say({ kind: 'taken', link: 1, characters });
      expect(connections[0]?.bufferedAmount).toBe(buffered);
    }
    connections[0]?.send('123');
    expect(connections[0]?.bufferedAmount).toBe(3);
  });

  it.each([
    [
      'the page closes it',
      () => {
        say({ kind: 'close', link: 1 });
      },
    ],
    [
      'the program closes it',
      () => {
        connections[0]?.close('slow');
      },
    ],
    [
      'the program begins again',
      () => {
        carrier.endAll();
      },
    ],
    [
      'the page sets out for somewhere',
      () => page.emit('did-start-navigation', { isMainFrame: true, isSameDocument: false }),
    ],
  ])('ends when %s, and the page is told', (_what, end) => {
    open();
    end();
    expect(did).toEqual(['1 closed']);
    expect(page.told).toEqual([{ kind: 'closed', link: 1 }]);
    connections[0]?.send('too late');
    connections[0]?.close('again');
    expect(page.told).toHaveLength(1);
    expect(connections[0]?.bufferedAmount).toBe(0);
  });

  it.each([
    ['crashes', () => page.emit('render-process-gone')],
    [
      'is closed',
      () => {
        page.isGone = true;
        page.emit('destroyed');
      },
    ],
  ])('ends when the page %s, and nothing more is sent to it', (_what, end) => {
    open();
    end();
    connections[0]?.send('too late');
    carrier.endAll();
    expect(did).toEqual(['1 closed']);
    expect(page.told).toEqual([]);
  });

  it.each([
    ['within its page', { isMainFrame: true, isSameDocument: true }],
    ['in a frame', { isMainFrame: false, isSameDocument: false }],
  ])('stays when something only goes %s', (_what, details) => {
    open();
    page.emit('did-start-navigation', details);
    expect(did).toEqual([]);
  });

  it('is opened anew under its number by a page that was loaded again', () => {
    open();
    open();
    connections[0]?.send('old');
    connections[1]?.send('new');
    expect(did).toEqual(['1 closed']);
    expect(page.told).toEqual([
      { kind: 'closed', link: 1 },
      { kind: 'text', link: 1, text: 'new' },
    ]);
  });

  it('is told closed at once while there is no program behind it', () => {
    isThere = false;
    open();
    expect(page.told).toEqual([{ kind: 'closed', link: 1 }]);
  });
});
