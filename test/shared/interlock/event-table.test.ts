import { describe, expect, test } from 'vitest';
import { reduce } from '../../../src-shared/interlock/reduce.ts';
import { table } from './event-table.ts';
import { events, states } from './table-events.ts';

describe('every event in every state', () => {
  test('the table has a row for every event, and no other', () => {
    expect(Object.keys(table)).toEqual(Object.keys(events));
  });

  test.each(Object.entries(events))('%s', (name, event) => {
    const cells = Object.values(states).map((make) => {
      const before = make();
      const { state, refusal } = reduce(before, event);
      const changed = state.revision === before.revision ? '' : '+';
      return `${state.kind}${changed}${refusal === null ? '' : `!${refusal.code}`}`;
    });
    expect(cells).toEqual(table[name]);
  });

  test('covers every kind of event', () => {
    const kinds = new Set(Object.values(events).map(({ kind }) => kind));
    const all = [
      ...['session-opened', 'session-ended', 'restarted', 'bench-described', 'set-up', 'check-confirmed'],
      ...['check-withdrawn', 'should-skipped', 'auto-check', 'changed', 'core-state', 'proof-started', 'proof-step'],
      ...['proof-abandoned', 'plug-out-proved', 'next-point-proved', 'limits-set', 'thresholds-set', 'ready-asked'],
      ...['power-on-begun', 'power-on-let-go', 'power-on-confirmed', 'power-off', 'alarm-heard', 'reading-seen'],
      ...['meter-silent', 'slept', 'held-up', 'tick', 'taken-over'],
    ];
    expect([...kinds].sort()).toEqual([...all].sort());
  });
});
