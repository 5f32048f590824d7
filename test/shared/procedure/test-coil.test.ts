import { describe, expect, it } from 'vitest';
import { calculate } from '../../../src-shared/calculation/calculate.ts';
import type { BenchFacts } from '../../../src-shared/interlock/bench.ts';
import { cautions } from '../../../src-shared/interlock/cautions.ts';
import { reduce } from '../../../src-shared/interlock/reduce.ts';
import { setUpFor } from '../../../src-shared/procedure/set-up.ts';
import { procedureById, procedures } from '../../../src-shared/procedure/table.ts';
import { testCoil } from '../../../src-shared/procedure/test-coil.ts';
import { voltsLimit } from '../../../src-shared/procedure/default-limits.ts';
import { at, isolatedAt, lowBench, mainsBench, meter, openedSession } from '../interlock/scene.ts';

const two = new Map([
  ['primary-volts', meter(1)],
  ['coil-volts', meter(2)],
]);
const one = new Map([
  ['primary-volts', meter(1)],
  ['coil-volts', meter(1)],
]);
const withWinding = (volts: number | null, label = 'oven winding'): BenchFacts => ({
  ...lowBench,
  windings: [
    ...lowBench.windings,
    { windingId: 3, label, role: 'other', volts, onPlug: false, oneEndOnCore: 'not-looked' },
  ],
});
const maxOf = (bench: BenchFacts, touchVolts = 50) =>
  Object.fromEntries(testCoil.limits(bench, touchVolts, {}).limits.channels.map(({ channel, max }) => [channel, max]));

describe('the table of procedures', () => {
  it('knows each by its id', () => {
    expect(procedureById('test-coil')).toBe(testCoil);
    expect(procedureById('no-such')).toBeUndefined();
    expect(new Set(procedures.map(({ id }) => id)).size).toBe(procedures.length);
  });

  it('names only cautions and a calculation that there are', () => {
    const known = new Set<string>(cautions.map(({ id }) => id));
    for (const { cautions: named, calculation } of procedures) {
      for (const id of named) expect(known).toContain(id);
      const answer = calculate(calculation, {});
      expect(answer.ok ? '' : answer.error.code).not.toBe('unknown-calculation');
    }
  });
});

describe('the test coil', () => {
  it('asks the low-voltage list from an isolated source, and the base with its own list from anything else', () => {
    expect(testCoil.checklists('isolated-low-voltage', {})).toEqual(['T1']);
    for (const supply of ['mains', 'mains-through-lamp', 'variable-transformer', 'isolating-transformer'] as const) {
      expect(testCoil.checklists(supply, {})).toEqual(['B', 'T2']);
    }
  });

  it('is bounded as the trade has it: no time and 10 s of silence at low voltage, 60 s and 5 s on the mains', () => {
    expect(testCoil.limits(lowBench, 50, {}).limits).toMatchObject({ runSeconds: null, silenceSeconds: 10 });
    expect(testCoil.limits(mainsBench, 50, {}).limits).toMatchObject({ runSeconds: 60, silenceSeconds: 5 });
    expect(maxOf(mainsBench)).toEqual({ 'primary-volts': 253, 'coil-volts': 253 });
  });

  it('at low voltage lets no channel rise so far that the highest winding passes 50 V', () => {
    // 12 V here puts 48 V on the third winding: at 12.5 V it stands at 50 V.
    expect(maxOf(withWinding(48))['primary-volts']).toBeCloseTo(12.5, 12);
    expect(maxOf(lowBench)['primary-volts']).toBeCloseTo(13.2, 12);
    expect(maxOf(withWinding(24), 25)['primary-volts']).toBeCloseTo(12.5, 12);
  });

  it('with an unknown or a high winding asks more checks instead, and takes the nominal volts', () => {
    expect(maxOf(withWinding(null))['primary-volts']).toBeCloseTo(13.2, 12);
    expect(voltsLimit(withWinding(200), 12, 50)).toBeCloseTo(13.2, 12);
  });

  it('is never loosened over the figure that stands behind it', () => {
    const { limits, ceilings } = testCoil.limits(mainsBench, 50, {});
    expect(ceilings.map(({ channel, highestMax }) => [channel, highestMax])).toEqual(
      limits.channels.map(({ channel, max }) => [channel, max]),
    );
  });

  it('says what to do for each supply and each way of reading, in whole sentences', () => {
    for (const supply of ['isolated-low-voltage', 'mains'] as const) {
      for (const method of ['two-meters', 'one-meter'] as const) {
        const steps = testCoil.steps(supply, method);
        expect(steps.length).toBeGreaterThan(3);
        for (const { text } of steps) expect(text).toMatch(/^[A-Z].*\.$/);
        expect(new Set(steps.map(({ id }) => id)).size).toBe(steps.length);
      }
    }
    const ids = (supply: 'isolated-low-voltage' | 'mains') => testCoil.steps(supply, 'one-meter').map(({ id }) => id);
    expect(ids('isolated-low-voltage')).toContain('primary-coil-primary');
    expect(ids('mains').slice(0, 3)).toEqual(['low-first', 'wind', 'lamp']);
  });
});

