import { describe, expect, it } from 'vitest';
import { accept, cautionCodes, refusal } from './ask.ts';

const primary = { name: 'primary', role: 'primary', turns: 120 };
const high = { name: 'high', role: 'other', turns: 2000 };
const coil = { name: 'coil', role: 'test-coil', turns: 10 };
const ask = (extra: object) =>
  accept('winding-volts', {
    windings: [primary, high, coil],
    fedIndex: 0,
    feedVolts: 12,
    isolatedSource: true,
    ...extra,
  });

describe('winding volts', () => {
  it('puts 200 V on 2000 turns beside 120 turns fed with 12 V', () => {
    const answer = ask({});
    expect(answer.results.windings.map(({ volts }) => volts?.value)).toEqual([12, 200, 1]);
    expect(answer.results.highestVolts?.value).toBe(200);
    expect(answer.results.plugVolts?.value).toBe(12);
    expect(answer.results.grade).toBe('base');
    expect(cautionCodes(answer)).toEqual(['steps-up']);
  });

  it('puts 144 V on the plug when a 10-turn coil is fed with 12 V', () => {
    const answer = ask({ fedIndex: 2 });
    expect(answer.results.plugVolts?.value).toBeCloseTo(144, 9);
    expect(cautionCodes(answer)).toContain('plug-live');
  });

  it('proposes 3 V as the most that keeps everything at 50 V, and then asks for the handful of checks', () => {
    expect(ask({}).results.highestFeedVolts.value).toBeCloseTo(3, 12);
    expect(ask({ boundVolts: 25 }).results.highestFeedVolts.value).toBeCloseTo(1.5, 12);
    expect(ask({ feedVolts: 3 }).results.grade).toBe('handful');
    expect(ask({ feedVolts: 3.01 }).results.grade).toBe('base');
    expect(ask({ feedVolts: 0 }).results.highestFeedVolts.value).toBeCloseTo(3, 12);
  });

  it('never proposes more than the bound for the fed winding itself', () => {
    expect(ask({ fedIndex: 1 }).results.highestFeedVolts.value).toBe(50);
  });

  it('asks for the base set from a source that is not isolated', () => {
    const answer = ask({ feedVolts: 3, isolatedSource: false });
    expect(answer.results.grade).toBe('base');
    expect(cautionCodes(answer)).toContain('source-not-isolated');
  });

  it('treats a winding with unknown turns as lethal', () => {
    const answer = ask({ windings: [primary, { name: 'high', role: 'other' }], feedVolts: 1 });
    expect(answer.results.windings[1]).toEqual({ name: 'high', volts: null, isUnknown: true });
    expect(answer.results.unknown).toEqual([1]);
    expect(answer.results.grade).toBe('base');
    expect(cautionCodes(answer)).toContain('unknown-winding');
  });

  it('knows nothing but the feed when the fed winding is the unknown one', () => {
    const { results } = ask({ windings: [{ name: 'found', role: 'other' }, primary], feedVolts: 1 });
    expect(results.windings.map(({ volts }) => volts?.value ?? null)).toEqual([1, null]);
    expect(results.plugVolts).toBeNull();
    expect(results.grade).toBe('base');
  });

  it('grades by the far end of an estimate, and by nothing when its doubt is unknown', () => {
    const estimated = (u: number | null) => [{ ...primary, turns: { value: 120, u } }, high];
    expect(ask({ windings: estimated(0.5), feedVolts: 3 }).results.grade).toBe('base');
    expect(ask({ windings: estimated(0.5), feedVolts: 2.9 }).results.grade).toBe('handful');
    expect(ask({ windings: estimated(null), feedVolts: 1 }).results.grade).toBe('base');
  });

  it('adds up several windings on the plug', () => {
    const answer = ask({
      windings: [
        { ...primary, onPlug: true },
        { ...primary, name: 'second' },
      ],
      feedVolts: 20,
    });
    expect(answer.results.plugVolts?.value).toBe(40);
    expect(cautionCodes(answer)).toContain('plug-in-series');
  });

  it('warns of a winding with one end on the core', () => {
    expect(cautionCodes(ask({ windings: [primary, { ...high, oneEndOnCore: 'yes' }] }))).toContain('one-end-on-core');
  });

  it('refuses a fed winding that is not there', () => {
    expect(refusal('winding-volts', { windings: [primary], fedIndex: 1, feedVolts: 1 })).toMatchObject({
      code: 'too-large',
      path: 'fedIndex',
    });
  });
});
