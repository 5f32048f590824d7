import { describe, expect, test } from 'vitest';
import { movedView, togetherView } from '../../../src-renderer/page/bench/capture-words.ts';
import { cautionLines, procedureCautions } from '../../../src-renderer/page/bench/cautions-view.ts';
import { checkLines, countOf, proofTicks } from '../../../src-renderer/page/bench/check-lines.ts';
import { turnsOfPair } from '../../../src-renderer/page/bench/pair-turns.ts';
import { ageWords, meterDigits, voltsWords } from '../../../src-renderer/page/bench/reading-words.ts';
import { shownReading } from '../../../src-renderer/page/bench/shown-reading.ts';
import { buildOfPart, stageFor } from '../../../src-renderer/page/bench/stage.ts';
import { readTurns, suggestionWords } from '../../../src-renderer/page/bench/turns-answer.ts';
import { timeAhead } from '../../../src-renderer/page/bench/wall-time.ts';
import { highestSourceVolts, voltsRows } from '../../../src-renderer/page/bench/volts-view.ts';
import { guardAtFirst } from '../../../src-shared/interlock/state.ts';
import { procedureById } from '../../../src-shared/procedure/table.ts';
import { BenchFixture, keptPair, lowSupply, runWhole } from './bench-fixture.ts';

const fixture = new BenchFixture();

describe('the cautions of a procedure', () => {
  const ids = (id: string, state = guardAtFirst(0), shunts: 'out' | 'in' = 'in') =>
    procedureCautions(procedureById(id) ?? { cautions: [] }, state, shunts).map((line) => line.id);

  test('stand where they bear on what is done', () => {
    expect(ids('heat-run')).toEqual(['c-attend']);
    expect(ids('winding-resistance')).toEqual(['c-kick']);
    expect(ids('test-coil')).toEqual([]);
    expect(ids('loaded-run', guardAtFirst(0), 'out')).toEqual(['c-shunt']);
  });
});

describe('volts while power is on', () => {
  test('puts an unknown winding first, as lethal, and names the plug', () => {
    const rows = voltsRows(fixture.facts(false), 50);
    expect(rows.map(({ label, volts }) => [label, volts])).toEqual([
      ['High-voltage winding', null],
      ['Primary', 24],
      ['Plug pins', 24],
    ]);
    expect(rows[0]?.isHigh).toBe(true);
    expect(rows[0]?.caution).toMatch(/thousands of volts/);
  });

  // 12 V on a 120-turn primary beside 2000 turns puts 200 V on them: 3 V keeps everything at or under 50 V (own arithmetic).
  test('proposes the source that keeps every known winding under the bound', () => {
    const bench = fixture.facts(true, { ...lowSupply, volts: 12 });
    const stepped = {
      ...bench,
      windings: bench.windings.map((one, index) => (index === 1 ? { ...one, volts: 200 } : one)),
    };
    expect(highestSourceVolts(stepped, 50)).toBe(3);
    expect(voltsRows(stepped, 50)[0]?.caution).toBe('12 V here puts about 200 V on the Secondary.');
  });

  test('names the lamp, the RCD and the inrush where they apply', () => {
    const ids = (kind: 'mains' | 'mains-through-lamp' | 'variable-transformer') =>
      cautionLines(fixture.facts(true, { ...lowSupply, kind, volts: 120 }), 50, 0.7).map(({ id }) => id);
    expect(ids('mains')).toEqual(expect.arrayContaining(['c-rcd', 'c-inrush']));
    expect(ids('mains-through-lamp')).toEqual(expect.arrayContaining(['c-lamp', 'c-rcd']));
    expect(ids('mains-through-lamp')).not.toContain('c-inrush');
    expect(ids('variable-transformer')).toContain('c-var');
    // 120 V on 0.7 ohm: about 240 A for part of a cycle (upper bound, own arithmetic).
    const inrush = cautionLines(fixture.facts(true, { ...lowSupply, kind: 'mains', volts: 120 }), 50, 0.7);
    expect(inrush.find(({ id }) => id === 'c-inrush')?.text).toContain('242 A');
  });
});

describe('checks', () => {
  test('asks the plug alone with low volts everywhere, and three ticks otherwise', () => {
    const low = { ...fixture.record({ known: true }), kind: 'unproved' } as const;
    const unknown = { ...fixture.record(), kind: 'unproved' } as const;
    expect(proofTicks(low, 0).map(({ id }) => id)).toEqual(['pd-plug']);
    expect(proofTicks(unknown, 0).map(({ id }) => id)).toEqual(['pd-plug', 'pd-cap', 'pd-lead']);
    expect(checkLines(unknown, 0).length).toBeGreaterThan(checkLines(low, 0).length);
  });

  test('counts what is answered and what holds up power', () => {
    const { unproved, ready } = fixture.states();
    expect(countOf(checkLines(unproved, 0))).toMatchObject({ answered: 0 });
    expect(countOf(checkLines(unproved, 0)).mustsLeft).toBeGreaterThan(5);
    expect(countOf(checkLines(ready, 0)).mustsLeft).toBe(0);
  });
});

