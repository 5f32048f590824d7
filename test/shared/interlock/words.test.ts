import { describe, expect, test } from 'vitest';
import { cautions, cautionText } from '../../../src-shared/interlock/cautions.ts';
import { GuardCommand } from '../../../src-shared/interlock/command.ts';
import { eventOf } from '../../../src-shared/interlock/event.ts';
import { headline } from '../../../src-shared/interlock/headline.ts';
import { lapsesNext, missingForReady, unansweredShoulds } from '../../../src-shared/interlock/ready.ts';
import { reduce } from '../../../src-shared/interlock/reduce.ts';
import { guardAtFirst } from '../../../src-shared/interlock/state.ts';
import { refusalWords } from '../../../src-shared/interlock/words.ts';
import * as v from 'valibot';
import { events, states } from './table-events.ts';
import {
  arrange,
  at,
  isolatedAt,
  liveAt,
  minute,
  openedSession,
  provingAt,
  readyAt,
  second,
  ticks,
  trippedAt,
  walk,
} from './scene.ts';

describe('the strip', () => {
  test.each([
    [guardAtFirst(0), 'Unproved', 'The program has begun. Nothing is known. Treat it as live.', 'Begin at the bench'],
    [
      openedSession(),
      'Unproved',
      'A session was opened. Nothing is known of this bench yet. Treat it as live.',
      'Prove dead',
    ],
    [readyAt(), 'Ready', 'Every must was confirmed, the limits are set, the meters answer.', 'Power on'],
    [liveAt(), 'Live', 'Ida declared power on.', 'Power is off'],
    [
      trippedAt(),
      'Tripped',
      'primary volts reached 260 V, limit 253 V. Switch off at the plug now. Recording goes on.',
      'Power is off',
    ],
    [provingAt(), 'Proving', 'Ida declared power off. Not yet proved dead.', 'Prove dead'],
  ])('says what the state is, why, and what to do next (%#)', (state, title, why, label) => {
    expect(headline(state)).toMatchObject({ title, why, nextAct: { label } });
  });

  test('says of isolated how it was proved, with what, by whom, and how much is missing for ready', () => {
    expect(headline(isolatedAt()).why).toMatch(
      /^Proved dead with a meter: known source, every pair, known source again\. With meter 11\. By Ida\. \d+ lines are missing for ready\.$/,
    );
  });

  test('never says "safe", whatever happens', () => {
    for (const make of Object.values(states)) {
      for (const event of Object.values(events)) {
        const { state, refusal } = reduce(make(), event);
        const said = `${headline(state).why} ${refusal === null ? '' : refusalWords(refusal)}`;
        expect(said.toLowerCase()).not.toMatch(/\bsafe/);
        expect(said).not.toMatch(/NaN|undefined|null|Infinity/);
      }
    }
  });
});

describe('what is missing for ready', () => {
  test('is nothing when ready may be asked', () => {
    expect(missingForReady(readyAt())).toEqual([]);
  });

  test('says for each line why, and how it is made good', () => {
    const lapsed = arrange(readyAt(), at(minute, { kind: 'changed', what: ['wiring'] }));
    const lines = missingForReady(lapsed);
    expect(lines.find(({ id }) => id === 'pd-cap')).toEqual({
      id: 'pd-cap',
      text: 'No charged capacitor is joined to any winding: taken off, or discharged through a resistor and its ends joined.',
      why: 'the wiring was changed',
      lapsedAtMs: minute,
      how: 'tick',
    });
    expect(lines.find(({ id }) => id === 'pd-ln')).toMatchObject({ why: 'the wiring was changed', how: 'read' });
    expect(lines.find(({ id }) => id === 'pd-known1')).toMatchObject({ why: 'no proof stands', how: 'read' });
    expect(lines.find(({ id }) => id === 'pd-plug')).toBeUndefined();
    expect(missingForReady(openedSession()).find(({ id }) => id === 'limits')).toMatchObject({
      why: 'not set for this set-up',
    });
  });

  test('begins with a session and a set-up', () => {
    expect(missingForReady(guardAtFirst(0)).map(({ id }) => id)).toEqual(['session']);
  });

  test('keeps the shoulds apart, until each is answered', () => {
    const state = isolatedAt();
    const ids = () => unansweredShoulds(state).map(({ id }) => id);
    expect(ids()).toContain('b-help');
    const answered = arrange(
      state,
      at(0, { kind: 'should-skipped', checkId: 'b-help', reason: 'alone' }),
      ...ticks(0, ['b-fit']),
    );
    const left = unansweredShoulds(answered).map(({ id }) => id);
    expect(left).not.toContain('b-help');
    expect(left).not.toContain('b-fit');
  });
});

