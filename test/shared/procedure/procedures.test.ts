import { describe, expect, it } from 'vitest';
import type { BenchFacts } from '../../../src-shared/interlock/bench.ts';
import { demands, plugWillDo } from '../../../src-shared/interlock/demand.ts';
import { reduce } from '../../../src-shared/interlock/reduce.ts';
import { askedWith, wrongAnswer, type Answers } from '../../../src-shared/procedure/field.ts';
import { jobSteps, type Procedure } from '../../../src-shared/procedure/procedure.ts';
import { setUpFor } from '../../../src-shared/procedure/set-up.ts';
import { procedureById, procedures } from '../../../src-shared/procedure/table.ts';
import { at, isolatedAt, lowBench, mainsBench, meter } from '../interlock/scene.ts';

const variable: BenchFacts = { ...mainsBench, supply: { ...mainsBench.supply, kind: 'variable-transformer' } };

/** Answers that will do for each procedure, and the bench it is for. */
const cases: Readonly<Record<string, { readonly bench: BenchFacts; readonly answers: Answers }>> = {
  'winding-resistance': {
    bench: mainsBench,
    answers: { windingId: 1, celsius: 21, sourceOverTenMilliamps: 'yes', underTwoOhm: 'yes' },
  },
  'insulation-resistance': { bench: mainsBench, answers: {} },
  'test-coil': { bench: mainsBench, answers: {} },
  polarity: { bench: lowBench, answers: {} },
  'no-load': { bench: mainsBench, answers: { turnsAdded: 'no', expectedAmps: 0.8 } },
  'no-load-sweep': { bench: variable, answers: { turnsAdded: 'no', temporaryTurns: 'no', expectedAmps: 0.8 } },
  'watts-three-ammeters': { bench: mainsBench, answers: { turnsAdded: 'no', resistorOhms: 60 } },
  'watts-three-voltmeters': { bench: mainsBench, answers: { turnsAdded: 'no', resistorOhms: 60 } },
  'watts-energy-counter': { bench: mainsBench, answers: { turnsAdded: 'no' } },
  'watts-heat-slope': { bench: mainsBench, answers: { turnsAdded: 'no', ironKg: 4, copperKg: 1 } },
  'heat-run': {
    bench: mainsBench,
    answers: { insulationClass: 'B', byResistance: 'no', turnsAdded: 'no', expectedAmps: 0.8 },
  },
  'loaded-run': {
    bench: mainsBench,
    answers: { plannedAmps: 5, faultAmps: 90, insulationClass: 'unknown', paralleled: 'no', outputOver50: 'no' },
  },
  'short-circuit': { bench: variable, answers: { shortedWindingId: 2, side: 'high', ratedAmps: 1.2 } },
  cooling: { bench: mainsBench, answers: { insulationClass: 'A' } },
};

const caseOf = ({ id }: Procedure) => {
  const found = cases[id];
  if (found === undefined) throw new Error(`No case for ${id}.`);
  return found;
};
const allFilled = ({ channels }: Procedure) => new Map(channels.map(({ id }, index) => [id, meter(index + 1)]));
const whole = (procedure: Procedure) => {
  const { bench, answers } = caseOf(procedure);
  return setUpFor(procedure, bench, allFilled(procedure), 50, answers);
};
const named = (id: string): Procedure => {
  const found = procedureById(id);
  if (found === undefined) throw new Error(`No procedure ${id}.`);
  return found;
};
const boundsOf = (id: string, more: Answers = {}) => {
  const { bench, answers } = caseOf(named(id));
  const { limits } = named(id).limits(bench, 50, { ...answers, ...more });
  return {
    ...limits,
    channels: Object.fromEntries(limits.channels.map(({ channel, ...rest }) => [channel, rest])),
  };
};

