import { readFaults, type FaultMaterial } from '../../../src-shared/fault/read-faults.ts';
import type { CauseCode, FaultReading } from '../../../src-shared/fault/fault-reading.ts';
import { judge } from '../../../src-shared/meter/accuracy.ts';
import type { PracticeMeter } from '../../../src-shared/meter/description.ts';
import type { Coupling } from '../../../src-shared/meter/unit.ts';
import { simulateMeter, type SimulatedMeter } from '../../../src-shared/meter/practice-meter.ts';
import { valueAt } from '../../../src-shared/practice/clipped.ts';
import { driftAfter } from '../../../src-shared/practice/fault-effect.ts';
import { observe, type Observed, type PracticeBench } from '../../../src-shared/practice/observed.ts';
import { furtherPracticeMeters, practicePair } from '../../../src-shared/practice/practice-pair.ts';
import { practiceBenchOf, type Scene } from '../../../src-shared/practice/scene.ts';
import { keptValue } from '../../../src-shared/procedure/kept-value.ts';
import type { StandingPoint } from '../../../src-shared/procedure/material.ts';
import { procedureById } from '../../../src-shared/procedure/table.ts';
import type { Generator } from '../../../src-shared/quantity/generator.ts';
import type { Answers } from '../../../src-shared/procedure/field.ts';
import type { KeptPair, KeptValue } from '../../../src-shared/record/run.ts';
import { between } from '../calculation/draw.ts';
import { ids, sceneFor, type RandomScene } from './random-scene.ts';

/** Samples of a period: a few parts in a thousand, which no fault turns on. */
const steps = 160;
const bench: PracticeMeter | undefined = practicePair[0];

/** The meters of the practice bench on one random bench, each with errors of its own for as long as it lives. */
class Meters {
  readonly #generator: Generator;
  readonly #made = new Map<string, SimulatedMeter>();

  constructor(generator: Generator) {
    this.#generator = generator;
  }

  /** The mean of three readings as a run keeps it; null when the meter shows an overload. */
  keep(
    channel: string,
    description: PracticeMeter,
    coupling: Coupling | null,
    truth: number,
    atMs: number,
  ): KeptValue | null {
    const meter = this.#made.get(description.label) ?? simulateMeter(description, this.#generator);
    this.#made.set(description.label, meter);
    const readings = [0, 1, 2].flatMap((index) => {
      const text = meter.lineFor(truth, atMs + 500 * index, null, coupling ?? undefined);
      const shown = /^-?\d+(?:\.(\d+))?/.exec(text);
      if (shown === null) return [];
      const value = Number(shown[0]);
      const resolution = 10 ** -(shown[1]?.length ?? 0);
      const reading = { value, unit: description.unit, resolution, ...(coupling === null ? {} : { coupling }) };
      const judged = judge(1, description, reading, null);
      const isJudged = judged.kind === 'judged';
      return [
        {
          readingId: index + 1,
          value,
          estimate: isJudged ? judged.estimate : null,
          rangeIndex: null,
          bottomOfRange: false,
        },
      ];
    });
    return readings.length < 3 ? null : keptValue(readings, { channel, unit: description.unit, meterId: 1 });
  }
}

/** The bench meter reads volts, the clamp what the others could not hold. */
function meterFor({ id, unit }: { readonly id: string; readonly unit: string }): PracticeMeter {
  const wanted = id === 'secondary-amps' ? 'Practice clamp meter' : null;
  const found = [bench, ...furtherPracticeMeters].find((meter) =>
    wanted === null ? meter?.unit === unit : meter?.label === wanted,
  );
  if (found === undefined) throw new Error(`No practice meter reads ${unit}.`);
  return found;
}

interface Powered {
  readonly bench: PracticeBench;
  readonly observed: Observed;
}

function powered(scene: Scene): Powered {
  const made = practiceBenchOf(scene);
  const observed = made === null ? null : observe(made, steps);
  if (made === null || observed === null) throw new Error('The primary is fed.');
  return { bench: made, observed };
}

/** One sitting at a random bench: every procedure once, its readings by simulated meters, read by the fault reader. */
class Sitting {
  readonly #random: RandomScene;
  readonly #generator: Generator;
  readonly #meters: Meters;
  #minute = 0;

