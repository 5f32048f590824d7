import UPlot from 'uplot';
import 'uplot/dist/uPlot.min.css';
import { dashes, type Chart, type Curve } from '../../../src-shared/chart/chart.ts';
import { laneOf, lanesOf, shareOf, wholeRange, type Lane } from '../../../src-shared/chart/lanes.ts';
import { timeTicks, valueTicks } from '../../../src-shared/chart/ticks.ts';
import { joinColumns } from './join-columns.ts';
import { drawLanes, drawXName } from './plot-lanes.ts';
import { drawLevels, drawMarks, markRowHeight, markRows, type Ground, type PlotInks } from './plot-marks.ts';

/** A drawing in a node. */
export interface Plot {
  /** Draws the chart as it is now; anything of it may have changed. */
  draw(chart: Chart): void;
  /** Where the drawing lies and how far it reaches; null before the first. `left` and `width` in CSS pixels. */
  ground(): { readonly left: number; readonly width: number; readonly x: (place: number) => number } | null;
  /** Draws again in the colours and the size of now. */
  again(): void;
  stop(): void;
}

const axisWidth = 62;
const axisHeight = 28;

function inksOf(node: HTMLElement): PlotInks {
  const style = getComputedStyle(node);
  const of = (name: string) => style.getPropertyValue(`--${name}`).trim();
  return {
    ink: of('ink'),
    ink2: of('ink-2'),
    rule: of('rule'),
    sheet: of('sheet'),
    copper: of('copper'),
    steel: of('steel-deep'),
    danger: of('danger'),
    caution: of('caution'),
    text: of('text'),
    figure: of('figure'),
  };
}

/** Everything of a chart that a drawing has to be built anew for. */
const structureOf = ({ curves, bands, levels, marks, xAxis }: Chart): string =>
  JSON.stringify([
    [...new Set(levels.map(laneOf))],
    curves.map((curve) => [curve.id, laneOf(curve), curve.ink, curve.dash, curve.form]),
    bands.map(({ unit, ink }) => [unit, ink]),
    marks.length > 0,
    xAxis,
  ]);

/** Indices of points that stand alone between gaps: a line would lose them. */
const alone = (column: readonly (number | null | undefined)[]): number[] => {
  const found: number[] = [];
  let last: number | null = null;
  let before: 'gap' | 'line' = 'gap';
  column.forEach((value, index) => {
    if (value === undefined) return;
    if (value === null) {
      if (last !== null && before === 'gap') found.push(last);
      [last, before] = [null, 'gap'];
      return;
    }
    before = last === null ? 'gap' : 'line';
    last = index;
  });
  if (last !== null && before === 'gap') found.push(last);
  return found;
};

function seriesOf(curve: Curve, scale: string, inks: PlotInks): UPlot.Series {
  const stroke = inks[curve.ink];
  const isLine = curve.form === 'line';
  return {
    label: curve.id,
    scale,
    stroke,
    width: 2,
    dash: [...dashes[curve.dash]],
    spanGaps: false,
    ...(isLine ? {} : { paths: () => null }),
    points: {
      show: true,
      size: isLine ? 4 : 7,
      fill: stroke,
      stroke: isLine ? stroke : inks.sheet,
      width: 1,
      filter: (plot, index) => {
        const column: readonly (number | null | undefined)[] = Array.from(plot.data[index] ?? []);
        if (isLine) return alone(column);
        return column.flatMap((value, at) => (value === null || value === undefined ? [] : [at]));
      },
    },
  };
}

/**
 * Draws charts into a node with uPlot, which no other file knows. What it draws is what `chart` holds: curves with their
 * gaps, bands, levels with their words, marks with shape and word.
 */
