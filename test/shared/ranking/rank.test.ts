import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { aspectKinds, type AspectKind, type Grade } from '../../../src-shared/ranking/aspect.ts';
import type { CoreFacts } from '../../../src-shared/ranking/core-facts.ts';
import { rankFacts } from '../../../src-shared/ranking/rank.ts';
import { judge, type Verdict } from '../../../src-shared/ranking/verdict.ts';
import { demand, facts, nothingKnown } from './given.ts';

const hours = { use: { kind: 'continuous' } } as const;

const gradesOf = ({ aspects }: Verdict): Partial<Record<AspectKind, Grade>> =>
  Object.fromEntries(aspects.map(({ kind, grade }) => [kind, grade]));

const wordsOf = ({ aspects }: Verdict, kind: AspectKind): string =>
  aspects.find((aspect) => aspect.kind === kind)?.words ?? '';

const thinner = { primaryWireMm: 0.7 };

describe('one core for one need', () => {
  it('does when everything decisive is known and met, and says each with its numbers', () => {
    const verdict = judge(facts(thinner), demand());
    expect(verdict.standing).toBe('will-do');
    expect(gradesOf(verdict)).toEqual(Object.fromEntries(aspectKinds.map((kind) => [kind, 'met'])));
    expect(wordsOf(verdict, 'mass')).toBe('288 VA of about 1200 W, for minutes.');
    // 230 / (√2 π 50 × 412 × 40 × 52 × 0.95 mm²)
    expect(wordsOf(verdict, 'flux')).toBe('1.27 T at 230 V 50 Hz with 412 turns.');
    expect(wordsOf(verdict, 'circuit')).toBe('1.51 A of the 16 A of its circuit, no-load current counted.');
  });

  it('neither refuses nor praises a core of which nothing is known', () => {
    const verdict = judge(nothingKnown(7), demand({}, 'metric'));
    expect(verdict.standing).toBe('not-known');
    expect(verdict.size).toBeNull();
    const { circuit, ...others } = gradesOf(verdict);
    expect(circuit).toBe('met');
    expect(new Set(Object.values(others))).toEqual(new Set(['not-known']));
    expect(verdict.missing).toHaveLength(9);
  });

  it('lets the rule by mass rule out, but never promise hours', () => {
    const onlyWeighed = { ...nothingKnown(1), fields: facts().fields };
    const { tongue: _t, stack: _s, windowWidth: _w, windowHeight: _h, ...weighed } = onlyWeighed.fields;
    const known: CoreFacts = { ...onlyWeighed, fields: weighed };
    expect(judge(known, demand()).standing).toBe('as-far-as-known');
    expect(judge(known, demand(hours)).standing).toBe('not-known');
    expect(judge(known, demand({ ...hours, amps: 80 })).standing).toBe('will-not');
    expect(wordsOf(judge(known, demand(hours)), 'mass')).toContain('for minutes, not hours');
  });

  it('says that a core is for minutes where hours are asked, and what would have to give', () => {
    const verdict = judge(facts({ ...thinner, turns: { value: 380, u: 0 } }), demand({ ...hours, amps: 25 }));
    expect(gradesOf(verdict)['iron-and-window']).toBe('minutes');
    const gives = verdict.aspects.find(({ kind }) => kind === 'iron-and-window')?.gives;
    expect(gives).toBe('for minutes it is good for about 880 VA');
  });

  it('counts what more primary turns would have to do', () => {
    const driven = judge(facts({ turns: { value: 330, u: 0 } }), demand());
    expect(gradesOf(driven).flux).toBe('met');
    expect(gradesOf(judge(facts({ turns: { value: 330, u: 0 } }), demand(hours))).flux).toBe('close');
    const beyond = judge(facts({ turns: { value: 206, u: 0 } }), demand());
    expect(gradesOf(beyond).flux).toBe('not-met');
    expect(beyond.standing).toBe('will-not');
  });

  it('tells a core of another line by volts over hertz, without its turns', () => {
    const american = facts({ turns: null, fields: { ...facts().fields, fromVolts: 120, fromHertz: 60 } });
    expect(wordsOf(judge(american, demand()), 'flux')).toBe(
      'On 230 V 50 Hz 2.3 times the flux that it was made for 120 V 60 Hz.',
    );
    expect(judge(american, demand()).standing).toBe('will-not');
  });

  it('takes the alternating volts and amps of a rectifier from its calculation', () => {
    const behind = judge(facts(), demand({ feeds: 'bridge', volts: 24, amps: 10 }));
    // (24 + 2 × 0.9) / √2 = 18.24 V at 1.8 × 10 A: 328 VA.
    expect(wordsOf(behind, 'mass')).toBe('328 VA of about 1200 W, for minutes.');
  });

  it('refuses a load beyond the circuit, and a core whose insulation was found wanting', () => {
    const tooSmall = demand({ circuit: { volts: 230, hertz: 50, amps: 1 } });
    expect(gradesOf(judge(facts(), tooSmall)).circuit).toBe('not-met');
    expect(judge(facts({ ...thinner, insulation: 'not-met' }), demand()).standing).toBe('will-not');
  });
});

