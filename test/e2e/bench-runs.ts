import { openPtyPair } from '../main/meter/pty-pair.ts';
import type { MeterDescription, SerialMeter } from '../../src-shared/meter/description.ts';
import type { MeterRange } from '../../src-shared/meter/range.ts';
import type { RequestInput } from '../../src-shared/contract/request.ts';
import { isPowered } from '../../src-shared/interlock/state.ts';
import { pageOf } from '../live-bench.ts';
import type { Program } from '../program.ts';
import { confirmAll, powerOn, proveDead, serialMeter, tell, typedMeter, type Ask } from '../walk.ts';

const range = (unit: MeterRange['unit'], coupling: MeterRange['coupling'], top: number, resolution: number) =>
  ({ unit, coupling, top, resolution, percentOfReading: 0.5, digits: 3, shape: 'rectangular' }) satisfies MeterRange;

const ranges: MeterDescription['ranges'] = [
  range('V', 'ac', 600, 0.1),
  range('V', 'ac', 60, 0.01),
  range('V', 'dc', 2, 0.00001),
  range('A', 'ac', 20, 0.001),
  range('A', 'dc', 10, 0.001),
  range('W', null, 2000, 0.1),
  range('°C', null, 400, 0.1),
  range('Ω', null, 60, 0.0001),
  range('Ω', null, 1e9, 1e5),
];

type Supply = RequestInput<'session.open'>['fields']['supply'];
export const mains: Supply = { kind: 'mains', volts: 230, hertz: 50, earthed: 'earthed', rcd: 'yes', fuseAmps: 6 };
export const variable: Supply = { ...mains, kind: 'variable-transformer' };
export const lowSource: Supply = { kind: 'isolated-low-voltage', volts: 12, hertz: 50, earthed: 'floating', rcd: 'no' };

/** Ohms of the primary, cold; null: not known. */
export type Ohms = { readonly value: number; readonly u: number } | null;
const usualOhms: Ohms = { value: 2, u: 0.02 };

/** A bench of a started program as somebody left it: one core, meters described, a session open. */
export class RunBench {
  readonly ask: Ask;
  readonly #pulls: (() => Promise<void>)[] = [];

  private constructor(ask: Ask) {
    this.ask = ask;
  }

  /** The bench of a program with nobody at it yet. */
  static async of(program: Program): Promise<RunBench> {
    const { ask } = await pageOf(program);
    const { settings } = await ask('app.present', {});
    await ask('settings.save', { settings: { ...settings, who: 'Rowan' } });
    return new RunBench(ask);
  }

  /** The same with a core on it and a session open. */
  static async on(program: Program, supply: Supply): Promise<RunBench> {
    const bench = await RunBench.of(program);
    await bench.open('Dimmer core B', supply);
    return bench;
  }

  /** Puts a core of 230 to 24 turns on the bench and opens a session on it, in place of the one before; gives its number. */
  async open(label: string, supply: Supply, ohms: Ohms = usualOhms): Promise<number> {
    const { ask } = this;
    await this.leave();
    const { coreId } = await ask('core.save', { fields: { label, shape: 'shell' } });
    const buildId = (await ask('core.get', { coreId })).builds[0]?.buildId ?? 0;
    const common = { metal: 'copper', oneEndOnCore: 'no' } as const;
    const { windingId } = await ask('winding.save', {
      buildId,
      fields: {
        ...common,
        label: 'Primary',
        role: 'primary',
        turns: { kind: 'counted', turns: 230 },
        onPlug: true,
        ...(ohms === null ? {} : { ohms, ohmsCelsius: 20 }),
      },
    });
    await ask('winding.save', {
      buildId,
      fields: {
        ...common,
        label: 'Secondary',
        role: 'secondary',
        turns: { kind: 'counted', turns: 24 },
        onPlug: false,
      },
    });
    const { sessionId } = await ask('session.open', {
      fields: { buildId, supply, fedWindingId: windingId, ambientCelsius: 20, who: 'Rowan' },
    });
    return sessionId;
  }

  /** Power off, the run and the session ended: whatever was on the bench. */
  async leave(): Promise<void> {
    const { session, run, guard } = await this.ask('app.present', {});
    if (isPowered(guard.state)) await tell(this.ask, { kind: 'power-off' });
    if (run !== null) await this.ask('run.end', { runId: run.runId });
    if (session !== null) await this.ask('session.end', {});
  }

  /**
   * A meter on a pseudo terminal that sends five lines a second of what stands at it; nothing while there is none. Gives
   * what pulls its lead.
   */
  async streams(
    label: string,
    line: () => string | null,
    more: Partial<SerialMeter> = {},
  ): Promise<() => Promise<void>> {
    const pair = await openPtyPair();
    const timer = setInterval(() => {
      const text = line();
      if (text !== null) void pair.write(`${text}\r\n`);
    }, 200);
    let isPulled = false;
    const pull = async () => {
      if (isPulled) return;
      isPulled = true;
      clearInterval(timer);
      await pair.close();
    };
    this.#pulls.push(pull);
    await this.ask('meter.save', { description: { ...serialMeter(label, pair.programEnd), ranges, ...more } });
    return pull;
  }

  async typed(...labels: readonly string[]): Promise<void> {
    for (const label of labels) await this.ask('meter.save', { description: { ...typedMeter(label), ranges } });
  }

  /** Proves dead and confirms what waits for a person, as the page asks it: those pages have walks of their own. */
  async prove(): Promise<void> {
    await proveDead(this.ask);
    await confirmAll(this.ask);
  }

  /** The same, and power declared on. */
  async live(): Promise<void> {
    await this.prove();
    await powerOn(this.ask);
  }

  async close(): Promise<void> {
    for (const pull of this.#pulls) await pull();
  }
}