describe('what lapses next', () => {
  test('is the proof in isolated and ready', () => {
    expect(lapsesNext(isolatedAt())).toMatchObject({ id: 'pd-plug', atMs: 30 * minute });
    expect(lapsesNext(readyAt())).toMatchObject({ id: 'pd-plug', atMs: 30 * minute });
  });

  test('is the time of the run while live', () => {
    expect(lapsesNext(liveAt())).toEqual({ id: 'run-time', text: 'Time with power on', atMs: second + 120 * second });
  });

  test('is nothing when nothing stands', () => {
    expect(lapsesNext(openedSession())).toBeNull();
  });
});

describe('a caution', () => {
  test('is filled with its figures', () => {
    expect(cautionText('c-step', { source: 12, v: 200, winding: 'heater' })).toBe(
      '12 V here puts about 200 V on the heater.',
    );
    expect(cautionText('c-first', {})).toMatch(/^This program reads and records\. It cannot switch anything off/);
  });

  test('leaves no place open, and says nothing is safe', () => {
    for (const { id, text } of cautions) {
      expect(text).not.toMatch(/\bsafe/i);
      expect(text.replaceAll(/\{(source|v|winding|i|channel|value|limit|who|date)\}/g, ''), id).not.toMatch(/[{}]/);
    }
    expect(cautions).toHaveLength(24);
  });
});

describe('what a page may send', () => {
  test.each([
    { kind: 'power-off', atMs: 0 },
    { kind: 'session-opened' },
    { kind: 'auto-check', checkId: 'b-rate', holds: true },
    { kind: 'check-confirmed', checkId: 'no-such' },
    { kind: 'proof-started', instrument: { kind: 'meter', meterId: 1, practice: false } },
    { kind: 'changed', what: ['everything'] },
    {
      kind: 'limits-set',
      limits: { channels: [], runSeconds: Infinity, silenceSeconds: 5, typedSeconds: 5 },
      reason: null,
    },
    { kind: 'limits-set', limits: { channels: [], runSeconds: 5, silenceSeconds: 5, typedSeconds: 5 }, reason: '  ' },
  ])('is not this: %j', (command) => {
    expect(v.safeParse(GuardCommand, command).success).toBe(false);
  });

  test('is stamped by main, which says what it knows of the meter of a proof', () => {
    const said = { atMs: 5, by: 'Ida' };
    const known = { label: 'bench meter', practice: false, maxVolts: 600 };
    const instrument = {
      kind: 'meter',
      meterId: 4,
      acRange: 0,
      dcRange: 1,
      knownAcVolts: 230,
      knownDcVolts: 60,
    } as const;
    expect(eventOf({ kind: 'power-off' }, said, () => null)).toEqual({ kind: 'power-off', ...said });
    expect(eventOf({ kind: 'proof-started', instrument }, said, () => known)).toEqual({
      kind: 'proof-started',
      ...said,
      instrument: { ...instrument, ...known },
    });
    expect(eventOf({ kind: 'proof-started', instrument }, said, () => null)).toBeNull();
    const light = { kind: 'indicator', label: 'two-pole', maxVolts: 690 } as const;
    expect(eventOf({ kind: 'proof-started', instrument: light }, said, () => null)).toMatchObject({
      instrument: { ...light, practice: false },
    });
  });
});

describe('what is recorded', () => {
  test('an act is recorded whole, with what it led to; a reading only by what it changed', () => {
    const { last } = walk(readyAt(), at(second, { kind: 'changed', what: [] }));
    expect(last.effects).toMatchObject([
      { kind: 'record', event: { kind: 'changed', what: [] }, from: 'ready', to: 'ready' },
    ]);
    const { last: moved } = walk(readyAt(), at(second, { kind: 'changed', what: ['moved'] }));
    const marks = moved.effects.flatMap((effect) => (effect.kind === 'check' ? [effect] : []));
    expect(marks.map(({ checkId }) => checkId)).toEqual(
      expect.arrayContaining(['b-hv', 'b-earth', 'b-cover', 'b-off', 'b-place', 'b-lamp']),
    );
    expect(marks[0]).toMatchObject({ mark: 'lapsed', lapse: { cause: { kind: 'event', event: 'move' } } });
    expect(walk(readyAt(), at(second, { kind: 'tick' })).last.effects).toEqual([]);
  });
});
