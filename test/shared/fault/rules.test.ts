import { describe, expect, it } from 'vitest';
import { readBeforePower, readPolarity } from '../../../src-shared/fault/before-power.ts';
import { bendOf } from '../../../src-shared/fault/bend.ts';
import { readCoils } from '../../../src-shared/fault/coil.ts';
import type { FaultReading } from '../../../src-shared/fault/fault-reading.ts';
import { readNoLoad, type NoLoadSeen } from '../../../src-shared/fault/no-load.ts';
import { readLoaded, type LoadedSeen } from '../../../src-shared/fault/output.ts';
import { readResistance, type ResistanceSeen } from '../../../src-shared/fault/resistance.ts';
import { readShort, type ShortSeen } from '../../../src-shared/fault/short.ts';
import type { KeptPair, KeptValue } from '../../../src-shared/record/run.ts';

const fitting = (reading: FaultReading | null | undefined) =>
  (reading?.suspicions ?? []).filter(({ fits }) => fits).map(({ code }) => code);
const causeOf = (reading: FaultReading | null, code: string) =>
  reading?.suspicions.find((one) => one.code === code)?.cause ?? '';

/** 230 V on 400 turns of 2 Ω, 0.2 A and 8 W expected; an output of 40 turns and 0.08 Ω. */
const idle: NoLoadSeen = {
  expectedAmps: 0.2,
  expectedWatts: 8,
  nominalVolts: 230,
  amps: 0.2,
  volts: 230,
  averageVolts: null,
  turns: 400,
  addedTurns: null,
  watts: 8,
  hertz: null,
  fedOhms: 2,
  tesla: 1.4,
  secondary: { turns: 40, ohms: 0.08 },
  hasLamp: false,
};

describe('a no-load point', () => {
  it('names a shorted turn by the watts that are left over, and says what one turn would be', () => {
    // 60 W, less 0.33² x 2 Ω and 8 W: 51.8 W into (230 - 0.33 x 2 x 0.79)² / 400² V²: 6.4 mΩ. A turn of the primary has 5 mΩ.
    const reading = readNoLoad({ ...idle, amps: 0.33, watts: 60 });
    expect(fitting(reading)).toEqual(['shorted-turn']);
    expect(causeOf(reading, 'shorted-turn')).toContain('One turn of 6.4 mΩ');
  });

  it('names a gap by amps without watts', () => {
    const reading = readNoLoad({ ...idle, amps: 0.5, watts: 8.6 });
    expect(fitting(reading)).toEqual(['joint-gap']);
    // By hand: from √(0.2² - (8/230)²) to √(0.5² - (8.6/230)²), 0.302 A more; 4e-7 π x 400 x 0.302 x √2 / 1.4 = 0.153 mm.
    expect(causeOf(reading, 'joint-gap')).toContain('about 0.15 mm');
  });

  it('sees a shorted turn in watts where the amps hardly show it', () => {
    expect(readNoLoad({ ...idle, amps: 0.22, watts: 16 }).isAsExpected).toBe(false);
    expect(readNoLoad({ ...idle, amps: 0.22, watts: 9 }).isAsExpected).toBe(true);
  });

  it('names strands against each other where far more goes than into a turn', () => {
    // 0.08 Ω / 40² is 0.05 mΩ as one turn, 8 Ω seen from 400 turns beside 2 Ω of their own: 2.6 V at 0.26 A, all of it real.
    const reading = readNoLoad({ ...idle, hasLamp: true, volts: 2.6, amps: 0.26, watts: 0.676 });
    expect(fitting(reading)).toContain('opposed-strands');
    expect(fitting(readNoLoad({ ...idle, amps: 0.33, watts: 60 }))).not.toContain('opposed-strands');
  });

  it('takes an expectation to other volts as a band, and a lamp for what it is', () => {
    expect(readNoLoad({ ...idle, volts: 200, amps: 0.11 }).isAsExpected).toBe(true);
    expect(readNoLoad({ ...idle, volts: 120, amps: 0.2, watts: null }).isAsExpected).toBe(false);
    const dim = readNoLoad({ ...idle, amps: 0.1, watts: 4 });
    expect(fitting(dim)).toEqual(['soft-supply', 'more-turns']);
    expect(fitting(readNoLoad({ ...idle, amps: 0.1, watts: 4, hasLamp: true }))).toEqual(['more-turns']);
  });

  it('names another frequency, and volts that are no sine', () => {
    expect(fitting(readNoLoad({ ...idle, hertz: { read: 60, noted: 50 } }))).toEqual(['other-hertz']);
    expect(fitting(readNoLoad({ ...idle, averageVolts: 239 }))).toEqual(['soft-supply']);
    expect(readNoLoad({ ...idle, averageVolts: 231, hertz: { read: 50.02, noted: 50 } }).isAsExpected).toBe(true);
  });
});

