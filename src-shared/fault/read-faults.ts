import { inputOf, type StandingPoint } from '../procedure/material.ts';
import { numberOf, wordOf, type Answers } from '../procedure/field.ts';
import { fitLine } from '../quantity/line-fit.ts';
import type { BuildFields, Winding } from '../record/build.ts';
import type { CoreFields } from '../record/core.ts';
import type { KeptPair } from '../record/run.ts';
import type { Supply } from '../record/session.ts';
import { readBeforePower, readPolarity } from './before-power.ts';
import { bendOf } from './bend.ts';
import { readCoils } from './coil.ts';
import type { FaultReading } from './fault-reading.ts';
import { readNoLoad } from './no-load.ts';
import { readLoaded } from './output.ts';
import { readResistance } from './resistance.ts';
import { readShort } from './short.ts';

/** Everything that the fault reader looks at: one run, and what the record knew of its core already. */
export interface FaultMaterial {
  readonly procedure: string;
  readonly supply: Supply;
  readonly fedWindingId: number | null;
  readonly core: CoreFields | null;
  readonly shunts: BuildFields['shunts'];
  readonly windings: readonly Pick<Winding, 'windingId' | 'fields'>[];
  readonly answers: Answers;
  /** Points and pairs that count. */
  readonly points: readonly StandingPoint[];
  readonly pairs: readonly KeptPair[];
  /** What the same build took at no load in an earlier run; null when none was kept. */
  readonly noLoadBefore: { readonly volts: number; readonly amps: number; readonly watts: number | null } | null;
}

/** What was expected against what was seen in a run, from what was read; empty where nothing can be told. */
export function readFaults(material: FaultMaterial): readonly FaultReading[] {
  switch (material.procedure) {
    case 'winding-resistance':
      return one(resistance(material));
    case 'insulation-resistance':
      return beforePower(material);
    case 'test-coil':
      return one(readCoils(material.pairs, material.supply.hertz));
    case 'polarity':
      return one(polarity(material));
    case 'no-load':
    case 'no-load-sweep':
      return one(noLoad(material));
    case 'loaded-run':
      return one(loaded(material));
    case 'short-circuit':
      return one(short(material));
    default:
      return [];
  }
}

const one = (reading: FaultReading | null): readonly FaultReading[] => (reading === null ? [] : [reading]);

type Fields = Winding['fields'];

const windingOf = ({ windings }: FaultMaterial, id: number | null): Fields | undefined =>
  windings.find(({ windingId }) => windingId === id)?.fields;
const fedOf = (material: FaultMaterial): Fields | undefined => windingOf(material, material.fedWindingId);
/** The first output that is not itself fed. */
const secondaryOf = ({ windings, fedWindingId }: FaultMaterial): Fields | undefined =>
  windings.find(({ windingId, fields }) => fields.role === 'secondary' && windingId !== fedWindingId)?.fields;

function turnsOf(fields: Fields | undefined): { readonly value: number; readonly u: number | null } | null {
  const turns = fields?.turns;
  if (turns === undefined || turns.kind === 'unknown') return null;
  return turns.kind === 'counted' ? { value: turns.turns, u: 0 } : { value: turns.value, u: turns.u };
}
const ohmsOf = (fields: Fields | undefined): number | null => fields?.ohms?.value ?? null;

/** Output turns over fed turns. */
function ratioOf(material: FaultMaterial): number | null {
  const [fed, output] = [turnsOf(fedOf(material)), turnsOf(secondaryOf(material))];
  return fed === null || output === null ? null : output.value / fed.value;
}

const valueIn = (point: StandingPoint, channel: string): number | null => inputOf(point, channel)?.value ?? null;

/** The mean turn of a winding of a shell core fills or half fills the window: straight sides, corners of a quarter circle. */
function meanTurnOf(core: CoreFields | null) {
  if (core?.tongue === undefined || core.stack === undefined || core.windowWidth === undefined) return null;
  const corners = Math.PI * core.windowWidth.value;
  return { value: 2 * (core.tongue.value + core.stack.value) + corners, u: corners / 2 / Math.sqrt(3) };
}

