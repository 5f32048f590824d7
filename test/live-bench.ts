import { Client } from './contract/client.ts';
import { partsOf, socketWire } from './contract/socket-wire.ts';
import { openPtyPair, type PtyPair } from './main/meter/pty-pair.ts';
import type { Program } from './program.ts';
import { confirmAll, powerOn, proveDead, serialMeter, setUpOnMains, shelve, typed, type Ask } from './walk.ts';

/** A bench of the running program with power declared on, a run open, and two meters on pseudo terminals. */
export interface LiveBench {
  readonly client: Client;
  readonly ask: Ask;
  readonly runId: number;
  readonly primary: PtyPair;
  readonly coil: PtyPair;
  close(): Promise<void>;
}

/** A page of the program, as its services are asked through it. */
export async function pageOf(program: Program): Promise<{ client: Client; ask: Ask }> {
  const client = new Client(await socketWire(partsOf(program.url)));
  await client.hello();
  return { client, ask: typed((name, input) => client.value(name, input)) };
}

/** Brings an empty program to a live bench, as a person would: shelf, meters, set-up, proof, checks, power, run. */
export async function goLive(program: Program): Promise<LiveBench> {
  return goLiveOn(await pageOf(program));
}

/** The same through a page that is there. */
export async function goLiveOn({ client, ask }: { client: Client; ask: Ask }): Promise<LiveBench> {
  const [primary, coil] = [await openPtyPair(), await openPtyPair()];
  const nought = setInterval(() => {
    void primary.write('000.0 V\r\n');
    void coil.write('0.000 V AC\r\n');
  }, 100);
  const { settings } = await ask('app.present', {});
  await ask('settings.save', { settings: { ...settings, who: 'Rowan' } });
  const shelved = await shelve(ask);
  const onPrimary = await ask('meter.save', { description: serialMeter('Bench meter', primary.programEnd) });
  const onCoil = await ask('meter.save', { description: serialMeter('Pocket meter', coil.programEnd) });
  await setUpOnMains(ask, shelved, { primary: onPrimary.meterId, coil: onCoil.meterId });
  await proveDead(ask);
  await confirmAll(ask);
  await powerOn(ask);
  const { runId } = await ask('run.start', {});
  clearInterval(nought);
  return {
    client,
    ask,
    runId,
    primary,
    coil,
    close: async () => {
      await Promise.all([primary.close(), coil.close()]);
    },
  };
}
