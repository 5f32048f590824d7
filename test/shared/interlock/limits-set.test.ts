import { describe, expect, test } from 'vitest';
import { bounds, deadCeilingVolts, presetThresholds, thresholdNames } from '../../../src-shared/interlock/bounds.ts';
import type { ChannelLimit, Limits } from '../../../src-shared/interlock/limit.ts';
import { reduce } from '../../../src-shared/interlock/reduce.ts';
import { at, isolatedAt, limits, liveAt, second } from './scene.ts';

const set = (next: Limits, reason: string | null = null, state = isolatedAt()) =>
  reduce(state, at(2 * second, { kind: 'limits-set', limits: next, reason }));

const with_ = (id: string, more: Partial<ChannelLimit>): Limits => ({
  ...limits,
  channels: limits.channels.map((one) => (one.channel === id ? { ...one, ...more } : one)),
});

describe('limits', () => {
  test('as proposed, and tighter, need no reason', () => {
    for (const next of [
      limits,
      with_('line-amps', { max: 1, warn: 0.5 }),
      { ...limits, runSeconds: 30, silenceSeconds: 2 },
    ]) {
      expect(set(next).state.limits).toEqual(next);
    }
  });

  test.each<[string, Limits]>([
    ['higher amps', with_('line-amps', { max: 2.1 })],
    ['no upper volts', with_('primary-volts', { max: null })],
    ['a later warning', with_('line-amps', { warn: 1.9 })],
    ['a longer run', { ...limits, runSeconds: 121 }],
    ['no end to the run', { ...limits, runSeconds: null }],
    ['a longer silence', { ...limits, silenceSeconds: 6 }],
    ['rarer typing', { ...limits, typedSeconds: 21 }],
  ])('with %s need a reason', (_what, next) => {
    expect(set(next).refusal?.code).toBe('reason-needed');
    expect(set(next, 'short leads').state.limits).toEqual(next);
  });

  test.each<[string, Limits, string]>([
    ['amps over the rating behind them', with_('line-amps', { max: 4.1 }), 'out-of-bounds'],
    ['no upper amps, where a rating stands behind them', with_('line-amps', { max: null }), 'out-of-bounds'],
    ['a lower bound above the upper', with_('primary-volts', { min: 254 }), 'out-of-bounds'],
    ['a figure that is none', with_('primary-volts', { max: Number.NaN }), 'out-of-bounds'],
    ['an infinite figure', with_('primary-volts', { max: Infinity }), 'out-of-bounds'],
    ['a run of no time', { ...limits, runSeconds: 0 }, 'out-of-bounds'],
    ['a silence of five minutes', { ...limits, silenceSeconds: 300 }, 'out-of-bounds'],
    [
      'a channel that there is none of',
      {
        ...limits,
        channels: [...limits.channels, { channel: 'x', min: null, max: 1, warn: null, risePerMinute: null }],
      },
      'limit-not-known',
    ],
    [
      'a channel twice',
      { ...limits, channels: [...limits.channels, ...limits.channels.slice(0, 1)] },
      'limit-not-known',
    ],
    ['a proposed channel left out', { ...limits, channels: limits.channels.slice(0, 1) }, 'limit-missing'],
  ])('with %s are refused, whatever the reason', (_what, next, code) => {
    expect(set(next, 'I say so').refusal?.code).toBe(code);
  });

  test('are tightened with power on, never loosened', () => {
    const live = liveAt();
    expect(set({ ...limits, runSeconds: 100 }, null, live).refusal).toBeNull();
    expect(set({ ...limits, runSeconds: 130 }, 'it is cool', live).refusal).toEqual({
      code: 'loosened-while-live',
      what: ['runSeconds'],
    });
  });

  test('with power on are not loosened back to what was proposed either', () => {
    const tight = set({ ...limits, runSeconds: 60 }, null, liveAt()).state;
    expect(set(limits, 'as proposed', tight).refusal?.code).toBe('loosened-while-live');
  });
});

describe('thresholds', () => {
  const ask = (more: Partial<typeof presetThresholds>, reason: string | null) =>
    reduce(isolatedAt(), at(0, { kind: 'thresholds-set', thresholds: { ...presetThresholds, ...more }, reason }))
      .refusal?.code;

  test.each(thresholdNames)('%s stays within its bounds, and says why it is looser', (name) => {
    const { lowest, highest, preset } = bounds[name];
    expect(ask({ [name]: lowest }, null)).toBeUndefined();
    expect(ask({ [name]: lowest - 0.01 }, 'because')).toBe('out-of-bounds');
    expect(ask({ [name]: highest + 0.01 }, 'because')).toBe('out-of-bounds');
    expect(ask({ [name]: Number.NaN }, 'because')).toBe('out-of-bounds');
    expect(ask({ [name]: highest }, null)).toBe(highest > preset ? 'reason-needed' : undefined);
    expect(ask({ [name]: highest }, 'because')).toBeUndefined();
  });

  /** IEC 60364-4-41 (touch voltage, dry: 25 V a.c., 60 V d.c.; extra-low voltage 50 V a.c.); from memory. */
  test('end far below the touch voltages of the standard', () => {
    expect(deadCeilingVolts).toEqual({ ac: 25, dc: 60 });
    expect(bounds.deadAcVolts.highest).toBeLessThan(deadCeilingVolts.ac);
    expect(bounds.deadDcVolts.highest).toBeLessThan(deadCeilingVolts.dc);
    expect(bounds.touchVolts.highest).toBe(50);
  });
});
