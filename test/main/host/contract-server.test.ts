import { describe, expect, it } from 'vitest';
import { ask, changed, fakeConnection, hello, readings, smallServer, smallServices } from './fakes.ts';

const settled = () => new Promise((resolve) => setImmediate(resolve));

function arrive(served: ReturnType<typeof smallServer>, seen: { life: string; sequence: number } | null = null) {
  const connection = fakeConnection();
  const visit = served.server.accept(connection);
  visit.message(hello(seen));
  return { connection, visit, sent: connection.sent };
}

const pushed = (sent: ReturnType<typeof fakeConnection>['sent']) =>
  sent.flatMap((message) => (message.kind === 'push' ? [[message.sequence, message.push.kind]] : []));

describe('answering requests', () => {
  it('answers a request with its value under its number', async () => {
    const { visit, sent } = arrive(smallServer());
    visit.message(ask(5, 'greet', { who: 'Imke' }));
    await settled();
    expect(sent.at(-1)).toEqual({ kind: 'reply', id: 5, ok: true, value: { text: 'Good morning, Imke.' } });
  });

  it('refuses a name that there is not, inherited names among them', async () => {
    const { visit, sent } = arrive(smallServer());
    for (const name of ['nothing', '__proto__', 'constructor', 'toString', '', 'x'.repeat(5000)]) {
      visit.message(ask(1, name, {}));
      await settled();
      expect(sent.at(-1)).toMatchObject({ kind: 'refusal', id: 1, failure: { code: 'unknown-request' } });
      expect(JSON.stringify(sent.at(-1)).length).toBeLessThan(300);
    }
  });

  it.each([
    [{ who: 3 }, 'who'],
    [{}, 'who'],
    [{ who: 'Imke', surname: 'x' }, 'surname'],
    ['Imke', undefined],
    [null, undefined],
    [[], 'who'],
  ])('refuses the input %j at %s', async (input, path) => {
    const { visit, sent } = arrive(smallServer());
    visit.message(ask(2, 'greet', input));
    await settled();
    const refusal = sent.at(-1);
    expect(refusal).toMatchObject({ kind: 'refusal', id: 2, ok: false, failure: { code: 'bad-input' } });
    expect(refusal?.kind === 'refusal' ? refusal.failure.path : 'none').toBe(path);
  });

  it('passes an expected failure on as it is', async () => {
    const { visit, sent } = arrive(smallServer());
    visit.message(ask(3, 'refuse', { revision: 6 }));
    await settled();
    expect(sent.at(-1)).toMatchObject({ failure: { code: 'stale', detail: { revision: 7 } } });
  });

  it('keeps a bug to its own log and tells the page only a reference', async () => {
    const served = smallServer();
    const { visit, sent } = arrive(served);
    visit.message(ask(4, 'crash', {}));
    await settled();
    expect(sent.at(-1)).toMatchObject({ failure: { code: 'internal', detail: { reference: 'life-one-1' } } });
    expect(JSON.stringify(sent)).not.toMatch(/secret|\.ts|\bat \w+/);
    expect(served.log.join()).toMatch(/^life-one-1: crash: Error: secret .*notes\.txt[\s\S]*fakes\.ts/);
  });

  it('holds replies against their schema as they cross, where it is told to', async () => {
    const checked = smallServer();
    const first = arrive(checked);
    first.visit.message(ask(1, 'misfit', {}));
    await settled();
    expect(first.sent.at(-1)).toMatchObject({ kind: 'refusal', failure: { code: 'internal' } });
    expect(checked.log.join()).toContain('The reply to misfit does not fit');
    const second = arrive(smallServer({ checkReplies: false }));
    second.visit.message(ask(1, 'misfit', {}));
    await settled();
    expect(second.sent.at(-1)).toMatchObject({ kind: 'reply', value: null });
  });

  it.each(['', 'hello', '{', 'null', '[]', '{"kind":"request"}', '{"kind":"hello","contract":1}', '{"kind":"tea"}'])(
    'refuses %j as a bad message and goes on',
    async (text) => {
      const { visit, sent } = arrive(smallServer());
      visit.message(text);
      expect(sent.at(-1)).toMatchObject({ kind: 'refusal', id: 0, failure: { code: 'bad-message' } });
      visit.message(ask(1, 'count', {}));
      await settled();
      expect(sent.at(-1)).toMatchObject({ kind: 'reply', value: 3 });
    },
  );

  it('answers a bad message under its own number when it has one', () => {
    const { visit, sent } = arrive(smallServer());
    visit.message('{"kind":"request","id":9,"name":"count","input":{},"extra":1}');
    expect(sent.at(-1)).toMatchObject({ kind: 'refusal', id: 9, failure: { code: 'bad-message' } });
  });

  it('refuses what is longer than a message may be, and survives the deepest nesting', async () => {
    const { visit, sent } = arrive(smallServer());
    visit.message('x'.repeat(1_048_577));
    expect(sent.at(-1)).toMatchObject({ failure: { code: 'bad-message' } });
    visit.message(
      `{"kind":"request","id":1,"name":"greet","input":{"who":${'['.repeat(500_000)}${']'.repeat(500_000)}}}`,
    );
    await settled();
    expect(sent.at(-1)).toMatchObject({ kind: 'refusal', id: 1, failure: { code: 'bad-input', path: 'who' } });
  });

  it('answers nothing before hello, and takes hello once', async () => {
    const connection = fakeConnection();
    const visit = smallServer().server.accept(connection);
    visit.message(ask(1, 'count', {}));
    await settled();
    expect(connection.sent).toMatchObject([{ kind: 'refusal', id: 1, failure: { code: 'bad-message' } }]);
    visit.message(hello());
    visit.message(hello());
    expect(connection.sent.slice(1)).toMatchObject([{ kind: 'welcome' }, { failure: { code: 'bad-message' } }]);
  });

  it('tells a page of another contract so, and answers it nothing else', async () => {
    const served = smallServer();
    const connection = fakeConnection();
    const visit = served.server.accept(connection);
    visit.message(JSON.stringify({ kind: 'hello', contract: 99, seen: null }));
    visit.message(ask(1, 'count', {}));
    served.source.push(changed(1));
    await settled();
    expect(connection.sent).toMatchObject([
      { kind: 'welcome', contract: 1, afresh: true },
      { kind: 'refusal', id: 1, failure: { code: 'bad-message' } },
    ]);
  });

  it('bounds how many requests one page has under way', async () => {
    let release = () => {};
    const gate = new Promise<void>((resolve) => (release = resolve));
    const served = smallServer({ services: smallServices(gate), limits: { requestsAtOnce: 2 } });
    const { visit, sent } = arrive(served);
    for (const id of [1, 2, 3]) visit.message(ask(id, 'wait', {}));
    await settled();
    expect(sent.slice(1)).toMatchObject([{ kind: 'refusal', id: 3, failure: { code: 'busy' } }]);
    release();
    await settled();
    visit.message(ask(4, 'count', {}));
    await settled();
    expect(sent.slice(2).map((message) => [message.kind, 'id' in message ? message.id : null])).toEqual([
      ['reply', 1],
      ['reply', 2],
      ['reply', 4],
    ]);
  });

  it('sends nothing to a page that has left while its request was under way', async () => {
    let release = () => {};
    const gate = new Promise<void>((resolve) => (release = resolve));
    const { visit, sent } = arrive(smallServer({ services: smallServices(gate) }));
    visit.message(ask(1, 'wait', {}));
    visit.closed();
    release();
    await settled();
    expect(sent).toHaveLength(1);
  });
});

