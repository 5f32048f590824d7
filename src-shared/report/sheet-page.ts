import type { Chart } from '../chart/chart.ts';
import type { Run } from '../record/run.ts';
import { chartKey, chartSvg } from './chart-svg.ts';
import { practiceText, type Condition } from './conditions.ts';
import { markup, type Markup } from './markup.ts';
import { sheetStyle } from './sheet-style.ts';
import type { TimeWords } from './time-words.ts';

/** Which program made a sheet, and when. */
export interface SheetMade {
  readonly programVersion: string;
  readonly madeWallMs: number;
  /** In which times are written, such as `Europe/Paris`. */
  readonly zone: string;
}

/** Names and what belongs to them, one below the other. */
export const pairs = (list: readonly Condition[]): Markup =>
  markup`<table><tbody>${list.map(({ name, text }) => markup`<tr><th scope="row">${name}</th><td>${text}</td></tr>`)}</tbody></table>`;

/** Stands first on every sheet that tells of the practice bench; of one run also how its time went. */
export const practiceMark = (run: Pick<Run, 'timeFactor'> = {}): Markup =>
  markup`<p class="practice">Practice. ${practiceText(run)}</p>`;

export const cautionList = (lines: readonly string[]): Markup =>
  markup`<ul class="cautions">${lines.map((text) => markup`<li>${text}</li>`)}</ul>`;

export const chartFigure = (chart: Chart): Markup =>
  markup`<figure>${chartSvg(chart)}<figcaption><b>${chart.title}</b>${chartKey(chart)}</figcaption></figure>`;

/** The foot of a sheet: what it tells of, who made it, and how its doubts are meant. */
export const sheetFoot = (of: Markup, { programVersion, madeWallMs, zone }: SheetMade, times: TimeWords): Markup =>
  markup`<footer><p>${of}</p><p>Made by Turnwright ${programVersion} on ${times.when(madeWallMs)}. Times are of the zone ${zone}. ± is one standard uncertainty.</p></footer>`;

/** One page of HTML for paper: no script, nothing fetched. The style is the program's own text, with nothing of the record in it. */
export function sheetPage(title: string, body: Markup, kind: 'report' | 'build' = 'report'): string {
  const policy = "default-src 'none'; style-src 'unsafe-inline'";
  return [
    '<!doctype html>\n<html lang="en"><head><meta charset="utf-8">',
    '<meta name="viewport" content="width=device-width">',
    `<meta http-equiv="Content-Security-Policy" content="${policy}">`,
    `${String(markup`<title>${title}</title>`)}<style>${sheetStyle}</style></head><body class="${kind}">${String(body)}</body></html>\n`,
  ].join('');
}
