import { formatInterval, formatNumber } from '../quantity/format.ts';
import type { HeatFit } from './heat-fit.ts';
import { markup, type Markup } from './markup.ts';
import type { NoResult } from './no-result.ts';
import type { AnswerLine, AnswerView } from './read-answer.ts';
import type { TimeWords } from './time-words.ts';

function lineRow({ name, text, quantity }: AnswerLine): Markup {
  const interval = quantity?.interval95;
  const between =
    interval === null || interval === undefined || interval[0] === interval[1]
      ? null
      : markup`<br><span class="small">95 %: ${formatInterval(interval)}</span>`;
  return markup`<tr><th scope="row">${name}</th><td class="n">${text}${between}</td><td class="small">${sharesText(quantity)}</td></tr>`;
}

/** Where the doubt of a quantity comes from, the largest shares first. */
function sharesText(quantity: AnswerLine['quantity']): string {
  const shares = (quantity?.budget ?? []).filter(({ share }) => share >= 0.01).slice(0, 4);
  if (shares.length === 0) return '';
  return `doubt from ${shares.map(({ input, share }) => `${input} ${Math.round(share * 100)} %`).join(', ')}`;
}

const fitLine = ({ title, text }: HeatFit): Markup => markup`<p class="cautions"><b>${title}.</b> ${text}</p>`;

/** Why a sheet has no result. */
export const noResultSection = ({ title, fit, sentence }: NoResult): Markup =>
  markup`<h2>${title}</h2>
${fit === null ? null : fitLine(fit)}
${sentence === null ? null : markup`<p>${sentence}</p>`}`;

/** A kept result on a sheet, with what stands in the way of its final value: figures, tables, working, cautions, sources. */
export function answerSection(view: AnswerView, times: TimeWords, fit: HeatFit | null): Markup {
  return markup`<h2>Result: ${view.title}</h2>
${fit === null ? null : fitLine(fit)}
<table><tbody>${view.lines.map(lineRow)}</tbody></table>
${view.tables.map(
  ({ name, columns, rows }) =>
    markup`<h3>${name}</h3><table class="wide"><thead><tr>${columns.map((column) => markup`<th>${column}</th>`)}</tr></thead><tbody>${rows.map((row) => markup`<tr>${row.map((cell) => markup`<td class="n">${cell}</td>`)}</tr>`)}</tbody></table>`,
)}
${view.working.length === 0 ? null : markup`<h3>Working</h3>`}
${view.working.map(
  ({ symbol, formula, numbers, value, unit }) =>
    markup`<p class="work fig">${symbol} = ${formula}<br>= ${numbers}<br>= ${formatNumber(value, 5)} ${unit === '1' ? '' : unit}</p>`,
)}
${view.cautions.length === 0 ? null : markup`<h3>Cautions</h3><ul class="cautions">${view.cautions.map((text) => markup`<li>${text}</li>`)}</ul>`}
<p class="small">${view.sources.length === 0 ? '' : `Sources: ${view.sources.join('; ')}. `}Kept ${times.when(view.wallMs)} as result ${view.resultId}, calculation version ${view.version}.</p>`;
}
