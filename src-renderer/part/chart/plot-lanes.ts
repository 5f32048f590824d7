import type { XAxis } from '../../../src-shared/chart/chart.ts';
import { laneTicks, shareOf, type Lane } from '../../../src-shared/chart/lanes.ts';
import type { Ground, PlotInks } from './plot-marks.ts';

/** Draws the axes of the lanes behind the curves: hairlines, figures at the left, the unit above them. */
export function drawLanes(
  ctx: CanvasRenderingContext2D,
  lanes: readonly Lane[],
  { left, right, top, bottom }: Pick<Ground, 'left' | 'right' | 'top' | 'bottom'>,
  inks: PlotInks,
): void {
  const height = bottom - top;
  ctx.lineWidth = 1;
  ctx.strokeStyle = inks.rule;
  ctx.fillStyle = inks.ink2;
  ctx.textBaseline = 'middle';
  ctx.textAlign = 'right';
  for (const lane of lanes) {
    const { at, words } = laneTicks(lane, (lane.bottom - lane.top) * height);
    ctx.font = `12px ${inks.figure}`;
    at.forEach((value, index) => {
      const y = Math.round(top + shareOf(lane, value) * height) + 0.5;
      ctx.beginPath();
      ctx.moveTo(left, y);
      ctx.lineTo(right, y);
      ctx.stroke();
      ctx.fillText(words[index] ?? '', left - 6, y);
    });
    ctx.font = `600 12px ${inks.text}`;
    ctx.textAlign = 'left';
    ctx.fillText(lane.unit, 2, top + ((lane.top + lane.bottom) / 2) * height);
    ctx.textAlign = 'right';
  }
  // Between two lanes a stronger line.
  ctx.strokeStyle = inks.ink2;
  for (const lane of lanes.slice(1)) {
    const y = Math.round(top + (lane.top - 0.0175) * height) + 0.5;
    ctx.globalAlpha = 0.35;
    ctx.beginPath();
    ctx.moveTo(left, y);
    ctx.lineTo(right, y);
    ctx.stroke();
    ctx.globalAlpha = 1;
  }
}

/** Names the x axis of a drawing, unless it is one of time of which nothing is to be said. */
export function drawXName(ctx: CanvasRenderingContext2D, xAxis: XAxis, right: number, bottom: number, inks: PlotInks) {
  const name = xAxis.kind === 'time' ? xAxis.said : `${xAxis.label} (${xAxis.unit})`;
  if (name === null) return;
  ctx.font = `600 12px ${inks.text}`;
  ctx.fillStyle = inks.ink2;
  ctx.textAlign = 'right';
  ctx.textBaseline = 'bottom';
  ctx.fillText(name, right, bottom - 4);
}
