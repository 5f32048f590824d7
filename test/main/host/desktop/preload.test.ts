import { describe, expect, it } from 'vitest';
import { builtPreload, runPreload, StandInPage } from './stand-in-page.ts';

const silent = { send: () => undefined, invoke: () => Promise.resolve(null) };

describe('the built preload script', () => {
  it('asks for electron and for nothing else', () => {
    const electron = {
      contextBridge: { exposeInMainWorld: () => undefined },
      ipcRenderer: { on: () => undefined },
    };
    expect(runPreload(builtPreload, electron)).toEqual(['electron']);
  });

  it('gives the page one thing, which holds named functions and nothing else', () => {
    const { world } = new StandInPage(builtPreload, silent);
    expect([...world.keys()]).toEqual(['turnwright']);
    const bridge = world.get('turnwright') as Record<string, unknown>;
    expect(Object.keys(bridge).sort()).toEqual(['close', 'open', 'print', 'savePdf', 'send']);
    expect(Object.values(bridge).every((value) => typeof value === 'function')).toBe(true);
  });

  it('lets the page name no channel: whatever it sends goes out on ours', () => {
    const sent: unknown[][] = [];
    const { bridge } = new StandInPage(builtPreload, {
      send: (...message) => void sent.push(message),
      invoke: (...message) => {
        sent.push(message);
        return Promise.resolve(null);
      },
    });
    const link = bridge.open(
      () => undefined,
      () => undefined,
    );
    bridge.send(link, 'tea');
    bridge.close(link);
    void bridge.print();
    void bridge.savePdf('Build sheet');
    expect(sent).toEqual([
      ['turnwright:contract', { kind: 'open', link: 1 }],
      ['turnwright:contract', { kind: 'text', link: 1, text: 'tea' }],
      ['turnwright:contract', { kind: 'close', link: 1 }],
      ['turnwright:paper', { kind: 'print' }],
      ['turnwright:paper', { kind: 'pdf', name: 'Build sheet' }],
    ]);
  });

  it('says what the page took only after it took it, also when the page failed at it', async () => {
    const sent: unknown[] = [];
    const page = new StandInPage(builtPreload, { ...silent, send: (_channel, message) => sent.push(message) });
    const heard: string[] = [];
    page.bridge.open(
      (text) => heard.push(text),
      () => heard.push('closed'),
    );
    page.pause();
    page.take('turnwright:contract', { kind: 'text', link: 1, text: 'four' });
    page.take('turnwright:contract', { kind: 'text', link: 2, text: 'not open' });
    page.take('turnwright:contract', { kind: 'text', link: 1, text: 'sixsix' });
    page.take('turnwright:contract', { kind: 'closed', link: 1 });
    page.take('turnwright:contract', { kind: 'text', link: 1, text: 'too late' });
    await new Promise((resolve) => setImmediate(resolve));
    expect(sent.slice(1)).toEqual([]);
    page.resume();
    expect(heard).toEqual(['four', 'sixsix', 'closed']);
    expect(sent.slice(1)).toEqual([
      { kind: 'taken', link: 1, characters: 4 },
      { kind: 'taken', link: 1, characters: 10 },
    ]);
  });
});
