import { describe, expect, test } from 'vitest';
import type { Build, Winding } from '../../../src-shared/record/build.ts';
import type { Core } from '../../../src-shared/record/core.ts';
import { staleMarks, type PlanGround } from '../../../src-shared/record/plan-stale.ts';
import type { Result } from '../../../src-shared/record/run.ts';
import { staleWords } from '../../../src-shared/record/stale-words.ts';

const core: Core = {
  coreId: 1,
  revisionId: 1,
  replaces: null,
  reason: null,
  wallMs: 0,
  fields: { label: 'Dimmer core A', shape: 'shell', windowWidth: { value: 24, u: 0.1 } },
};
const primary: Winding = {
  windingId: 1,
  revisionId: 1,
  replaces: null,
  reason: null,
  wallMs: 0,
  fields: {
    label: 'Mains side',
    role: 'primary',
    turns: { kind: 'estimated', value: 194.2, u: 0.6, resultId: null },
    metal: 'copper',
    oneEndOnCore: 'no',
    onPlug: true,
  },
};
const build: Build = {
  buildId: 1,
  coreId: 1,
  number: 1,
  wallMs: 0,
  fields: { title: 'as found', joint: 'as-welded', shunts: 'none' },
  windings: [primary],
  hasRuns: true,
};
const result = (resultId: number, calculation: string): Result => ({
  resultId,
  buildId: 1,
  runId: null,
  calculation,
  version: 1,
  wallMs: resultId,
  input: {},
  output: {},
});
const ground: PlanGround = { coreHistory: [core], build, windingRows: [primary], results: [result(5, 'test-coil')] };
const version = { rests: { coreRevisionId: 1, windingRevisionIds: [1], resultIds: [5] } };
const words = (now: PlanGround) => staleMarks(version, now).map((mark) => staleWords(mark, 'metric'));

/** The core's next row. */
const corrected = (fields: Partial<Core['fields']>, reason = 'caliper read again'): PlanGround => ({
  ...ground,
  coreHistory: [core, { ...core, revisionId: 2, replaces: 1, reason, fields: { ...core.fields, ...fields } }],
});
const rewritten = (fields: Partial<Winding['fields']>): PlanGround => {
  const next = { ...primary, revisionId: 2, replaces: 1, reason: 'counted', fields: { ...primary.fields, ...fields } };
  return { ...ground, windingRows: [primary, next], build: { ...build, windings: [next] } };
};

describe('a version of a plan', () => {
  test('stands while the record is what it stood on', () => {
    expect(staleMarks(version, ground)).toEqual([]);
  });

  test('is stale by a corrected measure of the core, and says which, from what to what and why, in either units', () => {
    const now = corrected({ windowWidth: { value: 22, u: 0.1 } });
    expect(words(now)).toEqual([
      'The core was corrected: window width 22 ± 0.1 mm, was 24 ± 0.1 mm (caliper read again).',
    ]);
    const [mark] = staleMarks(version, now);
    expect(mark === undefined ? '' : staleWords(mark, 'us')).toContain('window width 0.86614 ± 0.0039 in, was 0.94488');
  });

  test('is not stale by another label, note or place that it came from', () => {
    expect(staleMarks(version, corrected({ label: 'Core 1', note: 'smells of varnish', origin: 'cabinet 2' }))).toEqual(
      [],
    );
    expect(staleMarks(version, rewritten({ label: 'Primary', note: 'brown leads' }))).toEqual([]);
  });

  test('is stale by another wire, and by figures that come from elsewhere', () => {
    expect(words(rewritten({ wire: '1 mm', strands: 2 }))).toEqual([
      'Mains side was corrected: wire 1 mm, was not known; strands 2, was not known (counted).',
    ]);
    const elsewhere = { kind: 'estimated', value: 194.2, u: 0.6, resultId: 9 } as const;
    expect(words(rewritten({ turns: elsewhere }))).toEqual([
      'Mains side was corrected: where its figures come from (counted).',
    ]);
  });

  test('is stale by turns that are known better, and by a winding that is further there', () => {
    expect(words(rewritten({ turns: { kind: 'counted', turns: 194 } }))).toEqual([
      'Mains side was corrected: turns 194, was 194.2 ± 0.6 (counted).',
    ]);
    const heater = { ...primary, windingId: 2, revisionId: 7, fields: { ...primary.fields, label: 'Heater side' } };
    expect(words({ ...ground, build: { ...build, windings: [primary, heater] } })).toEqual([
      'A winding was added to the build: Heater side.',
    ]);
  });

  test('is stale by a newer result of what it stood on, and by the first of what it could have stood on', () => {
    const results = [...ground.results, result(6, 'short-circuit'), result(7, 'test-coil'), result(8, 'polarity')];
    expect(words({ ...ground, results })).toEqual([
      'Measured again since: turns of the primary.',
      'Measured since: short-circuit test.',
    ]);
  });

  test('stands again when a later correction says what it stood on', () => {
    const rows = corrected({ windowWidth: { value: 22, u: 0.1 } }).coreHistory;
    const back: Core = { ...core, revisionId: 3, replaces: 2, reason: 'it was right' };
    expect(staleMarks(version, { ...ground, coreHistory: [...rows, back] })).toEqual([]);
  });
});
