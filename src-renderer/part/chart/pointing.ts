import type { ChartView } from './chart-view.svelte.ts';
import type { Plot } from './plot.ts';

/** The stretch that is being chosen with the pointer, in CSS pixels from the left of the node. */
export interface Choosing {
  readonly from: number;
  readonly to: number;
}

/**
 * What the pointer does on a drawing: hovering moves the cursor, the wheel makes the range narrower or wider around it
 * (sideways it moves the range), dragging moves the range, dragging with Shift held chooses a stretch, a double click
 * shows all. `choosing` tells what is being chosen, null when nothing is. Returns what ends it.
 */
export function pointing(
  node: HTMLElement,
  plot: () => Plot | null,
  view: ChartView,
  choosing: (stretch: Choosing | null) => void,
): () => void {
  let drag: { readonly startX: number; lastX: number; readonly chooses: boolean } | null = null;

  const placeOf = (clientX: number): number | null => {
    const ground = plot()?.ground() ?? null;
    if (ground === null || ground.width <= 0) return null;
    const { from, to } = view.range;
    const at = clientX - node.getBoundingClientRect().left - ground.left;
    return from + (Math.min(ground.width, Math.max(0, at)) / ground.width) * (to - from);
  };
  const perPixel = (): number => {
    const ground = plot()?.ground() ?? null;
    return ground === null || ground.width <= 0 ? 0 : (view.range.to - view.range.from) / ground.width;
  };

  function wheel(event: WheelEvent): void {
    const sideways = event.shiftKey ? event.deltaY + event.deltaX : event.deltaX;
    if (event.shiftKey || Math.abs(event.deltaX) > Math.abs(event.deltaY)) {
      if (view.showsWhole) return;
      event.preventDefault();
      view.pan(sideways * perPixel());
      return;
    }
    // Where all is shown already, the wheel goes on to the page.
    if (event.deltaY > 0 && view.showsWhole) return;
    event.preventDefault();
    const lines = event.deltaMode === WheelEvent.DOM_DELTA_LINE ? 16 : 1;
    const factor = Math.exp(Math.min(240, Math.max(-240, event.deltaY * lines)) / 400);
    view.zoom(factor, placeOf(event.clientX) ?? undefined);
  }
  function down(event: PointerEvent): void {
    if (event.button !== 0) return;
    drag = { startX: event.clientX, lastX: event.clientX, chooses: event.shiftKey };
    node.setPointerCapture(event.pointerId);
  }
  function move(event: PointerEvent): void {
    if (drag === null) {
      view.cursor = placeOf(event.clientX);
      return;
    }
    if (drag.chooses) {
      const { left } = node.getBoundingClientRect();
      const [one, other] = [drag.startX - left, event.clientX - left];
      choosing({ from: Math.min(one, other), to: Math.max(one, other) });
    } else {
      view.pan((drag.lastX - event.clientX) * perPixel());
    }
    drag.lastX = event.clientX;
  }
  function up(event: PointerEvent): void {
    if (drag === null) return;
    const { startX, chooses } = drag;
    drag = null;
    choosing(null);
    if (!chooses || Math.abs(event.clientX - startX) < 4) {
      view.cursor = placeOf(event.clientX);
      return;
    }
    const [one, other] = [placeOf(startX), placeOf(event.clientX)];
    if (one !== null && other !== null) view.show({ from: Math.min(one, other), to: Math.max(one, other) });
  }
  function cancel(): void {
    drag = null;
    choosing(null);
  }
  function whole(): void {
    view.showWhole();
  }

  node.addEventListener('wheel', wheel, { passive: false });
  node.addEventListener('pointerdown', down);
  node.addEventListener('pointermove', move);
  node.addEventListener('pointerup', up);
  node.addEventListener('pointercancel', cancel);
  node.addEventListener('dblclick', whole);
  return () => {
    node.removeEventListener('wheel', wheel);
    node.removeEventListener('pointerdown', down);
    node.removeEventListener('pointermove', move);
    node.removeEventListener('pointerup', up);
    node.removeEventListener('pointercancel', cancel);
    node.removeEventListener('dblclick', whole);
  };
}