const some = (low: number, high: number) => fc.double({ min: low, max: high, noNaN: true });
const maybe = <T>(of: fc.Arbitrary<T>) => fc.option(of, { nil: null, freq: 3 });

/** A core of any shape and size, with more or less of it known. */
const anyCore = fc
  .record({
    isAppliance: fc.boolean(),
    kg: maybe(some(0.5, 20)),
    tongue: maybe(some(15, 80)),
    stack: some(15, 120),
    width: maybe(some(8, 60)),
    height: some(20, 120),
    turns: maybe(some(60, 1200)),
    wire: maybe(some(0.2, 2)),
    rise: maybe(some(5, 90)),
    idle: maybe(some(5, 300)),
    insulation: fc.constantFrom<CoreFacts['insulation']>('met', 'not-met', null),
  })
  .map(({ isAppliance, kg, tongue, stack, width, height, turns, wire, rise, idle, insulation }): CoreFacts => {
    const plain = (value: number) => ({ value, u: null });
    return {
      coreId: 1,
      buildId: 1,
      fields: {
        label: 'Any',
        shape: 'shell',
        fromAppliance: isAppliance,
        ...(kg === null ? {} : { mass: plain(kg), massIs: 'as-pulled' }),
        ...(tongue === null ? {} : { tongue: plain(tongue), stack: plain(stack) }),
        ...(width === null ? {} : { windowWidth: plain(width), windowHeight: plain(height) }),
      },
      turns: turns === null ? null : { value: turns, u: 0 },
      primaryWireMm: wire,
      primaryOhms: null,
      heat: rise === null ? null : { rise, seconds: 2000 },
      noLoadVoltAmperes: idle,
      insulation,
    };
  });

const anyNeed = fc
  .record({
    volts: some(3, 60),
    amps: some(0.5, 60),
    feeds: fc.constantFrom('ac', 'bridge', 'centre-tap'),
    isContinuous: fc.boolean(),
    on: some(1, 60),
    off: some(1, 60),
  })
  .map(({ isContinuous, on, off, ...need }) =>
    demand({
      ...need,
      use: isContinuous ? { kind: 'continuous' } : { kind: 'on-off', onMinutes: on, offMinutes: off },
    }),
  );

const more = (known: { readonly value: number; readonly u: number | null } | undefined, by: number) =>
  known === undefined ? undefined : { ...known, value: known.value * by };
const given = <K extends string, T>(key: K, value: T | undefined) => (value === undefined ? {} : { [key]: value });

/** The same core, better: no heavier, more iron and window, thinner primary, found cool and its insulation sound. */
function better(core: CoreFacts, by: number): CoreFacts {
  const { stack, windowWidth, mass } = core.fields;
  // Without a mass the size is told by the dimensions: more of them is a larger core, not a better one.
  const grows = mass === undefined ? 1 : by;
  return {
    ...core,
    coreId: 1,
    fields: {
      ...core.fields,
      ...given('stack', more(stack, grows)),
      ...given('windowWidth', more(windowWidth, grows)),
    },
    primaryWireMm: core.primaryWireMm === null ? null : core.primaryWireMm / by,
    heat: core.heat === null ? { rise: 1, seconds: 2000 } : { ...core.heat, rise: core.heat.rise / by },
    noLoadVoltAmperes: core.noLoadVoltAmperes === null ? null : core.noLoadVoltAmperes / by,
    insulation: 'met',
  };
}

