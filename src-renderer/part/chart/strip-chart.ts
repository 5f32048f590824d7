import UPlot from 'uplot';
import 'uplot/dist/uPlot.min.css';
import { thin, type Curve } from './thin.ts';

/** One curve of the strip; each has a scale of its own, since coil and primary differ by tens of times. */
interface StripCurve {
  readonly label: string;
  readonly dashed: boolean;
  /** Called once a frame at most; gives the readings of the last minute. */
  readonly curve: (fromMs: number) => Curve;
}

const spanMs = 60_000;
/** Under this height the strip has no room for its axis of time. */
const lowPx = 84;

const colourOf = (node: HTMLElement, name: string): string => getComputedStyle(node).getPropertyValue(name).trim();

/** Room around the readings, so that noise of the last digit does not fill the strip: at least 2 % of the value. */
function roomy(min: number | null, max: number | null): [number, number] {
  if (min === null || max === null) return [0, 1];
  const middle = (min + max) / 2;
  const half = Math.max((max - min) * 0.7, Math.abs(middle) * 0.02, 1e-6);
  return [middle - half, middle + half];
}

/** Both curves on one axis of times: where one has no reading at that time it is bridged, where it has a gap it breaks. */
function joined(curves: readonly Curve[]): UPlot.AlignedData {
  const times = [...new Set(curves.flatMap(({ atMs }) => [...atMs]))].sort((a, b) => a - b);
  const place = new Map(times.map((at, index) => [at, index]));
  const columns = curves.map(({ atMs, value }) => {
    const column: (number | null | undefined)[] = Array.from({ length: times.length }, () => undefined);
    atMs.forEach((at, index) => {
      const to = place.get(at);
      if (to !== undefined) column[to] = value[index] ?? null;
    });
    return column;
  });
  return [times, ...columns];
}

/**
 * Draws the last minute into its node with uPlot, which only this file knows. Returns what ends it. Redrawn when
 * `subscribe` tells of readings, when the node changes its size, and when the theme changes.
 */
export function stripChart(
  node: HTMLElement,
  curves: readonly StripCurve[],
  nowMs: () => number,
  subscribe: (paint: () => void) => () => void,
): () => void {
  let plot: UPlot | null = null;
  const data = (): UPlot.AlignedData => {
    const [to, from] = [nowMs(), nowMs() - spanMs];
    return joined(curves.map(({ curve }) => thin(curve(from), from, to, Math.max(1, node.clientWidth - 96))));
  };
  const paint = (): void => {
    if (plot === null) return;
    const to = nowMs();
    plot.batch(() => {
      plot?.setData(data(), false);
      plot?.setScale('x', { min: to - spanMs, max: to });
      curves.forEach((_, index) => scaleTo(plot, index));
    });
  };
  const build = (): void => {
    plot?.destroy();
    plot = new UPlot(optionsFor(node, curves), data(), node);
    paint();
  };
  build();
  const ends = subscribe(paint);
  const timer = setInterval(paint, 500);
  let wasLow = node.clientHeight < lowPx;
  const sizes = new ResizeObserver(() => {
    plot?.setSize({ width: node.clientWidth, height: node.clientHeight });
    if (wasLow === node.clientHeight < lowPx) return;
    wasLow = !wasLow;
    build();
  });
  sizes.observe(node);
  const themes = new MutationObserver(build);
  themes.observe(document.documentElement, { attributes: true, attributeFilter: ['data-theme'] });
  return () => {
    ends();
    clearInterval(timer);
    sizes.disconnect();
    themes.disconnect();
    plot?.destroy();
    plot = null;
  };
}

function scaleTo(plot: UPlot | null, index: number): void {
  const column = plot?.data[index + 1] ?? [];
  let [min, max]: [number | null, number | null] = [null, null];
  for (const one of column) {
    if (one === null || one === undefined) continue;
    if (min === null || one < min) min = one;
    if (max === null || one > max) max = one;
  }
  const [low, high] = roomy(min, max);
  // Each curve keeps to its own half of the strip: the first above, the second below.
  const span = high - low;
  plot?.setScale(`y${index}`, index === 0 ? { min: low - span, max: high } : { min: low, max: high + span });
}

function optionsFor(node: HTMLElement, curves: readonly StripCurve[]): UPlot.Options {
  const rule = colourOf(node, '--rule');
  const ink2 = colourOf(node, '--ink-2');
  const font = `12px ${colourOf(node, '--figure')}`;
  const inks = [colourOf(node, '--ink'), colourOf(node, '--steel-deep')];
  return {
    width: node.clientWidth,
    height: node.clientHeight,
    legend: { show: false },
    cursor: { show: false },
    padding: [6, 6, 0, 0],
    scales: {
      x: { time: false, auto: false },
      ...Object.fromEntries(curves.map((_, index) => [`y${index}`, { auto: false }])),
    },
    series: [
      {},
      ...curves.map(({ label, dashed }, index) => ({
        label,
        scale: `y${index}`,
        stroke: inks[index] ?? ink2,
        width: 2,
        spanGaps: false,
        points: { show: false },
        ...(dashed ? { dash: [7, 4] } : {}),
      })),
    ],
    axes: [
      {
        stroke: ink2,
        font,
        size: node.clientHeight < lowPx ? 0 : 24,
        gap: 4,
        grid: { show: false },
        ticks: { show: false },
        splits: (_plot, _axis, min, max) => [min + 100, min + spanMs / 2, max],
        values: () => (node.clientHeight < lowPx ? ['', '', ''] : ['1 min ago', '30 s', 'now']),
      },
      ...curves.map((_, index) => ({
        scale: `y${index}`,
        side: index === 0 ? (3 as const) : (1 as const),
        stroke: ink2,
        font,
        size: 58,
        gap: 4,
        grid: { show: true, stroke: rule, width: 1 },
        ticks: { show: false },
        splits: (plot: UPlot, _axis: number, min: number, max: number) => {
          const span = (max - min) / 2;
          const places = plot.height < 120 ? [0.5] : [0.25, 0.75];
          return places.map((place) => (index === 0 ? max - span * (1 - place) : min + span * place));
        },
        values: (plot: UPlot, splits: number[]) => {
          if (!plot.data[index + 1]?.some((one) => one !== null && one !== undefined)) return splits.map(() => '');
          const { min, max } = plot.scales[`y${index}`] ?? {};
          const decimals = Math.min(6, Math.max(0, Math.ceil(-Math.log10(((max ?? 1) - (min ?? 0)) / 4)) + 1));
          return splits.map((split) => split.toFixed(decimals));
        },
      })),
    ],
  };
}