describe('a loaded output', () => {
  const loaded: LoadedSeen = {
    ohms: 0.2,
    secondaryOhms: 0.1,
    primaryOhms: 5,
    ratio: 0.1,
    shunts: 'none',
    lugOhms: 1e-3,
    lugKelvin: null,
    line: { from: 230, to: 228, ohms: 1 },
    bend: 0,
  };

  it('tells a lug by its own millivolts or its heat, and clears it by them', () => {
    expect(causeOf(readLoaded({ ...loaded, lugOhms: 0.045 }), 'lug')).toBe('A loose lug: 45 mΩ across it.');
    expect(fitting(readLoaded({ ...loaded, ohms: 0.15, lugKelvin: 40 }))).toEqual(['lug']);
    expect(fitting(readLoaded(loaded))).toEqual([]);
  });

  it('tells shunts by a sag that bends, whatever was noted of them', () => {
    expect(fitting(readLoaded({ ...loaded, bend: 0.5 }))).toEqual(['shunts']);
  });

  it('tells a soft supply by the fall of the line', () => {
    const reading = readLoaded({ ...loaded, ohms: 0.15, line: { from: 230, to: 215, ohms: 14 } });
    expect(fitting(reading)).toEqual(['soft-supply']);
    expect(causeOf(reading, 'soft-supply')).toContain('from 230 to 215 V, 14 Ω before the transformer');
  });

  it('measures a bend only where there is sag enough and four points', () => {
    const points = (of: (x: number) => number) => [1, 4, 7, 10].map((x) => ({ x, y: of(x) }));
    expect(bendOf(points((x) => 24 - 0.2 * x))).toBeCloseTo(0, 9);
    // 24 - 0.1 I - 0.01 I²: at 10 A half of the sag is the square's.
    expect(bendOf(points((x) => 24 - 0.1 * x - 0.01 * x * x))).toBeCloseTo(0.5, 9);
    expect(bendOf(points((x) => 24 - 0.01 * x))).toBeNull();
    expect(bendOf(points((x) => 24 - 0.2 * x).slice(1))).toBeNull();
  });
});

describe('a short-circuit test', () => {
  const short: ShortSeen = {
    volts: 18,
    amps: 1,
    watts: 17,
    expectedOhms: 16,
    ratio: 10,
    ratedAmps: 1,
    nominalVolts: 230,
    shunts: 'none',
  };

  it('is well where resistance is the windings and leakage is little', () => {
    expect(readShort(short)?.isAsExpected).toBe(true);
  });

  it('tells shunts by reactance, unless they are noted, and a joint by resistance', () => {
    // √(70² - 17²) = 67.9 Ω at 1 A are 30 % of 230 V.
    expect(causeOf(readShort({ ...short, volts: 70 }), 'shunts')).toContain('30 %');
    expect(readShort({ ...short, volts: 70, shunts: 'in' })?.isAsExpected).toBe(true);
    // 24 Ω are 8 too many, 80 mΩ at the output.
    expect(causeOf(readShort({ ...short, volts: 25, watts: 24 }), 'lug')).toContain(
      '8 Ω too many, 80 mΩ at the output',
    );
  });

  it('says nothing where nothing is known to judge it by', () => {
    expect(readShort({ ...short, expectedOhms: null, ratedAmps: null })).toBeNull();
  });
});

describe('ohms of a winding', () => {
  // 412 turns of 250 mm of 0.95 mm wire: 2.5 Ω of copper, 4.1 Ω of aluminium, by hand from 1/58 and 0.028264 Ω mm²/m.
  const wound: ResistanceSeen = {
    twoWire: null,
    fourWire: { value: 2.5, u: 0.01 },
    celsius: 20,
    metal: 'copper',
    turns: { value: 412, u: 1 },
    bareDiameterMm: { value: 0.95, u: 0.01 },
    meanTurnMm: { value: 250, u: 15 },
  };

  it('tells the metal, and whether it is the one that was noted', () => {
    expect(readResistance(wound)?.isAsExpected).toBe(true);
    const other = readResistance({ ...wound, fourWire: { value: 4.1, u: 0.01 } });
    expect(fitting(other)).toEqual(['other-metal', 'wrong-figures']);
    expect(readResistance({ ...wound, metal: null })?.title).toMatch(/: copper\.$/);
    expect(readResistance({ ...wound, turns: null })).toBeNull();
  });

  it('tells a joint by what two wires read more than four', () => {
    const reading = readResistance({ ...wound, twoWire: { value: 3.7, u: 0.02 } });
    expect(fitting(reading)).toEqual(['feed-joint']);
    expect(causeOf(reading, 'feed-joint')).toContain('1.2 Ω');
    expect(readResistance({ ...wound, twoWire: { value: 2.53, u: 0.02 } })?.isAsExpected).toBe(true);
  });
});

