import type { Level, Mark } from '../../../src-shared/chart/chart.ts';
import { laneOf, wordHeight } from '../../../src-shared/chart/lanes.ts';
import { labelRows } from '../../../src-shared/chart/label-rows.ts';

/** The colours of a drawing, from the tokens of the theme. */
export interface PlotInks {
  readonly ink: string;
  readonly ink2: string;
  readonly rule: string;
  readonly sheet: string;
  readonly copper: string;
  readonly steel: string;
  readonly danger: string;
  readonly caution: string;
  readonly text: string;
  readonly figure: string;
}

/** Where a drawing lies on its canvas, in CSS pixels, and how a place or a value gets there. */
export interface Ground {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
  readonly x: (place: number) => number;
  /** By the name of the lane. */
  readonly y: (lane: string, value: number) => number;
  /** From where to where a lane goes. */
  readonly lane: (name: string) => { readonly top: number; readonly bottom: number };
}

export const markRowHeight = 18;
export const markRows = 2;
/** Words of levels nearer to each other than this run into each other. */
const wordPixels = 14;

const levelLook: Readonly<Record<Level['kind'], { ink: (inks: PlotInks) => string; width: number; dash: number[] }>> = {
  limit: { ink: ({ danger }) => danger, width: 2, dash: [] },
  warn: { ink: ({ caution }) => caution, width: 1.5, dash: [6, 4] },
  value: { ink: ({ ink }) => ink, width: 1.2, dash: [2, 3] },
};

/** Draws levels with their words; one that is out of sight is told at the edge it lies beyond. */
export function drawLevels(
  ctx: CanvasRenderingContext2D,
  levels: readonly Level[],
  ground: Ground,
  inks: PlotInks,
): void {
  ctx.font = `600 13px ${inks.text}`;
  const said: LevelWord[] = [];
  levels.forEach((level, nth) => {
    const { kind, value, word, fromX, toX } = level;
    const { ink, width, dash } = levelLook[kind];
    const at = ground.y(laneOf(level), value);
    const { top, bottom } = ground.lane(laneOf(level));
    const from = fromX === null ? ground.left : Math.max(ground.left, ground.x(fromX));
    const to = toX === null ? ground.right : Math.min(ground.right, ground.x(toX));
    if (!(to > from) || !Number.isFinite(at)) return;
    const beyond = at < top - 1 ? '▲ ' : at > bottom + 1 ? '▼ ' : '';
    ctx.strokeStyle = ink(inks);
    ctx.fillStyle = ink(inks);
    if (beyond === '') {
      ctx.lineWidth = width;
      ctx.setLineDash(dash);
      ctx.beginPath();
      ctx.moveTo(from, at);
      ctx.lineTo(to, at);
      ctx.stroke();
      ctx.setLineDash([]);
    }
    said.push({ text: `${beyond}${word}`, ink: ink(inks), from, to, y: wordHeight(at, top, bottom), nth });
  });
  drawWords(ctx, said, inks);
}

/** The word of a level, between where its line begins and ends. */
interface LevelWord {
  readonly text: string;
  readonly ink: string;
  readonly from: number;
  readonly to: number;
  readonly y: number;
  readonly nth: number;
}

/** Words close to each other stand at different ends of their lines; without room the line speaks alone. */
function drawWords(ctx: CanvasRenderingContext2D, said: readonly LevelWord[], inks: PlotInks): void {
  ctx.textAlign = 'left';
  ctx.textBaseline = 'alphabetic';
  ctx.lineWidth = 4;
  ctx.lineJoin = 'round';
  ctx.strokeStyle = inks.sheet;
  const written: { readonly left: number; readonly right: number; readonly y: number }[] = [];
  for (const { text, ink, from, to, y, nth } of said) {
    const wide = ctx.measureText(text).width;
    const sides = [to - 5 - wide, from + 5];
    const x = (nth % 2 === 0 ? sides : sides.toReversed()).find((left) =>
      written.every((each) => each.right < left || each.left > left + wide || Math.abs(each.y - y) >= wordPixels),
    );
    if (x === undefined) continue;
    written.push({ left: x, right: x + wide, y });
    // Lines that pass behind a word leave it room.
    ctx.strokeText(text, x, y);
    ctx.fillStyle = ink;
    ctx.fillText(text, x, y);
  }
}

function shape(ctx: CanvasRenderingContext2D, kind: Mark['kind'], x: number, y: number): void {
  const points: Readonly<Record<Mark['kind'], readonly (readonly [number, number])[]>> = {
    power: [
      [-4, -4],
      [4, -4],
      [4, 4],
      [-4, 4],
    ],
    note: [
      [-4, -5],
      [4, -5],
      [4, 2],
      [0, 5],
      [-4, 2],
    ],
    kept: [
      [-5, 0],
      [-2, 4],
      [5, -4],
    ],
    trip: [
      [-2, -5],
      [2, -5],
      [5, -2],
      [5, 2],
      [2, 5],
      [-2, 5],
      [-5, 2],
      [-5, -2],
    ],
    point: [
      [0, -5],
      [5, 0],
      [0, 5],
      [-5, 0],
    ],
  };
  ctx.beginPath();
  points[kind].forEach(([dx, dy], index) => (index === 0 ? ctx.moveTo(x + dx, y + dy) : ctx.lineTo(x + dx, y + dy)));
  if (kind !== 'kept') ctx.closePath();
}

/** Draws marks: a stem through the drawing, a shape of its kind above it, and its word where there is room. */
export function drawMarks(ctx: CanvasRenderingContext2D, marks: readonly Mark[], ground: Ground, inks: PlotInks): void {
  ctx.font = `13px ${inks.text}`;
  ctx.textBaseline = 'middle';
  const inside = marks
    .map((mark) => ({ mark, at: ground.x(mark.x) }))
    .filter(({ at }) => at >= ground.left - 1 && at <= ground.right + 1)
    .toSorted((one, other) => one.at - other.at);
  const rows = labelRows(
    inside.map(({ mark, at }) => ({ left: at, width: 14 + ctx.measureText(mark.word).width })),
    markRows,
    6,
  );
  inside.forEach(({ mark: { kind, word }, at }, index) => {
    const row = rows[index] ?? null;
    const top = ground.top - markRows * markRowHeight;
    const level = top + 8 + (row ?? markRows - 1) * markRowHeight;
    const isTrip = kind === 'trip';
    ctx.strokeStyle = isTrip ? inks.danger : inks.ink2;
    ctx.lineWidth = isTrip ? 1.5 : 1;
    ctx.setLineDash(isTrip ? [] : [1, 3]);
    ctx.beginPath();
    ctx.moveTo(at, level + 6);
    ctx.lineTo(at, ground.bottom);
    ctx.stroke();
    ctx.setLineDash([]);
    ctx.fillStyle = isTrip ? inks.danger : inks.sheet;
    ctx.strokeStyle = isTrip ? inks.danger : inks.ink;
    ctx.lineWidth = kind === 'kept' ? 2 : 1.4;
    shape(ctx, kind, at, level);
    if (kind !== 'kept') ctx.fill();
    ctx.stroke();
    if (row === null) return;
    ctx.fillStyle = isTrip ? inks.danger : inks.ink;
    const turns = at + 14 + ctx.measureText(word).width > ground.right + 40;
    ctx.textAlign = turns ? 'right' : 'left';
    ctx.fillText(word, turns ? at - 9 : at + 9, level + 1);
  });
}
