import { describe, expect, test } from 'vitest';
import { gradeOf, highestVolts, type BenchFacts, type SetUp } from '../../../src-shared/interlock/bench.ts';
import { demands } from '../../../src-shared/interlock/demand.ts';
import { headline } from '../../../src-shared/interlock/headline.ts';
import { missingForReady } from '../../../src-shared/interlock/ready.ts';
import { reduce } from '../../../src-shared/interlock/reduce.ts';
import { proofWords } from '../../../src-shared/interlock/why-words.ts';
import {
  arrange,
  at,
  isolatedAt,
  liveAt,
  lowBench,
  lowSetUp,
  mainsBench,
  mainsSetUp,
  openedSession,
  provedAt,
  provingAt,
  reading,
  readyAt,
  second,
  seen,
  ticks,
  walk,
} from './scene.ts';

const withSecondary = (volts: number | null): BenchFacts => ({
  ...lowBench,
  windings: lowBench.windings.map((winding) => (winding.windingId === 2 ? { ...winding, volts } : winding)),
});
const plugOut = at(0, { kind: 'plug-out-proved' });

describe('the grade', () => {
  test.each<[string, BenchFacts | null, string]>([
    ['under 50 V everywhere from an isolated source', lowBench, 'handful'],
    ['50 V on one winding', withSecondary(50), 'handful'],
    ['just over 50 V on one winding', withSecondary(50.01), 'base'],
    ['one winding unknown', withSecondary(null), 'base'],
    ['one winding at an impossible figure', withSecondary(Number.NaN), 'base'],
    ['nobody knows which winding is fed', { ...lowBench, fedWindingId: null }, 'base'],
    ['the plug unknown', { ...lowBench, plug: { kind: 'unknown' } }, 'base'],
    ['144 V on the plug from a fed test coil', { ...lowBench, plug: { kind: 'volts', volts: 144 } }, 'base'],
    ['no plug at all', { ...lowBench, plug: { kind: 'none' } }, 'handful'],
    ['a source above 50 V', { ...lowBench, supply: { ...lowBench.supply, volts: 60 } }, 'base'],
    [
      '12 V from a variable transformer',
      { ...lowBench, supply: { ...lowBench.supply, kind: 'variable-transformer' } },
      'base',
    ],
    ['the mains', mainsBench, 'base'],
    ['nothing described', null, 'base'],
  ])('with %s', (_what, bench, grade) => {
    expect(gradeOf(bench, 50)).toBe(grade);
  });

  test('is stricter where it is damp: 25 V', () => {
    expect(gradeOf(withSecondary(30), 25)).toBe('base');
    expect(gradeOf(withSecondary(25), 25)).toBe('handful');
  });

  test('names the highest volts and where they stand', () => {
    expect(highestVolts(mainsBench)).toEqual({ kind: 'known', volts: 230, where: 'supply' });
    expect(highestVolts(withSecondary(200))).toEqual({ kind: 'known', volts: 200, where: 'secondary' });
    expect(highestVolts(withSecondary(null))).toEqual({ kind: 'unknown', where: 'secondary' });
  });

  test('asks more lines of a low-voltage coil as soon as a winding is unknown', () => {
    const asked = (bench: BenchFacts) =>
      demands(openedSession({ ...lowSetUp, bench })).flatMap(({ id, must }) =>
        must && !id.startsWith('pd') ? [id] : [],
      );
    const few = ['b-volts', 'b-hv', 'b-jack', 'b-clip', 'b-rate', 'b-off', 't1-src', 't1-own', 't1-coil'];
    expect(asked(lowBench)).toEqual(few);
    expect(asked(withSecondary(null))).toEqual([...few, 'b-place', 'b-people', 'b-cover', 'b-earth']);
  });
});