  constructor(random: RandomScene, generator: Generator) {
    this.#random = random;
    this.#generator = generator;
    this.#meters = new Meters(generator);
  }

  /** The line wanders by half a per cent. */
  #line(): number {
    return 1 + between(this.#generator, -0.005, 0.005);
  }

  /** A point of a procedure: all of its channels that are asked for, as they stand. */
  #point(
    procedure: string,
    { bench: at, observed }: Powered,
    channels: readonly string[],
    fields: Answers = {},
  ): StandingPoint {
    this.#minute += 1;
    const values = channels.flatMap((id) => {
      const channel = procedureById(procedure)?.channels.find((one) => one.id === id);
      if (channel === undefined) throw new Error(`${procedure} has no channel ${id}.`);
      const truth = valueAt(at, observed, { channel, responding: 'true-rms' });
      const value = this.#meters.keep(id, meterFor(channel), channel.coupling, truth, 60_000 * this.#minute);
      return value ?? [];
    });
    return { atMs: 60_000 * this.#minute, values, fields };
  }

  #read(procedure: string, more: Partial<FaultMaterial>): readonly FaultReading[] {
    const { core, windings, volts, hertz } = this.#random;
    return readFaults({
      procedure,
      supply: { kind: 'mains', volts, hertz, earthed: 'earthed', rcd: 'yes' },
      fedWindingId: ids.primary,
      core,
      shunts: 'none',
      windings,
      answers: {},
      points: [],
      pairs: [],
      noLoadBefore: null,
      ...more,
    });
  }

  beforePower(): readonly FaultReading[] {
    const off = powered(sceneFor(this.#random, 'isolated-low-voltage', 12, 1, {}));
    const [insulation, resistance] = ['insulation-resistance', 'winding-resistance'];
    const megohms = this.#point(insulation, off, ['insulation-ohms', 'earth-ohms'], {
      minimumMegohms: 2,
      oneEndOnCore: 'no',
    });
    const two = this.#point(resistance, off, ['winding-ohms']);
    const four = this.#point(resistance, off, ['winding-volts', 'test-amps'], { polarity: 'forward' });
    // The practice bench has no d.c. ammeter: its 1 A source is taken at its word.
    const amps = { ...four, values: [...four.values.filter(({ channel }) => channel !== 'test-amps'), oneAmpere] };
    return [
      ...this.#read(insulation, { points: [megohms] }),
      ...this.#read(resistance, { points: [two, amps], answers: { windingId: ids.primary, celsius: 21 } }),
    ];
  }

  /** At 19 V, which both meters hold on their ranges of 20 V. The coil of the build and two wound anew, each with the meters exchanged as well, and the first again at the end. */
  coils(): readonly FaultReading[] {
    const kind = 'isolated-low-voltage';
    const supply = { kind, volts: 19, hertz: this.#random.hertz, earthed: 'floating', rcd: 'no' } as const;
    const at = (coilTurns: number | null) =>
      powered(sceneFor(this.#random, kind, 19, this.#line(), { coilTurns })).observed;
    const [own, second, third] = [at(null), at(20), at(30)];
    const both = (turns: number, observed: Observed) => [false, true].map((is) => this.#pair(turns, observed, is));
    const pairs = [...both(10, own), ...both(20, second), ...both(30, third), this.#pair(10, own, false)];
    return this.#read('test-coil', { supply, pairs: pairs.filter((pair) => pair !== null) });
  }

  #pair(coilTurns: number, observed: Observed, swapped: boolean): KeptPair | null {
    this.#minute += 1;
    const atMs = 60_000 * this.#minute;
    const volts = (id: number) => observed.volts[String(id)]?.rms ?? 0;
    const drift = driftAfter({ fault: this.#random.fault, sizes: this.#random.sizes }, this.#minute);
    const [first, second] = practicePair;
    if (first === undefined || second === undefined) throw new Error('The practice pair is two meters.');
    // The first of them drifts, wherever it is clipped.
    const read = (channel: string, meter: PracticeMeter, truth: number) =>
      this.#meters.keep(channel, meter, 'ac', truth * (meter === first ? drift : 1), atMs);
    const primary = read('primary-volts', swapped ? second : first, volts(ids.primary));
    const coil = read('coil-volts', swapped ? first : second, volts(ids.coil));
    if (primary === null || coil === null) return null;
    const plain = { order: 'together', driftVolts: null, withdrawn: null } as const;
    return { ...plain, eventId: this.#minute, coilTurns, swapped, primary, coil };
  }

  polarity(): readonly FaultReading[] {
    const low = powered(sceneFor(this.#random, 'isolated-low-voltage', 24, this.#line(), {}));
    const point = this.#point('polarity', low, ['first-volts', 'second-volts', 'joined-volts']);
    return this.#read('polarity', { points: [point] });
  }

  /** No load through a lamp and on the mains, with turns added in series; expected is what it reads without the fault. */
  noLoad(): readonly FaultReading[] {
    const turns = this.#random.truth.turns.primary;
    const addedTurns = Math.round(0.08 * turns);
    const channels = ['primary-volts', 'line-amps', 'watts'];
    const at = (kind: Scene['supply']['kind'], fault = this.#random.fault) =>
      this.#point(
        'no-load-sweep',
        powered(sceneFor(this.#random, kind, this.#random.volts, this.#line(), { addedTurns }, fault)),
        channels,
        { turns: turns + addedTurns },
      );
    const before = at('mains', 'none');
    const expected = (id: string) => before.values.find(({ channel }) => channel === id)?.value ?? NaN;
    const answers = { addedTurns, expectedAmps: expected('line-amps'), expectedWatts: expected('watts') };
    const { volts, hertz } = this.#random;
    const lamp = { kind: 'mains-through-lamp', volts, hertz, earthed: 'earthed', rcd: 'yes' } as const;
    return [
      ...this.#read('no-load-sweep', { supply: lamp, points: [at('mains-through-lamp')], answers }),
      ...this.#read('no-load-sweep', { points: [at('mains')], answers }),
    ];
  }

  loaded(): readonly FaultReading[] {
    const { ratedAmps, volts, ratio } = this.#random;
    const ofRated = [0.1, 0.4, 0.7, 1, 1.3];
    const channels = [
      'secondary-volts',
      'secondary-amps',
      'primary-volts',
      'lug-volts',
      'lug-temperature',
      'winding-temperature',
    ];
    const points = ofRated.map((part) => {
      const loadOhms = (volts * ratio ** 2) / (part * ratedAmps);
      return this.#point(
        'loaded-run',
        powered(sceneFor(this.#random, 'mains', volts, this.#line(), { loadOhms })),
        channels,
      );
    });
    return this.#read('loaded-run', { points });
  }

  shorted(): readonly FaultReading[] {
    const { ratedAmps, truth, ratio, hertz } = this.#random;
    const { turns, ohmsPerTurn } = truth;
    const ohms = turns.primary * ohmsPerTurn.primary + (turns.secondary * ohmsPerTurn.secondary) / ratio ** 2;
    const volts = Math.max(1, ratedAmps * ohms);
    const short = powered(sceneFor(this.#random, 'isolated-low-voltage', volts, 1, { loadOhms: 0 }));
    const point = this.#point('short-circuit', short, ['primary-volts', 'line-amps', 'watts']);
    const supply = { kind: 'isolated-low-voltage', volts, hertz, earthed: 'floating', rcd: 'no' } as const;
    return this.#read('short-circuit', {
      supply,
      points: [point],
      answers: { shortedWindingId: ids.secondary, ratedAmps },
    });
  }
}

const oneAmpere: KeptValue = {
  channel: 'test-amps',
  unit: 'A',
  value: 1,
  u: 0.002,
  shape: 'normal',
  dof: null,
  shared: null,
  meterId: 1,
  readingIds: [],
  rangeIndex: null,
  bottomOfRange: false,
};

/** What the fault reader says of everything that was read at a random bench. */
export function readingsAt(random: RandomScene, generator: Generator): readonly FaultReading[] {
  const sitting = new Sitting(random, generator);
  return [
    ...sitting.beforePower(),
    ...sitting.coils(),
    ...sitting.polarity(),
    ...sitting.noLoad(),
    ...sitting.loaded(),
    ...sitting.shorted(),
  ];
}

/** The causes that fit some reading, each once. */
export const namedIn = (readings: readonly FaultReading[]): readonly CauseCode[] => [
  ...new Set(readings.flatMap(({ suspicions }) => suspicions.filter(({ fits }) => fits).map(({ code }) => code))),
];