function resistance(material: FaultMaterial): FaultReading | null {
  const { points, answers, core } = material;
  const fields = windingOf(material, numberOf(answers, 'windingId'));
  const two = points.findLast((point) => inputOf(point, 'winding-ohms') !== undefined);
  const ohms = two === undefined ? undefined : inputOf(two, 'winding-ohms');
  const leads = two === undefined ? 0 : (numberOf(two.fields, 'leadOhms') ?? 0);
  const four = points.findLast(
    (point) => valueIn(point, 'test-amps') !== null && valueIn(point, 'winding-volts') !== null,
  );
  return readResistance({
    twoWire: ohms === undefined ? null : { value: ohms.value - leads, u: doubtOf(ohms) },
    fourWire: four === undefined ? null : quotient(four),
    celsius: numberOf(answers, 'celsius') ?? 20,
    metal: fields === undefined || fields.metal === 'not-known' ? null : fields.metal,
    turns: turnsOf(fields),
    bareDiameterMm: fields?.bareDiameter ?? null,
    meanTurnMm: meanTurnOf(core),
  });
}

type Measured = NonNullable<ReturnType<typeof inputOf>>;

/** Own and shared doubt of one value together; null when nobody knows it. */
const doubtOf = (value: Measured): number | null =>
  value.u === null ? null : Math.hypot(value.u, 'shared' in value ? (value.shared?.u ?? 0) : 0);

/** Volts inside the current clips over the current, with its doubt. */
function quotient(point: StandingPoint) {
  const [volts, amps] = [inputOf(point, 'winding-volts'), inputOf(point, 'test-amps')];
  if (volts === undefined || amps === undefined) return null;
  const value = Math.abs(volts.value / amps.value);
  const [ofVolts, ofAmps] = [doubtOf(volts), doubtOf(amps)];
  const u = ofVolts === null || ofAmps === null ? null : value * Math.hypot(ofVolts / volts.value, ofAmps / amps.value);
  return { value, u };
}

function beforePower({ points }: FaultMaterial): readonly FaultReading[] {
  const last = points.at(-1);
  if (last === undefined) return [];
  const endOnCore = wordOf(last.fields, 'oneEndOnCore');
  const ohms = inputOf(last, 'insulation-ohms');
  return readBeforePower({
    insulationOhms: ohms?.value ?? null,
    insulationDoubt: ohms === undefined ? null : doubtOf(ohms),
    minimumMegohms: numberOf(last.fields, 'minimumMegohms'),
    endOnCore: endOnCore === 'yes' || endOnCore === 'no' ? endOnCore : 'not-looked',
    earthOhms: valueIn(last, 'earth-ohms'),
  });
}

function polarity(material: FaultMaterial): FaultReading | null {
  const point = material.points.at(-1);
  if (point === undefined) return null;
  const [first, second, joined] = ['first-volts', 'second-volts', 'joined-volts'].map((id) => valueIn(point, id));
  if (typeof first !== 'number' || typeof second !== 'number' || typeof joined !== 'number') return null;
  return readPolarity({ first, second, joined, ratio: ratioOf(material) });
}

/** Turns that differ by less are the same, as far as a current can tell. */
const sameTurns = 0.01;

/** Peak flux density in a shell core's tongue, B = U / (4.44 f N A), at the usual stacking of 0.95; null when not measured. */
function teslaOf({ core, supply }: FaultMaterial, volts: number, turns: number | null): number | null {
  if (core?.tongue === undefined || core.stack === undefined || turns === null) return null;
  const areaM2 = core.tongue.value * core.stack.value * (core.stackingFactor ?? 0.95) * 1e-6;
  return (volts * Math.SQRT2) / (2 * Math.PI * supply.hertz * turns * areaM2);
}

function noLoad(material: FaultMaterial): FaultReading | null {
  const { answers, points, noLoadBefore, supply } = material;
  const point = points.at(-1);
  if (point === undefined) return null;
  const asked = numberOf(answers, 'expectedAmps');
  const expected =
    asked === null ? noLoadBefore : { volts: supply.volts, amps: asked, watts: numberOf(answers, 'expectedWatts') };
  const [amps, volts] = [valueIn(point, 'line-amps'), valueIn(point, 'primary-volts')];
  if (expected === null || amps === null || volts === null || volts <= 0 || amps <= 0) return null;
  const wound = turnsOf(fedOf(material))?.value ?? null;
  const turns = numberOf(point.fields, 'turns') ?? wound;
  const addedTurns = numberOf(answers, 'addedTurns');
  // An expectation is for the turns that are wound, unless somebody said that some were added to them.
  if (addedTurns === null && wound !== null && turns !== null && Math.abs(turns / wound - 1) > sameTurns) return null;
  const [output, outputOhms] = [turnsOf(secondaryOf(material)), ohmsOf(secondaryOf(material))];
  const hertz = valueIn(point, 'line-hertz');
  return readNoLoad({
    expectedAmps: expected.amps,
    expectedWatts: expected.watts,
    nominalVolts: expected.volts,
    amps,
    volts,
    averageVolts: valueIn(point, 'average-volts'),
    turns,
    addedTurns,
    watts: valueIn(point, 'watts'),
    hertz: hertz === null ? null : { read: hertz, noted: supply.hertz },
    fedOhms: ohmsOf(fedOf(material)),
    tesla: teslaOf(material, volts, turns),
    secondary: output === null || outputOhms === null ? null : { turns: output.value, ohms: outputOhms },
    hasLamp: supply.kind === 'mains-through-lamp',
  });
}