describe('pushing', () => {
  it('numbers pushes upwards for all pages alike, from what the welcome said', () => {
    const served = smallServer();
    served.source.push(changed(1));
    const first = arrive(served);
    served.source.push(changed(2));
    const second = arrive(served);
    served.source.push(changed(3));
    expect(first.sent[0]).toMatchObject({ kind: 'welcome', life: 'life-one', sequence: 1, afresh: true });
    expect(pushed(first.sent)).toEqual([
      [2, 'changed'],
      [3, 'changed'],
    ]);
    expect(second.sent[0]).toMatchObject({ sequence: 2 });
    expect(pushed(second.sent)).toEqual([[3, 'changed']]);
  });

  it('shows the last readings of a run before its end', () => {
    const served = smallServer();
    const { sent } = arrive(served);
    served.source.push(readings([1]));
    served.source.push(readings([2]));
    served.source.push({ kind: 'run', run: null });
    expect(pushed(sent)).toEqual([
      [1, 'readings'],
      [2, 'readings'],
      [3, 'run'],
    ]);
  });

  it('logs a push that does not fit its schema', () => {
    const served = smallServer();
    arrive(served);
    served.source.push({ kind: 'alarm', code: 'x', sentence: 'x', atMs: Number.NaN });
    expect(served.log.join()).toContain('The push alarm does not fit');
  });

  it('hears nothing more once closed', () => {
    const served = smallServer();
    const { sent } = arrive(served);
    served.source.push(readings([1]));
    served.source.push(readings([2]));
    served.server.close();
    served.source.push(changed(1));
    served.clock.pass(10_000);
    expect(served.source.listeners()).toBe(0);
    expect(served.clock.waiting()).toBe(0);
    expect(pushed(sent)).toEqual([[1, 'readings']]);
  });
});