describe.each(procedures.map((procedure) => [procedure.id, procedure] as const))('%s', (_id, procedure) => {
  it('is taken by the guard on its bench with every channel filled', () => {
    const { bench, answers } = caseOf(procedure);
    expect(wrongAnswer(procedure.asks, answers)).toBeNull();
    expect(procedure.notYet(bench)).toBeNull();
    expect(procedure.refuses(bench, answers, new Set(procedure.channels.map(({ id }) => id)))).toBeNull();
    const { refusal, state } = reduce(isolatedAt(), at(0, { kind: 'set-up', setUp: whole(procedure) }));
    expect(refusal).toBeNull();
    expect(demands(state).length).toBeGreaterThan(8);
  });

  it('proposes limits that the guard takes as they are, for channels that are in hand', () => {
    const taken = reduce(isolatedAt(), at(0, { kind: 'set-up', setUp: whole(procedure) })).state;
    const limits = taken.setUp?.proposed.limits;
    if (limits === undefined) throw new Error('No set-up.');
    expect(reduce(taken, at(1, { kind: 'limits-set', limits, reason: null })).refusal).toBeNull();
  });

  it('speaks in whole sentences, of a step of the job, with ids that are its own', () => {
    expect(jobSteps).toContain(procedure.step);
    expect(procedure.purpose).toMatch(/^[A-Z].*\.$/);
    for (const { text } of procedure.steps('mains', 'two-meters')) expect(text).toMatch(/^[A-Z].*[.?]$/);
    const ids = [...procedure.channels, ...procedure.asks, ...procedure.fields].map(({ id }) => id);
    expect(new Set(ids).size).toBe(ids.length);
    for (const id of procedure.continuous) expect(procedure.channels.map((channel) => channel.id)).toContain(id);
  });

  it('has nothing to say before anything was read, and says what it waits for', () => {
    const { bench, answers } = caseOf(procedure);
    const work = procedure.work({
      supply: bench.supply,
      fedWindingId: 1,
      ambientCelsius: null,
      core: null,
      windings: [],
      answers,
      points: [],
      series: {},
      onAtMs: null,
      offAtMs: null,
      responding: {},
      earlierNoLoad: null,
      wanted: [],
    });
    expect(work).toMatchObject({ kind: 'waiting' });
    expect(work.kind === 'waiting' ? work.sentence : '').toMatch(/^[A-Z].*\.$/);
  });
});

describe('the checklists', () => {
  it.each([
    ['no-load', ['B', 'N']],
    ['no-load-sweep', ['B', 'N', 'S']],
    ['heat-run', ['B', 'N', 'H']],
    ['loaded-run', ['B', 'L']],
    ['short-circuit', ['X']],
    ['cooling', ['B', 'K']],
    ['winding-resistance', ['R']],
    ['insulation-resistance', ['I']],
    ['polarity', ['P']],
  ])('of %s are %j', (id, lists) => {
    const { bench, answers } = caseOf(named(id));
    expect(named(id).checklists(bench.supply.kind, answers)).toEqual(lists);
  });

  it('of a heat run by resistance take the cooling list along, and its cold reading is a must', () => {
    const answers = { ...caseOf(named('heat-run')).answers, byResistance: 'yes' };
    expect(named('heat-run').checklists('mains', answers)).toEqual(['B', 'N', 'H', 'K']);
    expect(named('heat-run').ruledOut(answers)).not.toContain('resistance-method');
    expect(named('heat-run').refuses(mainsBench, answers, new Set(['core-temperature']))?.field).toBe('byResistance');
  });

  it('ask a must of what nobody answered', () => {
    expect(named('no-load').ruledOut({})).toEqual([]);
    expect(named('no-load').ruledOut({ turnsAdded: 'no' })).toEqual(['turns-added']);
    expect(named('winding-resistance').ruledOut({})).toEqual([]);
    expect(named('loaded-run').ruledOut({ paralleled: 'yes' })).toEqual([]);
  });

  it('let the plug alone prove polarity at low volts, and never an ohmmeter', () => {
    const setUp = (id: string, bench: BenchFacts) =>
      reduce(isolatedAt(), at(0, { kind: 'set-up', setUp: setUpFor(named(id), bench, allFilled(named(id))) })).state;
    expect(plugWillDo(setUp('polarity', lowBench))).toBe(true);
    expect(plugWillDo(setUp('winding-resistance', lowBench))).toBe(false);
    expect(plugWillDo(setUp('no-load', lowBench))).toBe(false);
  });
});

// The table of default limits: common practice, no source; 10 % over nominal by IEC 60038, classes by IEC 60085.
describe('the default limits', () => {
  it('of a no-load point: 1.5 x expected, 80 % of the fuse at most, 10 % over, 2 min, core + 20 K', () => {
    expect(boundsOf('no-load')).toMatchObject({
      runSeconds: 120,
      silenceSeconds: 5,
      channels: { 'primary-volts': { max: 253 }, 'line-amps': { max: expect.closeTo(1.2, 9) as number } },
    });
    expect(boundsOf('no-load', { expectedAmps: 9 }).channels['line-amps']?.max).toBeCloseTo(4.8, 9);
  });

  it('of a sweep: twice the nominal point or 80 % of the fuse, 10 min, core 80 °C', () => {
    expect(boundsOf('no-load-sweep')).toMatchObject({
      runSeconds: 600,
      channels: { 'line-amps': { max: expect.closeTo(1.6, 9) as number }, 'core-temperature': { max: 80 } },
    });
  });

  it('of a heat run: 1.3 x the start, 10 % either way, 8 h, by class, rise of core and winding, 30 s of silence', () => {
    expect(boundsOf('heat-run')).toMatchObject({
      runSeconds: 8 * 3600,
      silenceSeconds: 30,
      channels: {
        'primary-volts': { min: 207, max: 253 },
        'line-amps': { max: expect.closeTo(1.04, 9) as number },
        'core-temperature': { warn: 100, max: 115, risePerMinute: 5 },
        'winding-temperature': { warn: 100, max: 115, risePerMinute: 10 },
      },
    });
    expect(boundsOf('heat-run', { insulationClass: 'unknown' }).channels['core-temperature']).toMatchObject({
      warn: 75,
      max: 90,
    });
  });

  it('of a loaded run: 1.1 x planned, 60 s a point or the plan, lugs 90 °C', () => {
    expect(boundsOf('loaded-run')).toMatchObject({
      runSeconds: 60,
      channels: {
        'secondary-amps': { max: expect.closeTo(5.5, 9) as number },
        'secondary-volts': { max: expect.closeTo(26.4, 9) as number },
        'lug-temperature': { max: 90 },
      },
    });
    expect(boundsOf('loaded-run', { minutes: 30 }).runSeconds).toBe(1800);
  });

  it('of a short-circuit test: the rated amps, and never more than the fuse; 30 s', () => {
    expect(boundsOf('short-circuit')).toMatchObject({ runSeconds: 30, channels: { 'line-amps': { max: 1.2 } } });
    expect(boundsOf('short-circuit', { ratedAmps: 12 }).channels['line-amps']?.max).toBe(6);
  });

  it('leave out channels that nobody reads', () => {
    const two = new Map([
      ['primary-volts', meter(1)],
      ['line-amps', meter(2)],
    ]);
    const { proposed } = setUpFor(named('no-load'), mainsBench, two, 50, caseOf(named('no-load')).answers);
    expect(proposed.limits.channels.map(({ channel }) => channel)).toEqual(['primary-volts', 'line-amps']);
  });
});