const idsOf = (verdicts: readonly Verdict[]): readonly number[] => verdicts.map(({ coreId }) => coreId);

describe('the shelf ranked', () => {
  it('never puts a core behind one that is worse in everything', () => {
    fc.assert(
      fc.property(anyCore, anyNeed, some(1.01, 1.6), (worse, need, by) => {
        expect(idsOf(rankFacts([{ ...worse, coreId: 2 }, better(worse, by)], need))).toEqual([1, 2]);
      }),
      { numRuns: 300 },
    );
  });

  it('does not ask in which order the cores came', () => {
    const shelf = fc
      .array(anyCore, { minLength: 2, maxLength: 6 })
      .map((cores) => cores.map((core, at) => ({ ...core, coreId: at + 1 })));
    fc.assert(
      fc.property(shelf, anyNeed, fc.infiniteStream(fc.nat()), (cores, need, numbers) => {
        const keyed = cores.map((core) => ({ core, key: numbers.next().value ?? 0 }));
        const shuffled = keyed.toSorted((a, b) => a.key - b.key).map(({ core }) => core);
        expect(idsOf(rankFacts(shuffled, need))).toEqual(idsOf(rankFacts(cores, need)));
      }),
      { numRuns: 60 },
    );
  });

  it('is the same whichever units the figures were typed and are shown in', () => {
    const inchesAndBack = (value: number) => (value / 25.4) * 25.4;
    const poundsAndBack = (value: number) => (value / 0.45359237) * 0.45359237;
    const american = (core: CoreFacts): CoreFacts => {
      const { mass, tongue, stack, windowWidth, windowHeight, ...rest } = core.fields;
      const turn = (known: typeof mass, way: (value: number) => number) =>
        known === undefined ? undefined : { ...known, value: way(known.value) };
      return {
        ...core,
        fields: {
          ...rest,
          ...given('mass', turn(mass, poundsAndBack)),
          ...given('tongue', turn(tongue, inchesAndBack)),
          ...given('stack', turn(stack, inchesAndBack)),
          ...given('windowWidth', turn(windowWidth, inchesAndBack)),
          ...given('windowHeight', turn(windowHeight, inchesAndBack)),
        },
      };
    };
    const shelf = fc.array(anyCore, { minLength: 2, maxLength: 5 }).map((cores) =>
      cores.flatMap((core, at) => [
        { ...core, coreId: 2 * at + 1 },
        { ...core, coreId: 2 * at + 2 },
      ]),
    );
    fc.assert(
      fc.property(shelf, anyNeed, (cores, need) => {
        const us = { ...demand(need.need, 'us') };
        expect(idsOf(rankFacts(cores.map(american), us))).toEqual(idsOf(rankFacts(cores, need)));
      }),
      { numRuns: 60 },
    );
  });

  it('puts the smallest that will do first, then the open ones, then the one that comes nearest', () => {
    const sized = (coreId: number, kg: number, more: Partial<CoreFacts> = {}): CoreFacts => {
      const core = facts({ ...thinner, ...more });
      return { ...core, coreId, fields: { ...core.fields, mass: { value: kg, u: 0 } } };
    };
    const shelf = [
      sized(1, 9),
      nothingKnown(2),
      sized(3, 5.3),
      sized(4, 0.9),
      sized(5, 0.6),
      sized(6, 4, { turns: null }),
    ];
    const verdicts = rankFacts(shelf, demand());
    expect(idsOf(verdicts)).toEqual([3, 1, 6, 2, 4, 5]);
    expect(verdicts.map(({ standing }) => standing)).toEqual([
      'will-do',
      'will-do',
      'as-far-as-known',
      'not-known',
      'will-not',
      'will-not',
    ]);
  });
});
