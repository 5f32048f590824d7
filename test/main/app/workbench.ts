import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { App } from '../../../src-main/app.ts';
import type { RequestInput, RequestValue } from '../../../src-shared/contract/request.ts';
import type { Push } from '../../../src-shared/contract/push.ts';
import type { MeterRange } from '../../../src-shared/meter/range.ts';
import type { Answers } from '../../../src-shared/procedure/field.ts';
import { confirmAll, proveDead, tell, typedMeter, type Ask } from '../../walk.ts';
import { handClock, type HandClock } from './hand-clock.ts';
import { startApp } from './start-app.ts';

const range = (
  unit: MeterRange['unit'],
  coupling: MeterRange['coupling'],
  top: number,
  resolution: number,
): MeterRange => ({ unit, coupling, top, resolution, percentOfReading: 1, digits: 3, shape: 'rectangular' });

/** Ranges for everything that is typed here. */
const ranges: readonly MeterRange[] = [
  range('V', 'ac', 600, 0.01),
  range('V', 'dc', 2, 0.00001),
  range('A', 'ac', 20, 0.001),
  range('A', 'dc', 10, 0.001),
  range('W', null, 2000, 0.1),
  range('Ω', null, 1e9, 0.01),
  range('°C', null, 400, 0.1),
];

type Supply = RequestInput<'session.open'>['fields']['supply'];
export const mains: Supply = { kind: 'mains', volts: 230, hertz: 50, earthed: 'earthed', rcd: 'yes', fuseAmps: 6 };
export const variable: Supply = { ...mains, kind: 'variable-transformer' };
export const lowSource: Supply = { kind: 'isolated-low-voltage', volts: 12, hertz: 50, earthed: 'floating', rcd: 'no' };

type Windings = Readonly<Record<'primary' | 'secondary', number>>;

/** The program on a folder of its own, its clock in the hand of the test, with one core and typed meters. */
export class Workbench {
  readonly folder = mkdtempSync(join(tmpdir(), 'turnwright-runs-'));
  readonly clock: HandClock = handClock();
  readonly app: App;
  readonly ask: Ask;
  readonly pushes: Push[];
  coreId = 0;
  buildId = 0;
  windings: Windings = { primary: 0, secondary: 0 };
  #runId = 0;

  constructor() {
    ({ app: this.app, ask: this.ask, pushes: this.pushes } = startApp(this.folder, this.clock));
  }

  async close(): Promise<void> {
    await this.app.close();
    rmSync(this.folder, { recursive: true, force: true });
  }

  /** A core of 230 turns with a 24-turn secondary, and a session on it. */
  async open(supply: Supply): Promise<void> {
    const { ask } = this;
    const { coreId } = await ask('core.save', { fields: { label: 'Dimmer core B', shape: 'shell' } });
    this.coreId = coreId;
    this.buildId = (await ask('core.get', { coreId })).builds[0]?.buildId ?? 0;
    const { buildId } = this;
    const winding = (fields: RequestInput<'winding.save'>['fields']) => ask('winding.save', { buildId, fields });
    const common = { metal: 'copper', oneEndOnCore: 'no' } as const;
    const primary = await winding({
      ...common,
      label: 'Primary',
      role: 'primary',
      turns: { kind: 'counted', turns: 230 },
      onPlug: true,
      ohms: { value: 2, u: 0.02 },
      ohmsCelsius: 20,
    });
    const secondary = await winding({
      ...common,
      label: 'Secondary',
      role: 'secondary',
      turns: { kind: 'counted', turns: 24 },
      onPlug: false,
    });
    this.windings = { primary: primary.windingId, secondary: secondary.windingId };
    await ask('session.open', {
      fields: { buildId, supply, fedWindingId: primary.windingId, ambientCelsius: 20, who: 'Rowan' },
    });
  }

  /** Sets a procedure up with a typed meter of its own on each channel. */
  async setUp(procedure: string, channels: readonly string[], answers: Answers = {}): Promise<void> {
    const choices = [];
    for (const channel of channels) {
      const { meterId } = await this.ask('meter.save', {
        description: { ...typedMeter(`Typed ${channel}`), ranges: [...ranges] },
      });
      choices.push({ channel, meterId, lockedRange: null });
    }
    await this.ask('bench.set-up', { procedure, channels: choices, answers: { ...answers } });
  }

  /** Proves dead and confirms what waits for a person. */
  async prove(): Promise<void> {
    await proveDead(this.ask);
    await confirmAll(this.ask);
  }

  async begin(): Promise<number> {
    this.#runId = (await this.ask('run.start', {})).runId;
    return this.#runId;
  }

  /** Holds the power-on bar for as long as it asks. */
  async powerOn(): Promise<void> {
    await tell(this.ask, { kind: 'ready-asked' });
    await tell(this.ask, { kind: 'power-on-begun' });
    this.clock.pass(1100);
    await tell(this.ask, { kind: 'power-on-confirmed' });
  }

  /** From a set-up to power declared on with a run open. */
  async live(): Promise<number> {
    await this.prove();
    const runId = await this.begin();
    await this.powerOn();
    return runId;
  }

  async powerOff(): Promise<void> {
    await tell(this.ask, { kind: 'power-off' });
  }

  async type(values: Readonly<Record<string, string>>): Promise<void> {
    for (const [channel, text] of Object.entries(values)) await this.ask('reading.type', { channel, text });
  }

  keep(fields: Answers = {}): Promise<RequestValue<'point.keep'>> {
    return this.ask('point.keep', { runId: this.#runId, fields: { ...fields } });
  }

  run(): Promise<RequestValue<'run.get'>> {
    return this.ask('run.get', { runId: this.#runId });
  }

  /** The guard's state as it is. */
  async state() {
    return (await this.ask('app.present', {})).guard.state;
  }

  end(): Promise<RequestValue<'run.end'>> {
    return this.ask('run.end', { runId: this.#runId });
  }
}

/** The code that a request was refused with; what was expected to be refused and was not is a mistake. */
export async function refusedWith(asked: Promise<unknown>): Promise<{ code: string; path?: string; message: string }> {
  try {
    await asked;
  } catch (error) {
    if (error instanceof Error && 'failure' in error) return error.failure as { code: string; message: string };
    throw error;
  }
  throw new Error('It was not refused.');
}