interface LoadPoint {
  readonly amps: number;
  readonly volts: number;
  readonly line: number | null;
}

function loadPoints({ points }: FaultMaterial): readonly LoadPoint[] {
  return points
    .flatMap((point) => {
      const [amps, volts] = [valueIn(point, 'secondary-amps'), valueIn(point, 'secondary-volts')];
      return amps === null || volts === null ? [] : [{ amps, volts, line: valueIn(point, 'primary-volts') }];
    })
    .toSorted((a, b) => a.amps - b.amps);
}

/** What lies before the transformer by the fall of its line volts, in Ω on the fed side; null where they were not read. */
function lineFall(points: readonly LoadPoint[], ratio: number | null) {
  const [least, most] = [points[0], points.at(-1)];
  const from = least?.line ?? null;
  const to = most?.line ?? null;
  if (least === undefined || most === undefined || from === null || to === null || ratio === null) return null;
  const amps = (most.amps - least.amps) * ratio;
  return amps <= 0 ? null : { from, to, ohms: (from - to) / amps };
}

function loaded(material: FaultMaterial): FaultReading | null {
  const all = loadPoints(material);
  const [first, last] = [all[0], all.at(-1)];
  if (first === undefined || last === undefined || !(last.amps > first.amps)) return null;
  const reference = material.supply.volts;
  const straight = all.map(({ amps, volts, line }) => ({
    x: amps,
    y: line === null ? volts : (volts * reference) / line,
  }));
  const ratio = ratioOf(material);
  const [lugVolts, lugCelsius, windingCelsius] = ['lug-volts', 'lug-temperature', 'winding-temperature'].map((id) =>
    atMostLoad(material, id),
  );
  return readLoaded({
    ohms: -fitLine(straight).slope,
    secondaryOhms: ohmsOf(secondaryOf(material)),
    primaryOhms: ohmsOf(fedOf(material)),
    ratio,
    shunts: material.shunts,
    lugOhms: typeof lugVolts === 'number' ? lugVolts / last.amps : null,
    lugKelvin:
      typeof lugCelsius === 'number' && typeof windingCelsius === 'number' ? lugCelsius - windingCelsius : null,
    line: lineFall(all, ratio),
    bend: bendOf(straight),
  });
}

/** What a channel read with the most load on; null when it was not read. */
function atMostLoad({ points }: FaultMaterial, channel: string): number | null {
  const loadedPoints = points.filter((point) => valueIn(point, 'secondary-amps') !== null);
  const most = loadedPoints.reduce<StandingPoint | null>(
    (best, point) =>
      best === null || (valueIn(point, 'secondary-amps') ?? 0) > (valueIn(best, 'secondary-amps') ?? 0) ? point : best,
    null,
  );
  return most === null ? null : valueIn(most, channel);
}

function short(material: FaultMaterial): FaultReading | null {
  const { points, answers, core, shunts } = material;
  const point = points.at(-1);
  if (point === undefined) return null;
  const [volts, amps, watts] = ['primary-volts', 'line-amps', 'watts'].map((id) => valueIn(point, id));
  if (typeof volts !== 'number' || typeof amps !== 'number' || typeof watts !== 'number' || amps <= 0) return null;
  const [fed, shorted] = [fedOf(material), windingOf(material, numberOf(answers, 'shortedWindingId'))];
  const [fedTurns, shortedTurns] = [turnsOf(fed), turnsOf(shorted)];
  const ratio = fedTurns === null || shortedTurns === null ? null : fedTurns.value / shortedTurns.value;
  const [fedOhms, shortedOhms] = [ohmsOf(fed), ohmsOf(shorted)];
  return readShort({
    volts,
    amps,
    watts,
    expectedOhms:
      ratio === null || fedOhms === null || shortedOhms === null ? null : fedOhms + shortedOhms * ratio ** 2,
    ratio,
    ratedAmps: numberOf(answers, 'ratedAmps'),
    nominalVolts: core?.fromVolts ?? null,
    shunts,
  });
}
