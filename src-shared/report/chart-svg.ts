import { dashes, type Band, type Chart, type Curve, type Level, type Mark } from '../chart/chart.ts';
import { laneOf, laneTicks, lanesOf, shareOf, wordHeight, type Lane } from '../chart/lanes.ts';
import { labelRows } from '../chart/label-rows.ts';
import { timeTicks, valueTicks, type Ticks } from '../chart/ticks.ts';
import { markup, type Markup } from './markup.ts';

const width = 720;
/** Of the first lane with what stands around it, and of every further one. */
const [firstHeight, laneHeight] = [320, 120];
const axisWidth = 66;
const rowHeight = 15;
const letter = 6.2;

/** Where on the sheet a value lies. */
interface Scale {
  readonly x: (value: number) => number;
  /** By the name of the lane. */
  readonly y: (lane: string, value: number) => number;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
  readonly lanes: readonly Lane[];
}

const figure = (value: number): string => String(Math.round(value * 10) / 10);

function scaleOf(chart: Chart, lanes: readonly Lane[], height: number, markRows: number): Scale {
  const [left, right] = [axisWidth, width - 22];
  const [top, bottom] = [10 + markRows * rowHeight, height - 26];
  const span = chart.toX - chart.fromX;
  return {
    x: (value) => left + (span > 0 ? ((value - chart.fromX) / span) * (right - left) : 0),
    y: (name, value) => {
      const lane = lanes.find((each) => each.name === name);
      return lane === undefined ? bottom : top + shareOf(lane, value) * (bottom - top);
    },
    left,
    right,
    top,
    bottom,
    lanes,
  };
}

/** The ends of a lane on the sheet. */
const endsOf = (lane: Lane | undefined, { top, bottom }: Scale): { readonly top: number; readonly bottom: number } => ({
  top: top + (lane?.top ?? 0) * (bottom - top),
  bottom: top + (lane?.bottom ?? 1) * (bottom - top),
});

function laneAxis(lane: Lane, scale: Scale): Markup {
  const { left, right, y } = scale;
  const ends = endsOf(lane, scale);
  const { at, words } = laneTicks(lane, ends.bottom - ends.top);
  const edge =
    lane.top === 0 ? null : markup`<path class="edge" d="M${figure(left)} ${figure(ends.top - 4)}H${figure(right)}"/>`;
  return markup`<g class="axis">${edge}${at.map((value, index) => {
    const height = figure(y(lane.name, value));
    return markup`<path class="grid" d="M${figure(left)} ${height}H${figure(right)}"/><text x="${figure(left - 6)}" y="${figure(y(lane.name, value) + 4)}" text-anchor="end">${words[index] ?? ''}</text>`;
  })}<text class="unit" x="2" y="${figure((ends.top + ends.bottom) / 2 + 4)}">${lane.unit}</text></g>`;
}

function xTicks(chart: Chart): Ticks {
  return chart.xAxis.kind === 'time' ? timeTicks(chart.fromX, chart.toX, 6) : valueTicks(chart.fromX, chart.toX, 6);
}

function xAxis(chart: Chart, { x, bottom, left, right }: Scale): Markup {
  const { at, words } = xTicks(chart);
  const name = chart.xAxis.kind === 'time' ? '' : ` ${chart.xAxis.unit}`;
  const said = chart.xAxis.kind === 'time' ? chart.xAxis.said : null;
  return markup`<g class="axis"><path class="edge" d="M${figure(left)} ${figure(bottom)}H${figure(right)}"/>${at.map(
    (value, index) =>
      markup`<text x="${figure(x(value))}" y="${figure(bottom + 18)}" text-anchor="middle">${words[index] ?? ''}${index === at.length - 1 ? name : ''}</text>`,
  )}${said === null ? null : markup`<text class="unit" x="${figure(right)}" y="${figure(bottom - 5)}" text-anchor="end">${said}</text>`}</g>`;
}

/** The path of a curve between the edges: broken at its gaps, a point alone between two gaps kept as a dot. */
function pathOf(curve: Curve, { x, y }: Scale): string {
  const { x: xs, y: ys } = curve;
  let path = '';
  let isPen = false;
  for (const [index, value] of ys.entries()) {
    if (value === null) {
      isPen = false;
      continue;
    }
    const alone = !isPen && (ys[index + 1] ?? null) === null;
    path += `${isPen ? 'L' : 'M'}${figure(x(xs[index] ?? 0))} ${figure(y(laneOf(curve), value))}${alone ? 'h.1' : ''}`;
    isPen = true;
  }
  return path;
}

function drawCurve(curve: Curve, scale: Scale): Markup {
  if (curve.form === 'points') {
    const dots = curve.y.flatMap((value, index) =>
      value === null
        ? []
        : [
            markup`<circle cx="${figure(scale.x(curve.x[index] ?? 0))}" cy="${figure(scale.y(laneOf(curve), value))}" r="2.6"/>`,
          ],
    );
    return markup`<g class="dots ${curve.ink}">${dots}</g>`;
  }
  return markup`<path class="curve ${curve.ink}" stroke-dasharray="${dashes[curve.dash].join(' ') || 'none'}" d="${pathOf(curve, scale)}"/>`;
}

