import { expect, test } from 'vitest';
import { lanesOf } from '../../../src-shared/chart/lanes.ts';
import { channelLanes } from '../../../src-shared/report/channel-lanes.ts';
import { runChart } from '../../../src-shared/report/run-chart.ts';
import type { RunFacts } from '../../../src-shared/report/run-facts.ts';
import { facts } from './facts-fixture.ts';

const channel = (name: string, unit: string) => ({
  channel: name,
  unit,
  meterId: 1,
  meterRevisionId: 1,
  lockedRange: null,
});
const count = (lowest: number | null, highest: number | null) => ({
  readings: highest === null ? 0 : 9,
  overloads: 0,
  unreadables: 0,
  lowest,
  highest,
  mean: highest,
});

function runOf(
  ...channels: readonly (readonly [name: string, unit: string, lowest: number | null, highest: number | null])[]
): RunFacts {
  return {
    ...facts,
    run: { ...facts.run, procedure: 'heat-run', channels: channels.map(([name, unit]) => channel(name, unit)) },
    counts: channels.map(([, , lowest, highest]) => count(lowest, highest)),
    limits: [],
    happenings: [],
  };
}

test('a channel far smaller than another of its unit has an axis of its own, one of a like size has not', () => {
  const run = runOf(
    ['coil-volts', 'V', 0, 0.99],
    ['primary-volts', 'V', 0, 231],
    ['line-volts', 'V', 229, 233],
    ['line-amps', 'A', 0, 0.6],
  );
  expect([...channelLanes(run)]).toEqual([['coil-volts', 'V coil-volts']]);
});

test('temperatures stay on one axis, however far apart, and so does a channel that nothing was read on', () => {
  const run = runOf(
    ['core-temperature', '°C', 20, 120],
    ['ambient', '°C', 1, 2],
    ['a', 'W', null, null],
    ['b', 'W', 0, 40],
  );
  expect([...channelLanes(run)]).toEqual([]);
});

test('sizes that go down by steps have a lane each, from the largest', () => {
  const run = runOf(['a', 'V', -230, 0], ['b', 'V', 0, 24], ['c', 'V', 0, 20], ['d', 'V', 0, 1]);
  expect(channelLanes(run)).toEqual(
    new Map([
      ['b', 'V b'],
      ['c', 'V b'],
      ['d', 'V d'],
    ]),
  );
});

test('a limit lies in the lane of its channel; alike limits of one lane are one line that says whose it is', () => {
  const run: RunFacts = {
    ...runOf(
      ['primary-volts', 'V', 0, 231],
      ['coil-volts', 'V', 0, 1],
      ['core-temperature', '°C', 20, 60],
      ['winding-temperature', '°C', 20, 80],
      ['ambient', '°C', 20, 21],
    ),
    limits: [
      { channel: 'coil-volts', min: null, max: 1.1, warn: null, fromMs: 0, toMs: null },
      { channel: 'core-temperature', min: null, max: 140, warn: 125, fromMs: 0, toMs: null },
      { channel: 'winding-temperature', min: null, max: 140, warn: 110, fromMs: 0, toMs: null },
    ],
  };
  const views = run.run.channels.map(({ channel: name }) => ({
    runId: 7,
    channel: name,
    atMs: [0, 1000],
    value: name === 'coil-volts' ? [0.5, 1] : [200, 231],
    readings: 2,
    rowsRead: 2,
  }));
  const chart = runChart([{ facts: run, views }], { fromMs: 0, toMs: 1000 });
  expect(chart.levels.map(({ lane, word }) => [lane, word])).toEqual([
    ['V coil-volts', 'limit 1.1 V'],
    [undefined, 'limit 140 °C, core and winding temperature'],
    [undefined, 'warn from 125 °C, core temperature'],
    [undefined, 'warn from 110 °C, winding temperature'],
  ]);
  const lanes = lanesOf(chart);
  expect(lanes.map(({ name, unit }) => [name, unit])).toEqual([
    ['V', 'V'],
    ['V coil-volts', 'V'],
    ['°C', '°C'],
  ]);
  // The coil's axis is about the coil: its limit is on it, and nothing of the primary's.
  expect(lanes[1]?.high).toBeLessThan(1.5);
});

test('a curve has a gap, and the run a mark, where another reader took its channel over', () => {
  const one = runOf(['core-temperature', '°C', 20, 60]);
  const [core] = one.run.channels;
  if (core === undefined) throw new Error('The run has a channel.');
  const { channel: name, unit: _unit, ...filler } = core;
  const run: RunFacts = {
    ...one,
    run: { ...one.run, channels: [{ ...core, takenOver: [{ ...filler, fromMs: 2000 }] }] },
    happenings: [{ eventId: 1, kind: 'point', atMs: 2000, wallMs: 0, word: 'Taken over', text: 'Spare took over.' }],
  };
  const view = {
    runId: 7,
    channel: name,
    atMs: [0, 1000, 2000, 3000],
    value: [20, 21, 30, 31],
    readings: 4,
    rowsRead: 4,
  };
  const { curves, marks } = runChart([{ facts: run, views: [view] }], { fromMs: 0, toMs: 3000 });
  expect(curves[0]?.y).toEqual([20, 21, null, 30, 31]);
  expect(curves[0]?.x).toEqual([0, 1000, 1999.999, 2000, 3000]);
  expect(marks).toEqual([{ kind: 'point', x: 2000, word: 'Taken over' }]);
});
