import type { Circuit, Coil, Instants } from './circuit.ts';
import { heated, type Temperatures } from './heating.ts';
import { lampOhms } from './lamp.ts';
import { steadyPeriod, type Period } from './steady-state.ts';
import { ohmsAt, type PracticeTransformer, type PracticeWinding } from './windings.ts';
import { ironHeat, meanProduct, waveFacts, type WaveFacts } from './wave.ts';

/** What feeds a practice bench. */
export interface PracticeSupply {
  readonly volts: number;
  readonly hertz: number;
  /** Its own resistance (in Ω) and inductance (in H): next to nothing when it is stiff. */
  readonly ohms: number;
  readonly henries: number;
  /** A filament lamp in series; null without. */
  readonly lamp: { readonly watts: number; readonly volts: number } | null;
  /** It stands apart from earth and mains. */
  readonly isolated: boolean;
}

/** What is hidden in the bench for the person to find. */
export interface PracticeFaults {
  /** Resistance of a turn that is shorted, in Ω; null when none is. */
  readonly shortedTurnOhms: number | null;
  /** Resistance of a bad joint in the fed winding's leads, in Ω; 0 when all are good. */
  readonly feedJointOhms: number;
  /** Of the lugs between a loaded winding and its load, in Ω. */
  readonly lugOhms: number;
  /** The core's earth is not joined. */
  readonly earthOpen: boolean;
  /** Between windings and core, in Ω. */
  readonly insulationOhms: number;
  /** The leads of the secondary are exchanged. */
  readonly leadSwapped: boolean;
  /** The secondary is of two strands, and one of them is joined the wrong way round at both ends. */
  readonly strandsOpposed: boolean;
}

/** A practice bench: what lies on it and how it is joined. All of it is the person's doing, but for the hidden truth. */
export interface PracticeBench {
  readonly transformer: PracticeTransformer;
  readonly supply: PracticeSupply;
  readonly isOn: boolean;
  readonly fedWindingId: string;
  /** Temporary turns in series with the fed winding; null without. */
  readonly added: { readonly turns: number; readonly ohms20: number; readonly opposed: boolean } | null;
  /** Loads by winding, in Ω; 0 is a short. Windings that are not named are open. */
  readonly loads: Readonly<Record<string, number>>;
  readonly faults: PracticeFaults;
  readonly temperatures: Temperatures;
  readonly roomCelsius: number;
}

/** What goes on at the bench while power is on, by the truth. */
export interface Observed {
  /** Volts by winding, at its own ends. */
  readonly volts: Readonly<Record<string, WaveFacts>>;
  /** Current from the supply, and its power at the fed winding's ends, in A and W. */
  readonly lineAmps: WaveFacts;
  readonly watts: number;
  /** Current by loaded winding, in A. */
  readonly loadAmps: Readonly<Record<string, WaveFacts>>;
  readonly peakTesla: number;
  /** Heat in the windings and in the iron, in W. */
  readonly windingHeat: number;
  readonly coreHeat: number;
  /** Heat in a bad joint of the feed and in the lugs, in W: outside the windings. */
  readonly jointHeat: number;
  /** Effective volts between the core and earth. */
  readonly coreVolts: number;
}

/** Leakage of one turn that is shorted, in H: small, but not nothing. */
const turnHenries = 2e-8;
/** A lamp's resistance is found again until it moves by less than this share. */
const lampCloseEnough = 1e-5;
const mostLampTries = 60;

const dark: WaveFacts = { rms: 0, averageResponding: 0, peak: 0 };

/** The secondary whose strands stand against each other; undefined while none does. */
const againstItself = ({ transformer, faults, fedWindingId }: PracticeBench): PracticeWinding | undefined =>
  faults.strandsOpposed
    ? transformer.windings.find(({ role, id }) => role === 'secondary' && id !== fedWindingId)
    : undefined;

/**
 * Loops that carry without a load. Two strands, each of all the turns and twice the resistance, of which one is joined the
 * wrong way round, are in series round a loop of their own: twice the turns, four times the resistance and leakage.
 */
function ownLoops(bench: PracticeBench, at: (winding: PracticeWinding) => number): readonly Coil[] {
  const { shortedTurnOhms } = bench.faults;
  const against = againstItself(bench);
  return [
    ...(shortedTurnOhms === null ? [] : [{ turns: 1, ohms: shortedTurnOhms, henries: turnHenries }]),
    ...(against === undefined
      ? []
      : [{ turns: 2 * against.turns, ohms: 4 * at(against), henries: 4 * against.henries }]),
  ];
}