describe('what cannot be chosen', () => {
  it('says why', () => {
    expect(named('polarity').notYet(mainsBench)).toMatch(/low voltage/);
    expect(named('short-circuit').notYet(mainsBench)).toMatch(/cannot give full volts/);
    expect(named('loaded-run').notYet({ ...mainsBench, windings: mainsBench.windings.slice(0, 1) })).toMatch(
      /no secondary/,
    );
    const unknown = mainsBench.windings.map((winding) =>
      winding.role === 'secondary' ? { ...winding, volts: null } : winding,
    );
    expect(named('loaded-run').notYet({ ...mainsBench, windings: unknown })).toMatch(/not known/);
    expect(named('cooling').notYet({ ...mainsBench, fedWindingId: null })).toMatch(/fed/);
  });

  it('refuses an output over 50 V until it was said on purpose', () => {
    const high = mainsBench.windings.map((winding) =>
      winding.role === 'secondary' ? { ...winding, volts: 62 } : winding,
    );
    const ask = (outputOver50: string) =>
      named('loaded-run').refuses({ ...mainsBench, windings: high }, { outputOver50 }, new Set());
    expect(ask('no')?.field).toBe('outputOver50');
    expect(ask('yes')).toBeNull();
  });

  it('wants an expectation where turns were added', () => {
    for (const id of ['no-load', 'no-load-sweep', 'heat-run', 'watts-three-ammeters']) {
      const answers = { ...caseOf(named(id)).answers, turnsAdded: 'yes' };
      const { expectedAmps: _left, ...without } = { expectedAmps: 0, ...answers };
      expect(named(id).refuses(mainsBench, without, new Set(['core-temperature']))?.field).toBe('expectedAmps');
    }
  });

  it('asks with each point what its way of reading ohms needs', () => {
    const asked = (...filled: readonly string[]) =>
      askedWith(named('winding-resistance').fields, new Set(filled)).map(({ id }) => id);
    expect(asked('winding-volts', 'test-amps')).toEqual(['polarity']);
    expect(asked('winding-ohms')).toEqual(['leadOhms']);
    expect(asked('winding-volts', 'test-amps', 'winding-ohms')).toEqual(['polarity', 'leadOhms']);
  });

  it('wants four wires or two', () => {
    const refuses = (...filled: readonly string[]) =>
      named('winding-resistance').refuses(mainsBench, {}, new Set(filled)) === null;
    expect([refuses('winding-ohms'), refuses('winding-volts', 'test-amps'), refuses('winding-volts')]).toEqual([
      true,
      true,
      false,
    ]);
  });
});

describe('an answer', () => {
  const { asks } = named('heat-run');
  it.each([
    [{}, 'insulationClass'],
    [{ insulationClass: 'Z', byResistance: 'no', turnsAdded: 'no' }, 'insulationClass'],
    [{ insulationClass: 'B', byResistance: 'no', turnsAdded: 'no', expectedAmps: -1 }, 'expectedAmps'],
    [{ insulationClass: 'B', byResistance: 'no', turnsAdded: 'no', expectedAmps: 'one' }, 'expectedAmps'],
    [{ insulationClass: 'B', byResistance: 'no', turnsAdded: 'no', other: 1 }, 'other'],
  ])('%j is refused at %s', (answers: Answers, field) => {
    expect(wrongAnswer(asks, answers)?.field).toBe(field);
  });
});