describe('coming back', () => {
  it('gives a page the events that it missed, in order, and the count of the readings', () => {
    const served = smallServer();
    const { visit } = arrive(served);
    visit.closed();
    served.source.push(changed(1));
    served.source.push(readings([1, 2]));
    served.clock.pass(50);
    served.source.push(readings([3]));
    served.source.push(changed(2));
    served.clock.pass(50);
    served.source.push(readings([4]));
    const { sent } = arrive(served, { life: 'life-one', sequence: 0 });
    expect(sent).toMatchObject([
      { kind: 'welcome', sequence: 0, afresh: false },
      { sequence: 1, push: { kind: 'changed', id: 1 } },
      { sequence: 3, push: { kind: 'readings-missed', readings: 3 } },
      { sequence: 4, push: { kind: 'changed', id: 2 } },
      { sequence: 5, push: { kind: 'readings-missed', readings: 1 } },
    ]);
    served.source.push(changed(3));
    expect(sent.at(-1)).toMatchObject({ sequence: 6 });
  });

  it.each([
    ['another life', { life: 'life-zero', sequence: 1 }],
    ['a number that was never given', { life: 'life-one', sequence: 99 }],
  ])('tells a page with %s to ask for everything afresh', (_, seen) => {
    const served = smallServer();
    served.source.push(changed(1));
    const { sent } = arrive(served, seen);
    expect(sent).toEqual([{ kind: 'welcome', contract: 1, life: 'life-one', sequence: 1, afresh: true }]);
  });

  it('tells a page that was away for too long the same', () => {
    const served = smallServer();
    for (let id = 1; id <= 40_000; id += 1) served.source.push(changed(id));
    expect(arrive(served, { life: 'life-one', sequence: 1 }).sent).toMatchObject([{ afresh: true, sequence: 40_000 }]);
    expect(arrive(served, { life: 'life-one', sequence: 39_990 }).sent).toHaveLength(11);
  });
});

describe('a slow page', () => {
  it('loses readings and is told how many, before anything later', () => {
    const served = smallServer();
    const slow = arrive(served);
    const quick = arrive(served);
    slow.connection.bufferedAmount = 300_000;
    served.source.push(readings([1, 2]));
    served.clock.pass(50);
    served.source.push(readings([3]));
    served.source.push(changed(1));
    served.clock.pass(50);
    served.source.push(readings([4]));
    slow.connection.bufferedAmount = 0;
    served.clock.pass(50);
    served.source.push(readings([5]));
    expect(slow.sent.slice(1)).toMatchObject([
      { sequence: 2, push: { kind: 'readings-missed', readings: 3 } },
      { sequence: 3, push: { kind: 'changed' } },
      { sequence: 4, push: { kind: 'readings-missed', readings: 1 } },
      { sequence: 5, push: { kind: 'readings' } },
    ]);
    expect(pushed(quick.sent).map(([, kind]) => kind)).toEqual([
      'readings',
      'readings',
      'changed',
      'readings',
      'readings',
    ]);
  });

  it('is told soon after it can take messages again, even when nothing else happens', () => {
    const served = smallServer();
    const slow = arrive(served);
    slow.connection.bufferedAmount = 300_000;
    served.source.push(readings([1]));
    served.clock.pass(50);
    served.source.push(readings([2]));
    served.clock.pass(1000);
    expect(slow.sent).toHaveLength(1);
    expect(served.clock.waiting()).toBe(1);
    slow.connection.bufferedAmount = 0;
    served.clock.pass(200);
    expect(slow.sent.at(-1)).toMatchObject({ sequence: 2, push: { kind: 'readings-missed', readings: 2 } });
    expect(served.clock.waiting()).toBe(0);
  });

  it('loses no event, and is cut off when it takes nothing at all', () => {
    const served = smallServer();
    const slow = arrive(served);
    slow.connection.bufferedAmount = 300_000;
    for (let id = 1; id <= 100; id += 1) served.source.push(changed(id));
    expect(pushed(slow.sent)).toHaveLength(100);
    expect(slow.connection.closed).toEqual([]);
    slow.connection.bufferedAmount = 17_000_000;
    served.source.push(changed(101));
    expect(slow.connection.closed).toHaveLength(1);
  });
});