function drawBand({ x, low, high, ink, unit }: Band, scale: Scale): Markup {
  const there = x.map((at, index) => `${figure(scale.x(at))} ${figure(scale.y(unit, high[index] ?? 0))}`);
  const back = x.map((at, index) => `${figure(scale.x(at))} ${figure(scale.y(unit, low[index] ?? 0))}`).reverse();
  return markup`<path class="band ${ink}" d="M${[...there, ...back].join('L')}Z"/>`;
}

function drawLevel(level: Level, nth: number, scale: Scale): Markup | null {
  const { kind, value, word, fromX, toX } = level;
  const at = scale.y(laneOf(level), value);
  const ends = endsOf(
    scale.lanes.find((lane) => lane.name === laneOf(level)),
    scale,
  );
  const from = fromX === null ? scale.left : Math.max(scale.left, scale.x(fromX));
  const to = toX === null ? scale.right : Math.min(scale.right, scale.x(toX));
  if (from >= to) return null;
  // Words of levels close to each other stand at different ends.
  const anchor = nth % 2 === 0 ? { x: to - 4, end: 'end' } : { x: from + 4, end: 'start' };
  // Far from the curve only its word stands at the edge, so that the curve is not pressed flat.
  const beyond = at < ends.top - 1 ? '▲ ' : at > ends.bottom + 1 ? '▼ ' : '';
  const line = beyond === '' ? markup`<path d="M${figure(from)} ${figure(at)}H${figure(to)}"/>` : null;
  const height = wordHeight(at, ends.top, ends.bottom);
  return markup`<g class="level ${kind}">${line}<text x="${figure(anchor.x)}" y="${figure(height)}" text-anchor="${anchor.end}">${beyond}${word}</text></g>`;
}

const shapes: Readonly<Record<Mark['kind'], string>> = {
  power: 'M-4 -4h8v8h-8z',
  note: 'M-4 -5h8v7l-4 3l-4 -3z',
  kept: 'M-5 0l3 4l7 -8',
  trip: 'M-2 -5h4l3 3v4l-3 3h-4l-3 -3v-4z',
  point: 'M0 -5l5 5l-5 5l-5 -5z',
};

interface PlacedMark {
  readonly mark: Mark;
  readonly at: number;
  readonly row: number | null;
}

/** Marks inside the drawing, each with the row that its word stands in. */
function placed(chart: Chart, x: (value: number) => number, rows: number): readonly PlacedMark[] {
  const inside = chart.marks
    .filter((mark) => mark.x >= chart.fromX && mark.x <= chart.toX)
    .toSorted((one, other) => one.x - other.x)
    .map((mark) => ({ mark, at: x(mark.x) }));
  const row = labelRows(
    inside.map(({ mark, at }) => ({ left: at, width: 12 + mark.word.length * letter })),
    rows,
    4,
  );
  return inside.map((each, index) => ({ ...each, row: row[index] ?? null }));
}

function drawMark({ mark, at, row }: PlacedMark, { top, bottom, right }: Scale): Markup {
  const level = 8 + (row ?? 0) * rowHeight;
  const turns = at + 12 + mark.word.length * letter > right + 40;
  const words =
    row === null
      ? null
      : markup`<text x="${figure(turns ? at - 9 : at + 9)}" y="${figure(level + 4)}" text-anchor="${turns ? 'end' : 'start'}">${mark.word}</text>`;
  return markup`<g class="mark ${mark.kind}"><title>${mark.word}</title><path class="stem" d="M${figure(at)} ${figure(Math.min(level + 6, top))}V${figure(bottom)}"/><path class="shape" transform="translate(${figure(at)} ${figure(level)})" d="${shapes[mark.kind]}"/>${words}</g>`;
}

const markRows = 3;

/** A chart as one SVG drawing for paper; the classes are those of the sheet's own style. */
export function chartSvg(chart: Chart): Markup {
  const lanes = lanesOf(chart);
  const height = firstHeight + laneHeight * (Math.max(1, lanes.length) - 1);
  const rows = chart.marks.length === 0 ? 0 : markRows;
  const scale = scaleOf(chart, lanes, height, rows);
  const marks = placed(chart, scale.x, markRows);
  return markup`<svg class="chart" viewBox="0 0 ${width} ${height}" role="img" aria-label="${chart.title}">
${lanes.map((lane) => laneAxis(lane, scale))}
${xAxis(chart, scale)}
${chart.bands.map((band) => drawBand(band, scale))}
${chart.curves.map((curve) => drawCurve(curve, scale))}
${chart.levels.flatMap((level, nth) => drawLevel(level, nth, scale) ?? [])}
${marks.map((mark) => drawMark(mark, scale))}
</svg>`;
}

/** What each curve of the chart is, with a sample of its line. */
export function chartKey({ curves, bands }: Chart): Markup {
  return markup`<ul class="key">${curves.map(
    ({ label, unit, ink, dash, form }) =>
      markup`<li><svg width="34" height="10" viewBox="0 0 34 10" aria-hidden="true">${
        form === 'points'
          ? markup`<g class="dots ${ink}"><circle cx="17" cy="5" r="2.6"/></g>`
          : markup`<path class="curve ${ink}" stroke-dasharray="${dashes[dash].join(' ') || 'none'}" d="M0 5h34"/>`
      }</svg> ${label} (${unit})</li>`,
  )}${bands.map(({ label, ink }) => markup`<li><svg width="34" height="10" viewBox="0 0 34 10" aria-hidden="true"><path class="band ${ink}" d="M0 0h34v10h-34z"/></svg> ${label}</li>`)}</ul>`;
}
