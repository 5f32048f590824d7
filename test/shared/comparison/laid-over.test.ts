import { describe, expect, it } from 'vitest';
import { calculate } from '../../../src-shared/calculation/calculate.ts';
import { heatRunsOver, loadLinesOver } from '../../../src-shared/comparison/laid-over.ts';
import type { Result } from '../../../src-shared/record/run.ts';

const kept = (calculation: string, input: unknown): { readonly result: Result; readonly run: object } => ({
  run: {},
  result: {
    resultId: 1,
    buildId: 1,
    runId: 1,
    calculation,
    version: 1,
    wallMs: 0,
    input,
    output: JSON.parse(JSON.stringify(calculate(calculation, input))),
  },
});
const names = ['Build 1', 'Build 2'] as const;
const heat = (rise: number) =>
  kept('heat-run', {
    points: Array.from({ length: 12 }, (_, index) => ({
      seconds: 300 * index,
      celsius: { value: 21 + rise * (1 - Math.exp((-300 * index) / 1800)), u: 0.3 },
    })),
    ambientCelsius: { value: 21, u: 0.5 },
    limitCelsius: 90,
  });
const loaded = (ohms: number) =>
  kept('loaded-run', {
    points: [0.1, 3, 6].map((amps) => ({
      amps,
      volts: { value: (26 - ohms * amps) * (225 / 230), u: 0.02 },
      primaryVolts: 225,
    })),
    referenceVolts: 230,
    hertz: 50,
  });

describe('curves of two builds over each other', () => {
  it('draws both heat runs from power on, each by its name, with the limit once', () => {
    const chart = heatRunsOver(heat(60), heat(40), names);
    expect(chart?.curves.map(({ label, ink }) => `${label}: ${ink}`)).toEqual([
      'Build 1, fitted: ink',
      'Build 1: ink',
      'Build 2, fitted: copper',
      'Build 2: copper',
    ]);
    expect(chart?.levels.map(({ word }) => word)).toEqual(['limit 90 °C']);
    const [first, , second] = chart?.curves ?? [];
    expect(first?.y.at(-1)).toBeGreaterThan(second?.y.at(-1) ?? Infinity);
  });

  it('draws both load lines at the line volts that the runs are referred to', () => {
    const chart = loadLinesOver(loaded(0.5), loaded(0.3), names);
    const points = chart?.curves.filter(({ form }) => form === 'points') ?? [];
    expect(points.map(({ y }) => y.map((volts) => Number(volts?.toFixed(6))))).toEqual([
      [25.95, 24.5, 23],
      [25.97, 25.1, 24.2],
    ]);
    expect(chart?.xAxis).toEqual({ kind: 'quantity', label: 'Load amps', unit: 'A' });
  });

  it('draws nothing where one of the two is missing or is another kind', () => {
    expect(heatRunsOver(heat(60), null, names)).toBeNull();
    expect(loadLinesOver(loaded(0.5), heat(40), names)).toBeNull();
  });
});
