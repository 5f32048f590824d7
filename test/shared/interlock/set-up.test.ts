import { describe, expect, test } from 'vitest';
import type { ChannelFacts, MeterFacts, SetUp } from '../../../src-shared/interlock/bench.ts';
import { mustsBeforePower } from '../../../src-shared/interlock/demand.ts';
import { rateChannel } from '../../../src-shared/interlock/rating.ts';
import { missingForReady } from '../../../src-shared/interlock/ready.ts';
import { reduce } from '../../../src-shared/interlock/reduce.ts';
import { refusalWords } from '../../../src-shared/interlock/words.ts';
import {
  amps,
  arrange,
  at,
  channel,
  lowBench,
  mainsBench,
  mainsSetUp,
  meter,
  openedSession,
  readyAt,
} from './scene.ts';

const rate = (more: Partial<ChannelFacts>, facts: Partial<MeterFacts> = {}) =>
  rateChannel(channel('primary-volts', { meter: meter(11, facts), ...more }));

describe('a meter on a channel', () => {
  test.each<[string, Partial<ChannelFacts>, Partial<MeterFacts>, string | undefined]>([
    ['rated exactly for the volts and 10 %', { volts: 230 }, { maxVolts: 253 }, undefined],
    ['rated for less than the volts and 10 %', { volts: 230 }, { maxVolts: 252.9 }, 'meter-unrated'],
    ['rated for the r.m.s. of a peak only', { volts: 230, peak: true }, { maxVolts: 300 }, 'meter-unrated'],
    ['rated for the peak', { volts: 230, peak: true }, { maxVolts: 358 }, undefined],
    ['whose rating nobody knows', { volts: 12, joinedToMains: false }, { maxVolts: null }, 'meter-unrated'],
    ['on an unknown winding', { volts: null }, { maxVolts: 1000 }, 'winding-unknown'],
    ['without a category, on the mains', {}, { category: 'none' }, 'category-missing'],
    ['of unknown category, on the mains', {}, { category: 'not-known' }, 'category-missing'],
    ['without a category, on an isolated bench', { volts: 12, joinedToMains: false }, { category: 'none' }, undefined],
    ['with a link that is not isolated, on the mains', {}, { linkIsolated: 'no' }, 'link-not-isolated'],
    ['with a link that may not be isolated, on the mains', {}, { linkIsolated: 'not-known' }, 'link-not-isolated'],
    [
      'with such a link at 12 V from a variable transformer',
      { volts: 12 },
      { linkIsolated: 'no' },
      'link-not-isolated',
    ],
    ['with such a link over 50 V', { volts: 50.1, joinedToMains: false }, { linkIsolated: 'no' }, 'link-not-isolated'],
    ['with such a link at 50 V', { volts: 50, joinedToMains: false }, { linkIsolated: 'no' }, undefined],
    ['without a link, on the mains', {}, { linkIsolated: 'none' }, undefined],
    [
      'that is a thermocouple on a mains winding with such a link',
      { kind: 'temperature', unit: '°C', volts: 230 },
      { linkIsolated: 'no' },
      'link-not-isolated',
    ],
    [
      'that reads the room',
      { kind: 'ambient', unit: '°C', volts: 0, joinedToMains: false },
      { maxVolts: null, category: 'none', linkIsolated: 'no' },
      undefined,
    ],
  ])('%s', (_what, more, facts, code) => {
    expect(rate(more, facts)?.code).toBe(code);
  });

  test('is refused in a sentence with both figures', () => {
    const refusal = rate({ volts: 230 }, { maxVolts: 250 });
    expect(refusal && refusalWords(refusal)).toBe('meter 11 is rated for 250 V; primary volts could stand at 253 V.');
  });
});

const ask = (setUp: SetUp, practice = false) => {
  const state = openedSession(mainsSetUp, practice);
  return reduce(state, at(0, { kind: 'set-up', setUp }));
};

