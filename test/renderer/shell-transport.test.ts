import { describe, expect, test } from 'vitest';
import { Connection } from '../../src-renderer/state/connection.svelte.ts';
import { shellTransport } from '../../src-renderer/state/shell-transport.ts';
import type { Listener } from '../../src-renderer/state/transport.ts';

/** The bridge of a desktop window with nobody behind it; what the page did is kept. */
function fakeBridge() {
  const links: { heard: (text: string) => void; closed: () => void }[] = [];
  const did: string[] = [];
  return {
    links,
    did,
    bridge: {
      open: (heard: (text: string) => void, closed: () => void) => links.push({ heard, closed }),
      send: (link: number, text: string) => void did.push(`send ${link} ${text}`),
      close: (link: number) => void did.push(`close ${link}`),
    },
  };
}

function listening() {
  const told: unknown[] = [];
  const listener: Listener = {
    opened: () => told.push('opened'),
    heard: (message) => told.push(message),
    closed: () => told.push('closed'),
  };
  return { told, listener };
}

describe('the link over the bridge of the desktop window', () => {
  test('is told open after it was handed back, hears objects, sends text, and closes', async () => {
    const { bridge, links, did } = fakeBridge();
    const { told, listener } = listening();
    const link = shellTransport(bridge)(listener);
    expect(told).toEqual([]);
    await Promise.resolve();
    links[0]?.heard('{"kind":"welcome"}');
    links[0]?.heard('tea');
    link.send({ kind: 'request', id: 1, name: 'core.list', input: {} });
    link.close();
    links[0]?.closed();
    link.send({ kind: 'request', id: 2, name: 'core.list', input: {} });
    expect(told).toEqual(['opened', { kind: 'welcome' }, undefined, 'closed']);
    expect(did).toEqual(['send 1 {"kind":"request","id":1,"name":"core.list","input":{}}', 'close 1']);
  });

  test('is not told open once it is closed', async () => {
    const { bridge, links } = fakeBridge();
    const { told, listener } = listening();
    shellTransport(bridge)(listener);
    links[0]?.closed();
    await Promise.resolve();
    expect(told).toEqual(['closed']);
  });

  test('carries the hello of a connection, and the next one after a loss with what was seen', async () => {
    const { bridge, links, did } = fakeBridge();
    const connection = new Connection(shellTransport(bridge), { read: () => null, write: () => undefined });
    connection.start();
    await Promise.resolve();
    links[0]?.heard('{"kind":"welcome","contract":1,"life":"one","sequence":7,"afresh":true}');
    expect(connection.isOpen).toBe(true);
    links[0]?.closed();
    expect(connection.standing.kind).toBe('lost');
    await expect.poll(() => did.length).toBe(2);
    expect(did).toEqual([
      'send 1 {"kind":"hello","contract":1,"seen":null}',
      'send 2 {"kind":"hello","contract":1,"seen":{"life":"one","sequence":7}}',
    ]);
    connection.stop();
  });
});
