import { dashNames, type Chart, type Curve, type Level, type Mark } from '../chart/chart.ts';
import { formatNumber } from '../quantity/format.ts';
import { withGapsAt } from '../record/channel-filler.ts';
import type { HistoryColumns } from '../record/reading.ts';
import { simulatedTimeWords } from '../record/run-time.ts';
import { channelLanes } from './channel-lanes.ts';
import { channelLabel, inkOf, procedureTitle } from './channel-words.ts';
import type { RunFacts } from './run-facts.ts';

/** A run with a view of each of its channels that is drawn. */
export interface DrawnRun {
  readonly facts: RunFacts;
  readonly views: readonly HistoryColumns[];
}

/** The name of a curve: its channel, and which run where several are drawn. */
export const curveId = (runId: number, channel: string): string => `${runId} ${channel}`;

type Lanes = ReadonlyMap<string, string>;

/** The lane of a channel as a part of a curve or level; nothing where it shares the usual one of its unit. */
function laneOf(lanes: Lanes, channel: string): { readonly lane?: string } {
  const lane = lanes.get(channel);
  return lane === undefined ? {} : { lane };
}

/** The curves of one run, in the order of its channels; dashes tell those of one unit apart, `nth` those of several runs. */
function curvesOf({ facts: { run }, views }: DrawnRun, nth: number, several: boolean, lanes: Lanes): readonly Curve[] {
  const perUnit = new Map<string, number>();
  return run.channels.flatMap(({ channel, unit, takenOver = [] }) => {
    const view = views.find((each) => each.channel === channel);
    if (view === undefined) return [];
    const before = perUnit.get(unit) ?? 0;
    perUnit.set(unit, before + 1);
    const dash = dashNames[(before + nth) % dashNames.length] ?? 'solid';
    const label = channelLabel(run.procedure, channel);
    return [
      {
        id: curveId(run.runId, channel),
        label: several ? `${label}, run ${run.runId}` : label,
        unit,
        ...laneOf(lanes, channel),
        ink: inkOf(channel, unit),
        dash,
        form: 'line',
        ...withGapsAt(
          view.atMs,
          view.value,
          takenOver.map(({ fromMs }) => fromMs),
        ),
      },
    ];
  });
}

/** Several labels in a few words: what they end on alike is said once. */
function together(labels: readonly string[]): string {
  const words = labels.map((label) => label.toLowerCase().split(' '));
  const last = words[0]?.at(-1) ?? '';
  const isAlike = words.every((each) => each.length > 1 && each.at(-1) === last);
  const said = words.map((each) => (isAlike ? each.slice(0, -1) : each).join(' '));
  return `${said.join(' and ')}${isAlike && words.length > 0 ? ` ${last}` : ''}`;
}

/** The limits of the channels that are drawn, as lines with their word; of several at one place one line. */
function levelsOf({ run, limits }: RunFacts, shown: ReadonlySet<string>, lanes: Lanes): readonly Level[] {
  const drawn = run.channels.filter(({ channel }) => shown.has(channel));
  const levels = new Map<string, { readonly level: Omit<Level, 'word'>; readonly word: string; channels: string[] }>();
  for (const { channel, min, max, warn, fromMs, toMs } of limits) {
    const unit = drawn.find((each) => each.channel === channel)?.unit;
    if (unit === undefined) continue;
    const add = (kind: Level['kind'], value: number | null, word: string) => {
      if (value === null) return;
      const level = { kind, unit, ...laneOf(lanes, channel), value, fromX: fromMs, toX: toMs };
      const key = JSON.stringify([level, word]);
      const known = levels.get(key);
      if (known === undefined) levels.set(key, { level, word, channels: [channel] });
      else known.channels.push(channel);
    };
    add('limit', max, 'limit');
    add('limit', min, 'lowest');
    add('warn', warn, 'warn from');
  }
  return [...levels.values()].map(({ level, word, channels }) => {
    const beside = drawn.filter((each) => each.unit === level.unit && lanes.get(each.channel) === level.lane);
    // In a lane of several channels a limit says whose it is.
    const whose = beside.length > 1;
    const of = whose ? `, ${together(channels.map((channel) => channelLabel(run.procedure, channel)))}` : '';
    return { ...level, word: `${word} ${formatNumber(level.value, 4)} ${level.unit}${of}` };
  });
}

/** What happened, as marks. */
const marksOf = ({ happenings }: Pick<RunFacts, 'happenings'>): readonly Mark[] =>
  happenings.map(({ kind, atMs, word }) => ({ kind, x: atMs, word }));

/**
 * The chart of a run, or of several over each other with their starts at the same place. Limits and marks are those of
 * the first.
 */
export function runChart(
  [first, ...over]: readonly [DrawnRun, ...DrawnRun[]],
  range: { readonly fromMs: number; readonly toMs: number },
): Chart {
  const runs = [first, ...over];
  const lanes = channelLanes(first.facts);
  return {
    title: procedureTitle(first.facts.run.procedure),
    xAxis: { kind: 'time', said: simulatedTimeWords(first.facts.run) },
    fromX: range.fromMs,
    toX: range.toMs,
    curves: runs.flatMap((run, nth) => curvesOf(run, nth, over.length > 0, lanes)),
    bands: [],
    levels: levelsOf(first.facts, new Set(first.views.map(({ channel }) => channel)), lanes),
    marks: marksOf(first.facts),
  };
}
