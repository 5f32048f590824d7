import type { Chart } from '../../../src-shared/chart/chart.ts';
import type { Plot } from './plot.ts';

interface PlotInOptions {
  /** Tells when there is something new to draw; `paint` may be called as often as one likes. Returns what ends it. */
  readonly subscribe?: (paint: () => void) => () => void;
  /** The least time between two drawings, in ms. */
  readonly restMs?: () => number;
  /** Called with the drawing once it can be asked, and after every painting of it. */
  readonly painted?: (plot: Plot) => void;
}

/**
 * Keeps a drawing in a node up to date: at most once a frame and not more often than it is told, when something new is
 * there, when the node changes its size and when the theme changes. The engine is fetched when the first is drawn.
 * `chart` gives what is to be drawn now. Returns what ends it.
 */
export function plotIn(
  node: HTMLElement,
  chart: () => Chart,
  { subscribe, restMs, painted }: PlotInOptions = {},
): () => void {
  let plot: Plot | null = null;
  let isOver = false;
  let frame: number | null = null;
  let paintedMs = -Infinity;
  let rest: ReturnType<typeof setTimeout> | undefined;

  function paintNow(): void {
    frame = null;
    if (plot === null || node.clientWidth === 0 || node.clientHeight === 0) return;
    paintedMs = performance.now();
    plot.draw(chart());
    painted?.(plot);
  }
  function paint(): void {
    if (frame !== null || rest !== undefined) return;
    const wait = paintedMs + (restMs?.() ?? 0) - performance.now();
    if (wait <= 16) {
      frame = requestAnimationFrame(paintNow);
      return;
    }
    rest = setTimeout(() => {
      rest = undefined;
      frame = requestAnimationFrame(paintNow);
    }, wait);
  }
  function again(): void {
    if (plot === null || node.clientWidth === 0 || node.clientHeight === 0) return;
    plot.again();
    paintNow();
  }

  const sizes = new ResizeObserver(again);
  const themes = new MutationObserver(again);
  void import('./plot.ts').then(({ createPlot }) => {
    if (isOver) return;
    plot = createPlot(node);
    paintNow();
    sizes.observe(node);
    themes.observe(document.documentElement, { attributes: true, attributeFilter: ['data-theme'] });
  });
  const end = subscribe?.(paint);
  return () => {
    isOver = true;
    end?.();
    if (frame !== null) cancelAnimationFrame(frame);
    clearTimeout(rest);
    sizes.disconnect();
    themes.disconnect();
    plot?.stop();
    plot = null;
  };
}
