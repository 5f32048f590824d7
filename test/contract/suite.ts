import * as v from 'valibot';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Push } from '../../src-shared/contract/push.ts';
import { requests, type RequestName } from '../../src-shared/contract/request.ts';
import { Client, type Seen, type Wire } from './client.ts';

/** The whole program behind some host, on an empty folder. */
export interface Wiring {
  /** A new connection, as the page of this host opens it. */
  connect(): Promise<Wire>;
  /** Pushes something, as if the program had. */
  push(push: Push): void;
  /** What was logged as a bug: replies and pushes that do not fit among it. */
  bugs(): readonly string[];
  /** Stops and starts the program again on the same folder. */
  restart(): Promise<void>;
  close(): Promise<void>;
}

const names = Object.keys(requests) as RequestName[];
const changed = (id: number): Push => ({ kind: 'changed', what: 'core', id });
const rest = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));

/** Readings of one channel with the given times; `text` makes them as heavy as a test needs. */
function readings(times: readonly number[], text = '230.0'): Push {
  const columns = {
    runId: 1,
    channel: 'primary-volts',
    unit: 'V',
    atMs: [...times],
    kind: times.map(() => 'number' as const),
    value: times.map(() => 230),
    u: times.map(() => null),
    text: times.map(() => text),
  };
  return { kind: 'readings', columns: [columns] };
}

