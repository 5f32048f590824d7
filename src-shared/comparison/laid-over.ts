import type { Chart, Curve } from '../chart/chart.ts';
import type { Result, Run } from '../record/run.ts';
import { heatChart } from '../report/heat-chart.ts';
import { loadChart } from '../report/load-chart.ts';

type Names = readonly [before: string, after: string];

/** The same drawing of two builds as one: the readings of both, and the lines through them told apart by ink and dash. */
function over(before: Chart, after: Chart, names: Names): Chart {
  const of = ({ curves }: Chart, id: string, name: string, ink: Curve['ink'], dash: Curve['dash']): readonly Curve[] =>
    curves.map((curve) => ({
      ...curve,
      id: `${id}-${curve.id}`,
      label: curve.form === 'points' ? name : `${name}, fitted`,
      ink,
      dash: curve.form === 'points' ? 'solid' : dash,
    }));
  const limits = [...before.levels, ...after.levels].filter(({ kind }) => kind === 'limit');
  return {
    ...after,
    toX: Math.max(before.toX, after.toX),
    curves: [...of(before, 'before', names[0], 'ink', 'dashed'), ...of(after, 'after', names[1], 'copper', 'dotted')],
    bands: [],
    levels: limits.filter(({ word }, index) => limits.findIndex((one) => one.word === word) === index),
    marks: [],
  };
}

/** A kept result with its run, as far as its time matters: it may be simulated. */
export interface KeptOf {
  readonly result: Result;
  readonly run: Pick<Run, 'timeFactor'>;
}

const laid =
  (chartOf: (result: Result, run: KeptOf['run']) => Chart | null, title: string) =>
  (before: KeptOf | null, after: KeptOf | null, names: Names): Chart | null => {
    const drawn = (kept: KeptOf | null) => (kept === null ? null : chartOf(kept.result, kept.run));
    const [one, other] = [drawn(before), drawn(after)];
    return one === null || other === null ? null : { ...over(one, other, names), title };
  };

/** The heat runs of two builds, both from power on; null where one of them has none that can be drawn. */
export const heatRunsOver = laid(heatChart, 'Heat runs, from power on');

/** The load lines of two builds; null where one of them has none. */
export const loadLinesOver = laid(loadChart, 'Output volts under load');