/** The coils of a bench and which of its windings they stand for, the fed one first. */
function coilsOf(bench: PracticeBench, fed: PracticeWinding, seriesOhms: number) {
  const { transformer, supply, added, loads, faults, temperatures } = bench;
  const at = (winding: PracticeWinding) => ohmsAt(winding, temperatures.winding);
  const sign = added?.opposed === true ? -1 : 1;
  const fedCoil: Coil = {
    turns: fed.turns + sign * (added?.turns ?? 0),
    ohms: at(fed) + at({ ...fed, ohms20: added?.ohms20 ?? 0 }) + faults.feedJointOhms + seriesOhms,
    henries: fed.henries * transformer.shuntFactor + supply.henries,
  };
  const against = againstItself(bench);
  const carrying = transformer.windings.filter(
    ({ id }) => id !== fed.id && id !== against?.id && loads[id] !== undefined,
  );
  const loaded = carrying.map((winding): Coil => ({
    turns: winding.turns,
    ohms: at(winding) + faults.lugOhms + (loads[winding.id] ?? 0),
    henries: winding.henries,
  }));
  return { fedCoil, carrying, coils: [...loaded, ...ownLoops(bench, at)] };
}

/**
 * What goes on at a bench in the state it is in: the settled period of its circuit, with the lamp at the resistance that
 * its own current gives it. Null when the fed winding is not there.
 * @param steps - samples of a period; even. Fewer are quicker and less exact
 */
export function observe(bench: PracticeBench, steps?: number): Observed | null {
  const { transformer, supply, isOn } = bench;
  const fed = transformer.windings.find(({ id }) => id === bench.fedWindingId);
  if (fed === undefined) return null;
  if (!isOn || supply.volts === 0) return nothingOn(bench);
  const solve = (lamp: number, from?: Instants) => {
    const seriesOhms = supply.ohms + lamp;
    const { fedCoil, carrying, coils } = coilsOf(bench, fed, seriesOhms);
    const circuit: Circuit = {
      iron: transformer.iron,
      volts: supply.volts,
      hertz: supply.hertz,
      fed: fedCoil,
      loaded: coils,
    };
    return { seriesOhms, fedCoil, carrying, coils, period: steadyPeriod(circuit, steps, from) };
  };
  return seen(bench, fed, solveWithLamp(bench, solve));
}

interface Solved {
  readonly seriesOhms: number;
  readonly fedCoil: Coil;
  readonly carrying: readonly PracticeWinding[];
  readonly coils: readonly Coil[];
  readonly period: Period;
}

/**
 * A lamp has the resistance that its own current gives it. More current makes it higher, and that the current lower: the
 * two meet once. Found by the false position method with the Illinois weight (Dowell and Jarratt 1971): the end that stays
 * twice counts half.
 */
function solveWithLamp({ supply }: PracticeBench, solve: (lampOhms: number, from?: Instants) => Solved): Solved {
  const { lamp } = supply;
  if (lamp === null) return solve(0);
  let [low, high] = [lampOhms(lamp, 0), (lamp.volts * lamp.volts) / lamp.watts];
  let solved = solve(low);
  /** By how much the resistance that was solved for is too low. */
  const shortOf = (ohms: number) => lampOhms(lamp, waveFacts(solved.period.amps[0] ?? []).rms) - ohms;
  const short = (ohms: number) => {
    solved = solve(ohms, solved.period.began);
    return shortOf(ohms);
  };
  let atLow = shortOf(low);
  if (atLow <= lampCloseEnough * low) return solved;
  let atHigh = short(high);
  while (atHigh > 0) [low, atLow, high, atHigh] = [high, atHigh, 2 * high, short(2 * high)];
  let stayed: 'low' | 'high' | null = null;
  for (let tries = 0; tries < mostLampTries; tries += 1) {
    const ohms = (low * atHigh - high * atLow) / (atHigh - atLow);
    const at = short(ohms);
    if (Math.abs(at) <= lampCloseEnough * high) break;
    if (at > 0) {
      [low, atLow, atHigh] = [ohms, at, stayed === 'high' ? atHigh / 2 : atHigh];
      stayed = 'high';
    } else {
      [high, atHigh, atLow] = [ohms, at, stayed === 'low' ? atLow / 2 : atLow];
      stayed = 'low';
    }
  }
  return solved;
}

