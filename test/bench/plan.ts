import { calculate } from '../../src-shared/calculation/calculate.ts';
import { excitationExample } from '../../src-shared/calculation/excitation/example.ts';
import { addedTurnsAnswer, predictionFor, sliderTurns } from '../../src-renderer/page/plan/added-turns.ts';
import { usual, type PlanNumbers } from '../../src-renderer/page/plan/plan-asked.ts';
import type { PlanBasis } from '../../src-renderer/page/plan/plan-record.ts';
import { planAll, type OutputAsked } from '../../src-renderer/page/plan/planned.ts';
import { windowPicture } from '../../src-renderer/page/plan/window-picture.ts';
import { median, type BenchRow } from './row.ts';

/** One frame of a screen: what a plan may take so that its page follows every key. */
const goalMs = 16;
const rounds = 60;

const core = {
  primaryTurns: { value: 236, u: 0.4 },
  primaryVolts: 230,
  hertz: 50,
  primaryOhms: { value: 1.1, u: 0.02 },
  primaryMetal: 'copper',
  leakageOhms: { value: 2, u: 0.3 },
  loadVolts: 24,
  powerFactor: 0.95,
  windowWidthMm: { value: 22, u: 0.2 },
  windowHeightMm: 46,
  clearanceMm: 1,
  baseMm: 1,
  marginMm: 2,
  interlayerMm: 0.1,
  spacing: 1.05,
  tongueMm: { value: 45, u: 0.1 },
  stackMm: { value: 70, u: 0.3 },
};

function millisecondsFor(loadAmps: number): number {
  const before = performance.now();
  const answer = calculate('secondary', { ...core, loadAmps });
  const took = performance.now() - before;
  if (!answer.ok) throw new Error(answer.error.message);
  return took;
}

const basis: PlanBasis = {
  core: { label: 'Dimmer core A', shape: 'shell', tongue: { value: 45, u: 0.1 }, stack: { value: 70, u: 0.3 } },
  coreRevisionId: 1,
  build: {
    ...{ buildId: 1, coreId: 1, number: 1, wallMs: 0, windings: [], hasRuns: false },
    fields: { title: 'as found', joint: 'as-welded', shunts: 'none' },
  },
  primary: {
    ...{ label: 'Mains side', role: 'primary', turns: { kind: 'counted', turns: 236 }, metal: 'copper' },
    ...{ ohms: { value: 1.1, u: 0.02 }, ohmsCelsius: 21, oneEndOnCore: 'no', onPlug: true },
  },
  turns: { value: 236, u: 0 },
  results: [],
};
const room: PlanNumbers = {
  ...usual,
  ...{ primaryVolts: 230, windowWidth: 22, windowHeight: 46, inner: 10, leakage: 2, addedWire: 0.9 },
};
const output = (key: string, loadVolts: number, loadAmps: number): OutputAsked => ({
  ...{ key, label: key, numbers: { loadVolts, loadAmps, powerFactor: 1 }, feeds: 'ac' },
  ...{ over50: false, chosen: '', taps: [], isUnread: false },
});
const outputs = [output('a', 24, 8), output('b', 12, 2)];

/** What one step of the slider of added turns works out: every output anew, the picture, the figures of the curve. */
function sliderStep(added: number, predictions: Parameters<typeof predictionFor>[0]): number {
  const before = performance.now();
  const numbers = { ...room, added };
  const choices = {
    hertz: 50,
    stock: null,
    standard: 'metric',
    mostStrands: 8,
    leakage: null,
    isUnread: false,
  } as const;
  const planned = planAll(basis, numbers, { ...choices, kinds: ['round', 'cable'] }, outputs);
  const picture = windowPicture(numbers, planned, ['a', 'b']);
  const found = predictionFor(predictions, added);
  const took = performance.now() - before;
  if (picture?.windings.length !== (added > 0 ? 3 : 2) || found === undefined) throw new Error('Nothing was planned.');
  return took;
}

/** One step of the slider with two outputs, beside the curve worked out anew, which it was before. */
function sliderRow(): BenchRow {
  const question = { supplyVolts: 230, hertz: 50, also: 0, limits: {} };
  const curve = () => {
    const before = performance.now();
    const answer = addedTurnsAnswer({ ...basis, turns: { value: 300, u: 0 } }, [...excitationExample.points], question);
    if (answer?.ok !== true) throw new Error('The curve was refused.');
    return { took: performance.now() - before, predictions: answer.results.predictions };
  };
  const { predictions } = curve();
  const turns = sliderTurns(236);
  for (let round = 0; round < 5; round += 1) sliderStep(round, predictions);
  const value = median(Array.from({ length: rounds }, (_, at) => sliderStep(turns[at % 12] ?? 0, predictions)));
  const baseline = median(Array.from({ length: 5 }, () => curve().took));
  return {
    ...{ name: 'plan: a step of the slider, 2 outputs', value, unit: 'ms', baseline, ratio: value / baseline },
    ...{ goal: goalMs, holds: value <= goalMs },
  };
}

/** A secondary over every standard size and 1 to 8 strands: a light load, where most fits, and one that nothing does. */
export function planRows(): Promise<readonly BenchRow[]> {
  const loads = [
    { name: 'light load', amps: 5 },
    { name: 'full window', amps: 40 },
    { name: 'nothing fits', amps: 150 },
  ];
  const rows = loads.map(({ name, amps }): BenchRow => {
    for (let round = 0; round < 5; round += 1) millisecondsFor(amps);
    const value = median(Array.from({ length: rounds }, () => millisecondsFor(amps)));
    return {
      name: `plan: all sizes, 8 strands, ${name}`,
      value,
      unit: 'ms',
      baseline: null,
      ratio: null,
      goal: goalMs,
      holds: value <= goalMs,
    };
  });
  return Promise.resolve([...rows, sliderRow()]);
}