describe('the plug out, as a proof', () => {
  test('is enough for a low-voltage coil, and says that it is all that was proved', () => {
    const state = isolatedAt(lowSetUp);
    expect(state.lastProof).toMatchObject({ kind: 'plug-out-low-volts', readings: [] });
    expect(state.checks['pd-plug']).toMatchObject({ how: 'person' });
    expect(state.lastProof && proofWords(state.lastProof)).toBe(
      'Only this was proved: the transformer’s own plug is out. The low-voltage source and the windings were not measured. By Ida.',
    );
  });

  test('leads to ready and live, and back through proving to the next one', () => {
    expect(readyAt(lowSetUp).kind).toBe('ready');
    const off = provingAt(lowSetUp);
    expect(off.kind).toBe('proving');
    expect(arrange(off, at(3 * second, { kind: 'plug-out-proved' })).kind).toBe('isolated');
  });

  test.each<[string, SetUp, string]>([
    ['a winding is unknown', { ...lowSetUp, bench: withSecondary(null) }, 'grade-needs-full-proof'],
    ['a winding stands over 50 V', { ...lowSetUp, bench: withSecondary(120) }, 'grade-needs-full-proof'],
    ['the bench is fed from the mains', mainsSetUp, 'grade-needs-full-proof'],
    ['it is another procedure at low voltage', { ...lowSetUp, checklists: ['B', 'N'] }, 'grade-needs-full-proof'],
  ])('is refused when %s', (_what, setUp, code) => {
    const { refusal, state } = reduce(openedSession(setUp), plugOut);
    expect(refusal?.code).toBe(code);
    expect(state.kind).toBe('unproved');
  });

  test('is refused while a circuit channel still shows volts', () => {
    const { state } = walk(provingAt(lowSetUp), seen(3 * second, 'primary-volts', reading(5)));
    const ask = at(4 * second, { kind: 'plug-out-proved' });
    expect(reduce(state, ask).refusal).toEqual({ code: 'volts-still-there', channel: 'primary volts', volts: 5 });
    const fallen = walk(state, seen(4 * second, 'primary-volts', reading(0.1))).state;
    expect(reduce(fallen, ask).state.kind).toBe('isolated');
  });

  test('ends the moment a winding turns out to be unknown', () => {
    const { state } = walk(readyAt(lowSetUp), at(second, { kind: 'bench-described', bench: withSecondary(null) }));
    expect(state.kind).toBe('unproved');
    expect(state.why).toEqual({ code: 'grade-rose', highest: { kind: 'unknown', where: 'secondary' } });
    expect(state.grade).toBe('base');
  });

  test('ends when the touch bound is lowered under what stands on the bench', () => {
    const damp = { ...isolatedAt(lowSetUp).thresholds, touchVolts: 25 };
    const setUp = { ...lowSetUp, bench: withSecondary(30) };
    const { state } = walk(isolatedAt(setUp), at(second, { kind: 'thresholds-set', thresholds: damp, reason: null }));
    expect(state.why).toMatchObject({ code: 'grade-rose', highest: { volts: 30 } });
  });

  test('ends when another procedure is chosen', () => {
    const { state } = walk(
      isolatedAt(lowSetUp),
      at(second, { kind: 'set-up', setUp: { ...lowSetUp, checklists: ['B', 'N'] } }),
    );
    expect(state.kind).toBe('unproved');
    expect(state.why.code).toBe('set-up-changed');
  });

  test('ends when the bench is fed from the mains: never a way from there to mains power without a proof', () => {
    const { state } = walk(isolatedAt(lowSetUp), at(second, { kind: 'set-up', setUp: mainsSetUp }));
    expect(state.kind).toBe('unproved');
  });

  test('trips a live run when a winding turns out to stand over 50 V', () => {
    const { state } = walk(liveAt(lowSetUp), at(2 * second, { kind: 'bench-described', bench: withSecondary(180) }));
    expect(state.kind === 'tripped' && state.trip).toEqual({
      code: 'grade-rose',
      highest: { kind: 'known', volts: 180, where: 'secondary' },
    });
  });

  test('does not end when the volts only become better known', () => {
    const { state } = walk(isolatedAt(lowSetUp), at(second, { kind: 'bench-described', bench: withSecondary(1.3) }));
    expect(state.kind).toBe('isolated');
  });

  test('is what the list of missing lines asks for, and nothing of the meter proof', () => {
    const missing = missingForReady(openedSession(lowSetUp)).map(({ id }) => id);
    expect(missing.filter((id) => id.startsWith('pd-'))).toEqual(['pd-plug']);
    const ticked = arrange(openedSession(lowSetUp), ...ticks(0, ['pd-plug']));
    expect(ticked.kind).toBe('unproved');
    expect(missingForReady(ticked).find(({ id }) => id === 'pd-plug')?.why).toBe('no proof stands');
  });

  test('gives way to a full proof where one is made', () => {
    const state = provedAt(openedSession(lowSetUp), 0);
    expect(state.lastProof?.kind).toBe('meter');
    const { state: after } = walk(state, at(second, { kind: 'bench-described', bench: withSecondary(null) }));
    expect(after.kind).toBe('isolated');
  });

  test('never says more than it is', () => {
    expect(headline(isolatedAt(lowSetUp)).why).toContain('Only this was proved');
  });
});

describe('the lists that a supply asks for', () => {
  const ask = (setUp: SetUp) =>
    walk(openedSession({ ...mainsSetUp, bench: setUp.bench }), at(0, { kind: 'set-up', setUp })).last.refusal?.code;

  test('T1 is not for the mains, nor for a source over the touch bound', () => {
    expect(ask({ ...mainsSetUp, checklists: ['T1'] })).toBe('low-voltage-list-refused');
    const high: BenchFacts = { ...lowBench, supply: { ...lowBench.supply, volts: 60 } };
    expect(ask({ ...lowSetUp, bench: high })).toBe('low-voltage-list-refused');
  });

  test('the short-circuit list is not for full mains', () => {
    expect(ask({ ...mainsSetUp, checklists: ['X'] })).toBe('low-voltage-list-refused');
    const variable: BenchFacts = { ...mainsBench, supply: { ...mainsBench.supply, kind: 'variable-transformer' } };
    expect(ask({ ...mainsSetUp, bench: variable, checklists: ['X'] })).toBeUndefined();
  });

  test('nothing is powered without the base', () => {
    expect(ask({ ...mainsSetUp, checklists: ['N'] })).toBe('base-list-missing');
    expect(ask({ ...mainsSetUp, checklists: [] })).toBe('base-list-missing');
    expect(ask({ ...mainsSetUp, energised: false, checklists: ['R'] })).toBeUndefined();
  });
});