describe('a set-up', () => {
  test.each<[string, Partial<SetUp>, string]>([
    ['an empty channel that is required', { channels: [channel('primary-volts')] }, 'meter-missing'],
    [
      'one meter on two channels',
      { channels: [channel('a', { meter: meter(1) }), amps({ meter: meter(1) })] },
      'meter-twice',
    ],
    ['a practice meter', { channels: [channel('a', { meter: meter(1, { practice: true }) })] }, 'practice-meter'],
    ['an unrated meter', { channels: [channel('a', { meter: meter(1, { maxVolts: 100 }) })] }, 'meter-unrated'],
  ])('with %s is refused, and nothing changes', (_what, more, code) => {
    const { refusal, state } = ask({ ...mainsSetUp, ...more });
    expect(refusal?.code).toBe(code);
    expect(state.setUp).toEqual(mainsSetUp);
  });

  test('may move one meter between its channels where the procedure says so', () => {
    const channels = [channel('a', { meter: meter(1) }), channel('b', { meter: meter(1) })];
    expect(ask({ ...mainsSetUp, channels, oneMeter: true }).refusal).toBeNull();
  });

  test('may leave a channel empty that is not required', () => {
    const channels = [...mainsSetUp.channels, channel('watts', { required: false })];
    expect(ask({ ...mainsSetUp, channels }).refusal).toBeNull();
  });

  test('of practice meters fits a practice session', () => {
    const channels = [channel('a', { meter: meter(1, { practice: true }) })];
    expect(ask({ ...mainsSetUp, channels }, true).refusal).toBeNull();
  });

  test('asks what hangs on a circumstance, unless somebody says that it does not apply', () => {
    const musts = (ruledOut: SetUp['ruledOut']) =>
      mustsBeforePower(ask({ ...mainsSetUp, ruledOut }).state).map(({ id }) => id);
    expect(musts([])).toContain('n-exp');
    expect(musts(['turns-added'])).not.toContain('n-exp');
    expect(musts(['turns-added', 'built-or-moved-since-power'])).toContain('b-lamp');
  });

  test('takes no line that was passed over for one that stands, once it is a must', () => {
    const byResistance: SetUp = { ...mainsSetUp, procedureId: 'heat-run', checklists: ['B', 'N', 'H'] };
    const withProbe: SetUp = { ...byResistance, ruledOut: ['turns-added', 'resistance-method'] };
    const passedOver = arrange(
      openedSession(withProbe),
      at(0, { kind: 'should-skipped', checkId: 'h-cold', reason: 'a probe reads it' }),
    );
    const missing = (setUp: SetUp) =>
      missingForReady(arrange(passedOver, at(0, { kind: 'set-up', setUp }))).map(({ id }) => id);
    expect(missing(withProbe)).not.toContain('h-cold');
    expect(missing(byResistance)).toContain('h-cold');
  });

  test('ticks the rating line itself, and ticks it again after a change only when set up again', () => {
    const state = openedSession();
    expect(state.checks['b-rate']).toMatchObject({ how: 'program' });
    const changed = arrange(state, at(0, { kind: 'changed', what: ['meter'] }));
    expect(changed.checks['b-rate']).toBeUndefined();
    expect(arrange(changed, at(0, { kind: 'set-up', setUp: mainsSetUp })).checks['b-rate']).toBeDefined();
  });

  test('alike leaves everything as it is', () => {
    const state = readyAt();
    expect(reduce(state, at(0, { kind: 'set-up', setUp: mainsSetUp })).state).toEqual(state);
  });

  test('with another procedure keeps what still stands, and asks the limits anew', () => {
    const other = { ...mainsSetUp, procedureId: 'heat-run', checklists: ['B', 'N', 'H'] as const };
    const { state } = reduce(readyAt(), at(0, { kind: 'set-up', setUp: other }));
    expect(state.kind).toBe('isolated');
    expect(state.limits).toBeNull();
    expect(state.checks['b-cover']).toBeDefined();
  });

  test('with another meter is a change of meter', () => {
    const other = { ...mainsSetUp, channels: [channel('primary-volts', { meter: meter(13) }), amps()] };
    const { state } = reduce(readyAt(), at(0, { kind: 'set-up', setUp: other }));
    expect(state.lapsed['b-jack']?.cause).toEqual({ kind: 'event', event: 'meter' });
    expect(state.kind).toBe('unproved');
    expect(state.watch.channels['primary-volts']).toBeUndefined();
    expect(state.watch.channels['line-amps']).toBeDefined();
  });

  test('with another range locked is a change of meter too', () => {
    const other = {
      ...mainsSetUp,
      channels: [channel('primary-volts', { meter: meter(11, { lockedRange: 1 }) }), amps()],
    };
    const { state } = reduce(readyAt(), at(0, { kind: 'set-up', setUp: other }));
    expect(state.lapsed['b-jack']?.cause).toEqual({ kind: 'event', event: 'meter' });
  });

  test('on another build, feed or supply ends what hangs on it', () => {
    const lapsedBy = (bench: SetUp['bench']) => {
      const { state } = reduce(readyAt(), at(0, { kind: 'set-up', setUp: { ...mainsSetUp, bench } }));
      return [state.kind, state.lapsed['b-volts']?.cause, state.lapsed['b-fuse']?.cause];
    };
    const event = (id: string) => ({ kind: 'event', event: id });
    expect(lapsedBy({ ...mainsBench, buildId: 2 })).toEqual(['unproved', event('build'), undefined]);
    expect(lapsedBy({ ...mainsBench, fedWindingId: 2 })).toEqual(['unproved', event('wire'), event('wire')]);
    expect(lapsedBy({ ...mainsBench, supply: { ...mainsBench.supply, volts: 115 } })).toEqual([
      'unproved',
      event('supply'),
      event('supply'),
    ]);
  });

  test('with newly computed volts asks for the table again, and for nothing else', () => {
    const bench = { ...lowBench, supply: mainsBench.supply, plug: mainsBench.plug };
    const { state } = reduce(readyAt(), at(0, { kind: 'bench-described', bench }));
    expect(state.kind).toBe('isolated');
    expect(Object.keys(state.lapsed)).toEqual(['b-volts']);
    expect(state.lapsed['b-volts']?.cause).toEqual({ kind: 'new-volts-table' });
  });
});
