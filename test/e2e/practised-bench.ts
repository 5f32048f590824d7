import { setTimeout } from 'node:timers/promises';
import type { RequestInput } from '../../src-shared/contract/request.ts';
import type { Answers } from '../../src-shared/procedure/field.ts';
import type { Supply } from '../../src-shared/record/session.ts';
import { confirmAll, powerOn, proveDead, tell, type Ask } from '../walk.ts';

type Channels = RequestInput<'bench.set-up'>['channels'];

const pollMs = 150;
const withinMs = 60_000;

/** Asks until an answer comes; refusals that tell of what has yet to settle are waited out. */
async function patiently<T>(ask: () => Promise<T>, waitsFor: RegExp): Promise<T> {
  const end = performance.now() + withinMs;
  for (;;) {
    try {
      return await ask();
    } catch (refused) {
      if (!waitsFor.test(String(refused)) || performance.now() > end) throw refused;
      await setTimeout(pollMs);
    }
  }
}

/** The practice bench of a running program with a demonstration core on it, worked through the contract. */
export class PractisedBench {
  readonly ask: Ask;
  readonly coreId: number;
  /** Practice meters by what they are called. */
  readonly #meters: ReadonlyMap<string, number>;
  #runId = 0;

  private constructor(ask: Ask, coreId: number, meters: ReadonlyMap<string, number>) {
    this.ask = ask;
    this.coreId = coreId;
    this.#meters = meters;
  }

  static async laidOut(ask: Ask): Promise<PractisedBench> {
    const { coreIds } = await ask('practice.lay-out', {});
    await ask('practice.more-meters', {});
    const { settings, meters } = await ask('app.present', {});
    await ask('settings.save', { settings: { ...settings, who: 'Rowan' } });
    const named = meters.map(({ meterId, description }): [string, number] => [description.label, meterId]);
    return new PractisedBench(ask, coreIds[0] ?? 0, new Map(named));
  }

  /** The latest build, with the winding that goes to the plug. */
  async latest() {
    const build = (await this.ask('core.get', { coreId: this.coreId })).builds.at(-1);
    const primary = build?.windings.find(({ fields }) => fields.role === 'primary');
    if (build === undefined || primary === undefined) throw new Error('The core has no primary.');
    return { build, primary };
  }

  /** A session on the latest build, power declared on and a run open. `meters`: by channel, with a locked range or none. */
  async live(
    supply: Supply,
    procedure: string,
    meters: Readonly<Record<string, readonly [label: string, range: number | null]>>,
    answers: Answers = {},
  ): Promise<void> {
    const { build, primary } = await this.latest();
    await this.ask('session.open', {
      fields: { buildId: build.buildId, supply, fedWindingId: primary.windingId, ambientCelsius: 21, who: 'Rowan' },
    });
    const channels: Channels = Object.entries(meters).map(([channel, [label, lockedRange]]) => ({
      channel,
      meterId: this.#meters.get(label) ?? 0,
      lockedRange,
    }));
    await this.ask('bench.set-up', { procedure, channels, answers: { ...answers } });
    await proveDead(this.ask);
    await confirmAll(this.ask);
    await powerOn(this.ask);
    this.#runId = (await this.ask('run.start', {})).runId;
  }

  /** Turns the knob of the source, and waits until a meter shows that it was turned. */
  async turnTo(supplyPercent: number, label: string, volts: number): Promise<void> {
    const { controls } = await this.ask('practice.get', {});
    await this.ask('practice.set', { controls: { ...controls, supplyPercent } });
    await this.#untilShown(label, volts, (shown) => Math.abs(shown / volts - 1) < 0.03);
  }

  /** Waits until the last value of a meter is as wanted. */
  async #untilShown(
    label: string,
    volts: number,
    isAsWanted: (shown: number, volts: number) => boolean,
  ): Promise<void> {
    const end = performance.now() + withinMs;
    for (;;) {
      const { meters } = await this.ask('app.present', {});
      const shown = meters.find(({ description }) => description.label === label)?.state.last?.value ?? NaN;
      if (isAsWanted(shown, volts)) return;
      if (performance.now() > end) throw new Error(`The meter shows ${shown} V where ${volts} V were set.`);
      await setTimeout(pollMs);
    }
  }

  /** Keeps a point as soon as all of its values have settled. */
  async keepPoint(fields: Answers = {}): Promise<void> {
    await patiently(() => this.ask('point.keep', { runId: this.#runId, fields: { ...fields } }), /settled|blank/);
  }

  /** Keeps a pair as soon as both values have settled; with the meters exchanged, once they show it. */
  async keepPair(coilTurns: number, exchanged: readonly [label: string, volts: number] | null): Promise<void> {
    const swapped = exchanged !== null;
    await this.ask('practice.exchange', { exchanged: swapped });
    if (exchanged !== null) await this.#untilShown(...exchanged, (shown, volts) => shown < 0.5 * volts);
    await patiently(() => this.ask('pair.keep', { runId: this.#runId, coilTurns, swapped }), /settled/);
  }

  /** Power off, the result kept, run and session ended. Gives the result. */
  async finish() {
    const result = await this.ask('result.keep', { runId: this.#runId });
    await tell(this.ask, { kind: 'power-off' });
    await this.ask('run.end', { runId: this.#runId });
    await this.ask('practice.exchange', { exchanged: false });
    await this.ask('session.end', {});
    return result;
  }
}