describe('a set-up of the test coil', () => {
  it('takes the channels that somebody fills, and the required ones in any case', () => {
    const ids = (filledBy: typeof two) => setUpFor(testCoil, lowBench, filledBy).channels.map(({ id }) => id);
    expect(ids(two)).toEqual(['primary-volts', 'coil-volts']);
    expect(ids(new Map())).toEqual(['primary-volts', 'coil-volts']);
    expect(ids(new Map([...two, ['line-hertz', meter(1)]]))).toEqual(['primary-volts', 'coil-volts', 'line-hertz']);
  });

  it('tells one meter that is moved from two', () => {
    expect(setUpFor(testCoil, lowBench, one).oneMeter).toBe(true);
    expect(setUpFor(testCoil, lowBench, two).oneMeter).toBe(false);
    expect(setUpFor(testCoil, lowBench, new Map([...one, ['line-hertz', meter(3)]])).oneMeter).toBe(true);
  });

  it('reads the fall of the feed on the winding that is fed', () => {
    const onFed = (bench: BenchFacts) =>
      setUpFor(testCoil, bench, two).channels.flatMap(({ id, onFed: is }) => (is ? [id] : []));
    const coilFed: BenchFacts = {
      ...lowBench,
      fedWindingId: 3,
      windings: [
        ...lowBench.windings,
        { windingId: 3, label: 'coil', role: 'test-coil', volts: 1.2, onPlug: false, oneEndOnCore: 'no' },
      ],
    };
    expect([onFed(lowBench), onFed(coilFed), onFed({ ...lowBench, fedWindingId: null })]).toEqual([
      ['primary-volts'],
      ['coil-volts'],
      [],
    ]);
  });

  it('rates the meters against the primary when the coil is fed: 1.2 V a turn stand on it all the same', () => {
    // 12 V on a coil of 10 turns, 120 turns on the plug: about 144 V on its pins.
    const coilFed = (volts: number | null): BenchFacts => ({
      ...lowBench,
      fedWindingId: 3,
      windings: [
        { windingId: 1, label: 'primary', role: 'primary', volts, onPlug: true, oneEndOnCore: 'no' },
        { windingId: 3, label: 'coil', role: 'test-coil', volts: 12, onPlug: false, oneEndOnCore: 'no' },
      ],
      plug: volts === null ? { kind: 'unknown' } : { kind: 'volts', volts },
    });
    const volts = (bench: BenchFacts) => setUpFor(testCoil, bench, two).channels.map((channel) => channel.volts);
    expect(volts(coilFed(144))).toEqual([144, 144]);
    const ask = (bench: BenchFacts) =>
      reduce(openedSession(), at(0, { kind: 'set-up', setUp: setUpFor(testCoil, bench, two) })).refusal?.code;
    expect(ask(coilFed(null))).toBe('winding-unknown');
    expect(ask(coilFed(144))).toBeUndefined();
  });

  it('is accepted by the guard on the mains, at low voltage, and with one meter', () => {
    for (const bench of [mainsBench, lowBench, withWinding(null)]) {
      for (const filledBy of [one, two, new Map([...two, ['line-hertz', meter(1)]])]) {
        const setUp = setUpFor(testCoil, bench, filledBy);
        expect(reduce(isolatedAt(), at(0, { kind: 'set-up', setUp })).refusal).toBeNull();
      }
    }
  });

  it('joins every channel on the circuit to the mains when the supply does', () => {
    const joined = (bench: BenchFacts) =>
      setUpFor(testCoil, bench, two).channels.map(({ joinedToMains }) => joinedToMains);
    expect(joined(mainsBench)).toEqual([true, true]);
    expect(joined(lowBench)).toEqual([false, false]);
  });
});