describe('what the middle shows', () => {
  const { unproved, isolated, live } = fixture.states();

  test.each([
    [unproved, null, 'prove'],
    [isolated, null, 'readings'],
    [isolated, 'set-up', 'set-up'],
    [live, 'prove', 'readings'],
    [{ ...unproved, setUp: null }, 'prove', 'set-up'],
  ] as const)('state and address decide %#', (state, part, stage) => {
    expect(stageFor(state, part)).toBe(stage);
  });

  test('takes the build of an address', () => {
    expect([buildOfPart('build-12'), buildOfPart('build-0'), buildOfPart('prove'), buildOfPart(null)]).toEqual([
      12,
      null,
      null,
      null,
    ]);
  });
});

describe('figures', () => {
  test('show the digits of their range', () => {
    expect([meterDigits(23.7, 0.01), meterDigits(0.5, 0.0001), meterDigits(-0.02, 0.01), meterDigits(230, 1)]).toEqual([
      '23.70',
      '0.5000',
      '−0.02',
      '230',
    ]);
    expect([voltsWords(215.4), voltsWords(2150)]).toEqual(['215 V', '2.15 kV']);
    expect([ageWords(210), ageWords(12_400), ageWords(125_000)]).toEqual(['0.2 s ago', '12 s ago', '2 min ago']);
  });

  test('are what the recorder accepted while the run takes readings, and marked otherwise', () => {
    const recorded = { atMs: 500, kind: 'number', value: 1, u: null, unit: 'V', text: '1' } as const;
    const heard = {
      atMs: 9000,
      kind: 'number',
      value: 2,
      u: null,
      unit: 'V',
      coupling: 'ac',
      text: '2',
      origin: 'meter',
      rangeIndex: 0,
      bottomOfRange: false,
    } as const;
    expect(shownReading(true, recorded, { startedMonoMs: 1000 }, heard)).toMatchObject({
      value: 1,
      atMs: 1500,
      isRecorded: true,
    });
    expect(shownReading(true, recorded, { startedMonoMs: 1000, timeFactor: 10 }, heard)).toMatchObject({ atMs: 1050 });
    expect(shownReading(false, recorded, { startedMonoMs: 1000 }, heard)).toMatchObject({
      value: 2,
      isRecorded: false,
    });
    expect(shownReading(false, null, null, null)).toBeNull();
  });
});

test('a time ahead names its day when that is not today', () => {
  const [hour, now] = [3_600_000, 1000];
  expect(timeAhead(now + 24 * hour, now)).toMatch(/^\d\d:\d\d, \d+ \w{3,4}$/);
  expect(timeAhead(now, now)).toMatch(/^\d\d:\d\d$/);
});

describe('capture', () => {
  const meter = fixture.program.meters[0]?.state;
  if (meter === undefined) throw new Error('The fixture has a meter.');
  const settling = (isSettled: boolean, seconds: number) => ({ isSettled, seconds, sentence: 'Still moving.' });

  test('is settled for the shorter of two times, and says why it is not', () => {
    const at = (isSettled: boolean, seconds: number) => ({ ...meter, settling: settling(isSettled, seconds) });
    expect(togetherView([at(true, 12.7), at(true, 8.2)])).toMatchObject({
      isSettled: true,
      why: 'Both inside their own error for 8 s.',
    });
    expect(togetherView([at(true, 12), at(false, 0)])).toMatchObject({ isSettled: false, why: 'Still moving.' });
    expect(togetherView([null, null])).toMatchObject({ isSettled: false, why: 'Nothing was read yet.' });
  });

  test('with one meter goes primary, coil, primary', () => {
    const { primary, coil } = keptPair(1, 10, 0.98, 23.7);
    const on = (channel: string) => ({ ...meter, channel, settling: settling(true, 9) });
    expect(movedView([], on('primary-volts'))).toMatchObject({ channel: 'primary-volts', isSettled: true });
    expect(movedView([primary], on('primary-volts'))).toMatchObject({ channel: 'coil-volts', isSettled: false });
    expect(movedView([primary], on('primary-volts')).why).toMatch(/clip the meter to the test coil/);
    expect(movedView([primary, coil], on('primary-volts'))).toMatchObject({
      channel: 'primary-volts',
      isSettled: true,
    });
  });
});

describe('turns', () => {
  // N = n U1 / U2 = 10 x 23.70 / 0.9869 (Faraday; any machines text).
  test('of one pair', () => {
    expect(turnsOfPair(keptPair(1, 10, 0.9869, 23.7), 50)?.value).toBeCloseTo((10 * 23.7) / 0.9869, 9);
  });

  test('are read from the program’s answer, and a refusal is said', () => {
    const session = fixture.openSession();
    const { soFar } = runWhole(fixture.openRun(), session, [keptPair(1, 10, 0.9869, 23.7)]);
    const { answer } = readTurns(soFar);
    expect(answer?.results.primaryTurns.value).toBeCloseTo(240.146, 2);
    expect(answer === null ? '' : suggestionWords(answer)).toMatch(/gain dominates|pin it to one turn/);
    expect(readTurns({ ok: false, error: { message: 'Too alike.' } })).toEqual({ answer: null, refusal: 'Too alike.' });
    expect(readTurns(null)).toEqual({ answer: null, refusal: null });
  });
});