function seen(bench: PracticeBench, fed: PracticeWinding, solved: Solved): Observed {
  const { transformer, supply, loads, faults } = bench;
  const { period, fedCoil, carrying, coils, seriesOhms } = solved;
  const line = period.amps[0] ?? [];
  const rate = (amps: readonly number[]) => slopesOf(amps, period.hertz);
  const lineRate = rate(line);
  const atEnds = period.source.map(
    (volts, index) => volts - seriesOhms * (line[index] ?? 0) - supply.henries * (lineRate[index] ?? 0),
  );
  // Flux of the shunts goes through the fed winding's side of the window, and through a coil that was wound on there.
  const shuntHenries = fed.henries * (transformer.shuntFactor - 1);
  const besideFed = (index: number) => (shuntHenries * (lineRate[index] ?? 0)) / fedCoil.turns;
  const against = againstItself(bench);
  const volts = transformer.windings.map((winding): [string, WaveFacts] => {
    if (winding.id === fed.id) return [winding.id, waveFacts(atEnds)];
    if (winding.id === against?.id) return [winding.id, dark];
    const coil = carrying.indexOf(winding);
    const amps = coil === -1 ? null : period.amps[coil + 1];
    if (amps === null || amps === undefined) {
      const isBeside = winding.role === 'test-coil' && !transformer.coilBeyondShunts;
      const perTurn = period.voltsPerTurn.map((one, index) => one + (isBeside ? besideFed(index) : 0));
      return [winding.id, waveFacts(perTurn.map((one) => one * winding.turns))];
    }
    return [winding.id, waveFacts(amps.map((one) => one * (loads[winding.id] ?? 0)))];
  });
  const squares = coils.map((_, index) => waveFacts(period.amps[index + 1] ?? []).rms ** 2);
  const ofLoad = (index: number) => {
    const carries = carrying[index];
    return carries === undefined ? 0 : (loads[carries.id] ?? 0) + faults.lugOhms;
  };
  const copper = coils.map(({ ohms }, index) => (squares[index] ?? 0) * (ohms - ofLoad(index)));
  const lugs = carrying.map((_, index) => (squares[index] ?? 0) * faults.lugOhms);
  const lineFacts = waveFacts(line);
  const sum = (watts: readonly number[]) => watts.reduce((total, one) => total + one, 0);
  return {
    volts: Object.fromEntries(volts),
    lineAmps: lineFacts,
    watts: meanProduct(atEnds, line),
    loadAmps: Object.fromEntries(carrying.map(({ id }, index) => [id, waveFacts(period.amps[index + 1] ?? [])])),
    peakTesla: waveFacts(period.flux).peak / transformer.iron.areaM2,
    windingHeat: lineFacts.rms ** 2 * (fedCoil.ohms - seriesOhms - faults.feedJointOhms) + sum(copper),
    coreHeat: ironHeat(period),
    jointHeat: lineFacts.rms ** 2 * faults.feedJointOhms + sum(lugs),
    coreVolts: coreVolts(bench, new Map(volts)),
  };
}

/** How fast a wave changes, from its neighbours on both sides, in its unit a second. */
function slopesOf(samples: readonly number[], hertz: number): readonly number[] {
  const count = samples.length;
  const at = (index: number) => samples[(index + count) % count] ?? 0;
  return samples.map((_, index) => ((at(index + 1) - at(index - 1)) * hertz * count) / 2);
}

/** An earth that is open lets the core take up what a winding joined to it makes, or half the supply by stray capacitance. */
function coreVolts({ transformer, faults, supply }: PracticeBench, volts: ReadonlyMap<string, WaveFacts>): number {
  if (!faults.earthOpen) return 0;
  const joined = transformer.windings.filter(({ endOnCore }) => endOnCore).map(({ id }) => volts.get(id)?.rms ?? 0);
  return Math.max(supply.isolated ? 0 : supply.volts / 2, ...joined);
}

function nothingOn({ transformer }: PracticeBench): Observed {
  return {
    volts: Object.fromEntries(transformer.windings.map(({ id }) => [id, dark])),
    lineAmps: dark,
    watts: 0,
    loadAmps: {},
    peakTesla: 0,
    windingHeat: 0,
    coreHeat: 0,
    jointHeat: 0,
    coreVolts: 0,
  };
}

/** The bench after some seconds in which what was observed went on: its temperatures moved. */
export function after(bench: PracticeBench, observed: Observed, seconds: number): PracticeBench {
  const watts = { winding: observed.windingHeat, core: observed.coreHeat };
  const temperatures = heated(bench.transformer.heating, bench.temperatures, watts, bench.roomCelsius, seconds);
  return { ...bench, temperatures };
}