export function createPlot(node: HTMLElement): Plot {
  let plot: UPlot | null = null;
  let built = '';
  let inks = inksOf(node);
  let chart: Chart | null = null;

  let lanes: readonly Lane[] = [];

  function ground(of: UPlot): Ground {
    const ratio = devicePixelRatio;
    const { left, top, width, height } = of.bbox;
    return {
      left: left / ratio,
      right: (left + width) / ratio,
      top: top / ratio,
      bottom: (top + height) / ratio,
      x: (place) => of.valToPos(place, 'x', true) / ratio,
      y: (name, value) => {
        const lane = lanes.find((each) => each.name === name);
        return lane === undefined ? NaN : (top + shareOf(lane, value) * height) / ratio;
      },
      lane: (name) => {
        const lane = lanes.find((each) => each.name === name);
        return { top: (top + (lane?.top ?? 0) * height) / ratio, bottom: (top + (lane?.bottom ?? 1) * height) / ratio };
      },
    };
  }

  function options(of: Chart): UPlot.Options {
    const font = `12px ${inks.figure}`;
    const names = lanes.map(({ name }) => name);
    return {
      width: node.clientWidth,
      height: node.clientHeight,
      legend: { show: false },
      cursor: { show: false },
      padding: [of.marks.length > 0 ? markRows * markRowHeight + 4 : 8, 20, 0, 0],
      scales: {
        x: { time: false, auto: false },
        ...Object.fromEntries(names.map((name) => [name, { auto: false }])),
      },
      series: [
        {},
        ...of.curves.map((curve) => seriesOf(curve, laneOf(curve), inks)),
        ...of.bands.flatMap(({ unit }) => {
          const edge: UPlot.Series = { scale: unit, width: 0, points: { show: false } };
          return [edge, edge];
        }),
      ],
      bands: of.bands.map(({ ink }, nth) => {
        const high = 1 + of.curves.length + 2 * nth;
        return { series: [high, high + 1], fill: `${inks[ink]}2e` };
      }),
      axes: [
        {
          stroke: inks.ink2,
          font,
          gap: 5,
          ticks: { show: false },
          size: axisHeight,
          grid: { show: false },
          splits: (_plot, _axis, min, max) => [...xTicks(min, max).at],
          values: (_plot, splits) => {
            const { at, words } = xTicks(splits[0] ?? 0, splits.at(-1) ?? 0);
            return splits.map((split) => words[at.indexOf(split)] ?? '');
          },
        },
        // The room for the axes of the lanes, which are drawn behind the curves.
        {
          scale: names[0] ?? 'y',
          size: axisWidth,
          ticks: { show: false },
          grid: { show: false },
          splits: () => [],
          values: () => [],
        },
      ],
      hooks: {
        drawClear: [
          (drawn) => {
            draw(drawn, (ctx, at) => {
              drawLanes(ctx, lanes, at, inks);
            });
          },
        ],
        draw: [
          (drawn) => {
            draw(drawn, (ctx, at, shown) => {
              drawLevels(ctx, shown.levels, at, inks);
              drawMarks(ctx, shown.marks, at, inks);
              drawXName(ctx, shown.xAxis, at.right, at.bottom, inks);
            });
          },
        ],
      },
    };
  }

  /** Draws onto the canvas in CSS pixels. */
  function draw(drawn: UPlot, work: (ctx: CanvasRenderingContext2D, at: Ground, shown: Chart) => void): void {
    if (chart === null) return;
    const { ctx } = drawn;
    ctx.save();
    ctx.scale(devicePixelRatio, devicePixelRatio);
    work(ctx, ground(drawn), chart);
    ctx.restore();
  }

  /** The words of x belong to the whole range, not to the first and last of its marks. */
  function xTicks(min: number, max: number) {
    const [from, to] = chart === null ? [min, max] : [chart.fromX, chart.toX];
    const count = Math.max(2, Math.floor(node.clientWidth / 110));
    return chart?.xAxis.kind === 'quantity' ? valueTicks(from, to, count) : timeTicks(from, to, count);
  }

  function dataOf(of: Chart): UPlot.AlignedData {
    const edges = of.bands.flatMap(({ x, low, high }) => [
      { x, y: high },
      { x, y: low },
    ]);
    const { x, y } = joinColumns([...of.curves, ...edges]);
    return [x, ...y];
  }

  function paint(of: Chart): void {
    const structure = structureOf(of);
    chart = of;
    lanes = lanesOf(of);
    if (plot === null || structure !== built) {
      plot?.destroy();
      built = structure;
      plot = new UPlot(options(of), dataOf(of), node);
    }
    const now = plot;
    now.batch(() => {
      now.setData(dataOf(of), false);
      now.setScale('x', { min: of.fromX, max: of.toX });
      for (const lane of lanes) {
        const [min, max] = wholeRange(lane);
        now.setScale(lane.name, { min, max });
      }
    });
  }

  return {
    draw: paint,
    ground() {
      if (plot === null) return null;
      const { left, right, x } = ground(plot);
      return { left, width: right - left, x };
    },
    again() {
      if (chart === null) return;
      inks = inksOf(node);
      built = '';
      paint(chart);
    },
    stop() {
      plot?.destroy();
      plot = null;
    },
  };
}