describe('test coils', () => {
  const value = (channel: string, volts: number): KeptValue => ({
    channel,
    unit: 'V',
    value: volts,
    u: 0.002 * volts,
    shape: 'rectangular',
    dof: null,
    shared: null,
    readingIds: [],
    meterId: 1,
    rangeIndex: null,
    bottomOfRange: false,
  });
  const pair = (coilTurns: number, fits: number): KeptPair => ({
    eventId: 1,
    coilTurns,
    swapped: false,
    order: 'together',
    primary: value('primary-volts', 20),
    coil: value('coil-volts', (20 * fits) / 400),
    driftVolts: null,
    withdrawn: null,
  });

  it('tells a half turn and a miscount from each other, and which coil with three of them', () => {
    expect(fitting(readCoils([pair(10, 10.5), pair(20, 20), pair(30, 30)], 50))).toEqual(['half-turn']);
    expect(fitting(readCoils([pair(10, 11), pair(20, 20), pair(30, 30)], 50))).toEqual(['miscounted-coil']);
    expect(readCoils([pair(10, 10), pair(20, 20)], 50)?.isAsExpected).toBe(true);
    expect(fitting(readCoils([pair(10, 11), pair(20, 20)], 50)).length).toBeGreaterThanOrEqual(1);
  });

  it('tells a meter that drifts by the same coil read again, and not by unlike readings', () => {
    const again = readCoils([pair(10, 10), pair(10, 10.3)], 50);
    expect(fitting(again)).toEqual(['drifting-meter']);
    expect(causeOf(again, 'drifting-meter')).toContain('moved by 2.9 %');
    expect(readCoils([pair(10, 10), pair(10, 10.02)], 50)?.isAsExpected).toBe(true);
    expect(readCoils([pair(10, 10)], 50)).toBeNull();
    expect(readCoils([pair(10, 10), { ...pair(10, 10.3), swapped: true }], 50)).toBeNull();
  });

  it('tells a meter that drifts by how far exchanged meters are apart from coil to coil, however a coil was counted', () => {
    const exchanged = (coilTurns: number, fits: number): KeptPair => ({ ...pair(coilTurns, fits), swapped: true });
    // The meters are 1 % apart by the first coil and 5 % by the second: by hand, sqrt(20 x 1.05 / (20 / 1.05)) = 1.05.
    const both = (coilTurns: number, apart: number) => [
      pair(coilTurns, coilTurns / apart),
      exchanged(coilTurns, coilTurns * apart),
    ];
    const drifted = readCoils([...both(10, 1.01), ...both(20, 1.05)], 50);
    expect(fitting(drifted)).toEqual(['drifting-meter']);
    expect(drifted?.title).toBe(
      'Exchanged, the two meters are apart by 1 % at the 10-turn coil, and by 4.9 % at the 20-turn coil.',
    );
    const miscounted = [pair(10, 11 / 1.01), exchanged(10, 11 * 1.01), ...both(20, 1.01), ...both(30, 1.01)];
    expect(fitting(readCoils(miscounted, 50))).toEqual(['miscounted-coil']);
    const unknown = [...both(10, 1.01), ...both(20, 1.05)].map((one) => ({ ...one, coil: { ...one.coil, u: null } }));
    expect(fitting(readCoils(unknown, 50))).not.toContain('drifting-meter');
  });
});

describe('before power', () => {
  it('tells leads that take away, and a winding that gives nothing', () => {
    expect(readPolarity({ first: 24, second: 1.3, joined: 25.3, ratio: 0.053 }).isAsExpected).toBe(true);
    expect(fitting(readPolarity({ first: 24, second: 1.3, joined: 22.7, ratio: 0.053 }))).toEqual(['swapped-lead']);
    const nothing = readPolarity({ first: 24, second: 0.01, joined: 24, ratio: 0.053 });
    expect(fitting(nothing)).toEqual(['opposed-strands', 'wrong-figures']);
  });

  it('tells a leak from an end that is joined, as far as the range can, and an earth from none', () => {
    const seen = {
      insulationOhms: 2.4e8,
      insulationDoubt: 1e6,
      minimumMegohms: 2,
      endOnCore: 'no',
      earthOhms: 0.1,
    } as const;
    expect(readBeforePower(seen).map(({ isAsExpected }) => isAsExpected)).toEqual([true, true]);
    expect(readBeforePower({ ...seen, insulationOhms: 3e5 }).flatMap(fitting)).toEqual(['leak']);
    const joined = { ...seen, insulationOhms: 1.5, insulationDoubt: 0.01 };
    expect(readBeforePower(joined).flatMap(fitting)).toEqual(['end-on-core']);
    expect(readBeforePower({ ...joined, insulationDoubt: 3e5 }).flatMap(fitting)).toEqual(['leak']);
    expect(readBeforePower({ ...joined, endOnCore: 'yes' }).flatMap(fitting)).toEqual([]);
    expect(readBeforePower({ ...seen, earthOhms: 2.2e6 }).flatMap(fitting)).toEqual(['bad-earth']);
    expect(readBeforePower({ ...seen, insulationOhms: null, earthOhms: null })).toEqual([]);
  });
});