/** What any host must keep, whatever carries it. */
export function contractSuite(host: string, open: () => Promise<Wiring>): void {
  describe(`the contract over the ${host}`, () => {
    let wiring: Wiring;
    let clients: Client[] = [];

    async function arrive(seen: Seen | null = null): Promise<Client> {
      const client = new Client(await wiring.connect());
      clients.push(client);
      await client.hello(seen);
      return client;
    }

    beforeEach(async () => {
      clients = [];
      wiring = await open();
    });

    afterEach(async () => {
      const faults = clients.flatMap((client) => client.faults);
      for (const client of clients) await client.close();
      const bugs = wiring.bugs();
      await wiring.close();
      expect(faults).toEqual([]);
      expect(bugs).toEqual([]);
    });

    describe('requests', () => {
      it('are refused by name and place when the input does not fit, every one of them', async () => {
        const client = await arrive();
        for (const name of names) {
          for (const input of ['text', 5, null, true]) {
            expect(await client.refusal(name, input), `${name} ${JSON.stringify(input)}`).toMatchObject({
              code: 'bad-input',
            });
          }
          const keys = Object.keys(requests[name].input.entries);
          for (const key of [...keys, 'surpriseKey']) {
            const answer = await client.request(name, { [key]: { wrong: Number.NaN } });
            if (answer.ok) throw new Error(`${name} took a wrong ${key}.`);
            expect(answer.failure, `${name} ${key}`).toMatchObject({ code: 'bad-input' });
            const [place] = (answer.failure.path ?? '').split('.');
            expect([...keys, 'surpriseKey'], `${name} ${key}: ${JSON.stringify(answer.failure)}`).toContain(place);
          }
        }
      });

      it('are refused when there is no such request', async () => {
        const client = await arrive();
        for (const name of ['core.destroy', '', '__proto__', 'toString']) {
          expect(await client.refusal(name, {})).toMatchObject({ code: 'unknown-request' });
        }
      });

      it('are refused when the message is none, and the connection goes on', async () => {
        const client = await arrive();
        for (const text of ['tea', '{}', '[]', '{"kind":"request","id":-1,"name":"core.list","input":{}}']) {
          client.sendText(text);
        }
        await client.until(() => (client.unasked.length === 4 ? true : null));
        expect(client.unasked.map(({ code }) => code)).toEqual(Array(4).fill('bad-message'));
        expect(await client.refusal('core.get', {})).toMatchObject({ code: 'bad-input', path: 'coreId' });
      });

      it('never show the inside of the program', async () => {
        const client = await arrive();
        const failures = [];
        for (const name of names) failures.push(await client.refusal(name, { surpriseKey: 1 }));
        expect(JSON.stringify(failures)).not.toMatch(/node_modules|\.ts\b|\.js\b|\bat .*:\d+/);
      });

      it('are answered to the page that asked and no other', async () => {
        const [one, other] = [await arrive(), await arrive()];
        await Promise.all([one.request('core.get', {}), one.request('core.get', {}), other.request('core.get', {})]);
      });
    });

    describe('the program', () => {
      it('answers every question about an empty record with what its schema says', async () => {
        const client = await arrive();
        for (const name of [
          'app.present',
          'core.list',
          'meter.list',
          'need.list',
          'session.list',
          'port.list',
        ] as const) {
          const value = await client.value(name, {});
          const read = v.safeParse(requests[name].output, value);
          expect(read.success, `${name}: ${JSON.stringify(value)}`).toBe(true);
        }
      });

      it('keeps what is saved, tells every page, and still has it after a restart', async () => {
        const [one, other] = [await arrive(), await arrive()];
        const fields = { label: 'Dimmer core A', shape: 'shell', mass: { value: 4.35, u: 0.005 } };
        const { coreId } = v.parse(requests['core.save'].output, await one.value('core.save', { fields }));
        for (const client of [one, other]) {
          await client.until(() => client.of('changed').find(({ what, id }) => what === 'core' && id === coreId));
        }
        await wiring.restart();
        const again = await arrive();
        const { core, builds } = v.parse(requests['core.get'].output, await again.value('core.get', { coreId }));
        expect(core.fields).toEqual(fields);
        expect(builds.map(({ number }) => number)).toEqual([1]);
      });

      it('refuses what is not there', async () => {
        const client = await arrive();
        expect(await client.refusal('core.get', { coreId: 999 })).toMatchObject({ code: 'not-found' });
        expect(await client.refusal('plan.get', { planId: 999 })).toMatchObject({ code: 'not-found' });
        expect(await client.refusal('run.get', { runId: 999 })).toMatchObject({ code: 'not-found' });
      });

      it('refuses a command given on sight of an older state of the guard, and takes the same on the present one', async () => {
        const client = await arrive();
        const fields = { label: 'Dimmer core A', shape: 'shell' };
        const { coreId } = v.parse(requests['core.save'].output, await client.value('core.save', { fields }));
        const { builds } = v.parse(requests['core.get'].output, await client.value('core.get', { coreId }));
        const supply = {
          kind: 'isolated-low-voltage',
          volts: 12,
          hertz: 50,
          earthed: 'floating',
          rcd: 'not-known',
        };
        const session = { buildId: builds[0]?.buildId, supply, fedWindingId: null, who: 'Stage workshop' };
        await client.value('session.open', { fields: session });
        const { guard } = v.parse(requests['app.present'].output, await client.value('app.present', {}));
        const { revision } = guard.state;
        const command = { kind: 'core-state', magnetised: true };
        for (const old of [revision - 1, revision + 1]) {
          expect(await client.refusal('guard.send', { revision: old, command })).toMatchObject({ code: 'stale' });
        }
        const view = v.parse(requests['guard.send'].output, await client.value('guard.send', { revision, command }));
        expect(view.state.revision).toBeGreaterThan(revision);
        await client.until(() => client.of('guard').find((push) => push.guard.state.revision === view.state.revision));
      });
    });

    describe('pushes', () => {
      it('reach every page, in order and numbered without a gap', async () => {
        const [one, other] = [await arrive(), await arrive()];
        for (let id = 1; id <= 200; id += 1) wiring.push(changed(id));
        for (const client of [one, other]) {
          await client.until(() => (client.of('changed').length === 200 ? true : null));
          expect(client.of('changed').map(({ id }) => id)).toEqual(Array.from({ length: 200 }, (_, at) => at + 1));
        }
      });

      it('carry readings as columns: the first at once, then at most 30 messages a second, none lost', async () => {
        const client = await arrive();
        const from = performance.now();
        wiring.push(readings([0]));
        for (let at = 1; at <= 400; at += 1) {
          wiring.push(readings([at]));
          if (at % 4 === 0) await rest(10);
        }
        const tookMs = performance.now() - from;
        const times = () => client.of('readings').flatMap(({ columns }) => columns.flatMap(({ atMs }) => atMs));
        await client.until(() => (times().length === 401 ? true : null));
        expect(times()).toEqual(Array.from({ length: 401 }, (_, at) => at));
        expect(client.of('readings')[0]?.columns[0]?.atMs).toEqual([0]);
        expect(client.of('readings').length).toBeLessThanOrEqual(2 + (tookMs / 1000) * 30);
      });

      it('show the last readings of a run before its end', async () => {
        const client = await arrive();
        for (const at of [1, 2, 3]) wiring.push(readings([at]));
        wiring.push({ kind: 'run', run: null });
        await client.until(() => client.of('run')[0]);
        expect(client.pushes.map(({ push }) => push.kind)).toEqual(['readings', 'readings', 'run']);
      });
    });

    describe('a page that comes back', () => {
      it('is given the events that it missed and the count of the readings', async () => {
        const first = await arrive();
        wiring.push(changed(1));
        await first.until(() => first.of('changed')[0]);
        const { seen } = first;
        await first.close();
        wiring.push(changed(2));
        wiring.push(readings([1, 2, 3]));
        wiring.push({ kind: 'alarm', code: 'volts-seen', sentence: 'Volts seen.', atMs: 1 });
        const second = await arrive(seen);
        wiring.push(changed(3));
        await second.until(() => (second.of('changed').length === 2 ? true : null));
        expect(second.pushes.map(({ push }) => push.kind)).toEqual(['changed', 'readings-missed', 'alarm', 'changed']);
        expect(second.of('readings-missed')).toEqual([{ kind: 'readings-missed', readings: 3 }]);
      });

      it('is told to ask for everything afresh when the program was started anew, and on a first visit', async () => {
        const first = await arrive();
        const { seen } = first;
        await first.close();
        await wiring.restart();
        const again = new Client(await wiring.connect());
        clients.push(again);
        expect(await again.hello(seen)).toMatchObject({ afresh: true });
        expect(again.seen.life).not.toBe(seen.life);
        const fresh = new Client(await wiring.connect());
        clients.push(fresh);
        expect(await fresh.hello()).toMatchObject({ afresh: true });
      });
    });

    describe('a slow page', () => {
      it('loses readings and is told how many, but no event, and holds up nobody', async () => {
        const [slow, quick] = [await arrive(), await arrive()];
        slow.pause();
        const heavy = 'x'.repeat(200_000);
        let pushed = 0;
        for (; pushed < 120; pushed += 1) {
          wiring.push(readings([pushed], heavy));
          wiring.push(changed(pushed + 1));
          await rest(36);
        }
        await quick.until(() => (quick.of('changed').length === pushed ? true : null));
        expect(quick.of('readings-missed')).toEqual([]);
        slow.resume();
        const counted = () => {
          const shown = slow.of('readings').flatMap(({ columns }) => columns.flatMap(({ atMs }) => atMs)).length;
          const missed = slow.of('readings-missed').reduce((sum, { readings: many }) => sum + many, 0);
          return { shown, missed };
        };
        await slow.until(() => (counted().shown + counted().missed === pushed ? true : null));
        await slow.until(() => (slow.of('changed').length === pushed ? true : null));
        expect(slow.of('changed').map(({ id }) => id)).toEqual(quick.of('changed').map(({ id }) => id));
        expect(counted().missed).toBeGreaterThan(0);
      });
    });
  });
}
