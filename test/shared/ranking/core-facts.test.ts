import { expect, test } from 'vitest';
import { coreFacts } from '../../../src-shared/ranking/core-facts.ts';
import type { Result } from '../../../src-shared/record/run.ts';
import { record } from '../comparison/given.ts';

const { build } = record({ number: 1 });
const core = {
  ...{ coreId: 1, revisionId: 1, replaces: null, reason: null, wallMs: 0 },
  fields: { label: 'Dimmer core A', shape: 'shell' },
} as const;
const factsAt = (results: readonly Result[], lineVolts: number) =>
  coreFacts({ core, builds: [build], results }, lineVolts);
const kept = (resultId: number, runId: number, calculation: string, output: object): Result => ({
  ...{ resultId, buildId: 1, runId, calculation, version: 1, wallMs: 0, input: {}, output },
});
const rise = (value: number) => ({ results: { finalRise: { value }, timeConstant: { value: 2400 } } });

test('counts the no-load current as it is read near the volts of the line, and does not know it elsewhere', () => {
  const sweep = [230, 180, 138].flatMap((volts, at) =>
    record({ number: 1, volts, amps: volts / 1000 }).results.map((result) => ({ ...result, resultId: at + 1 })),
  );
  expect(factsAt(sweep, 232).noLoadVoltAmperes).toBeCloseTo(230 * 0.23, 6);
  expect(factsAt(sweep, 120).noLoadVoltAmperes).toBeNull();
});

test('knows of the iron alone only what a run without a load tells', () => {
  const results = [kept(1, 1, 'heat-run', rise(30)), kept(2, 2, 'loaded-run', {}), kept(3, 2, 'heat-run', rise(70))];
  expect(factsAt(results, 230).heat).toEqual({ rise: 30, seconds: 2400 });
  expect(factsAt(results.slice(1), 230).heat).toBeNull();
});
