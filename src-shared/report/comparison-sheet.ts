import type { Comparison } from '../comparison/comparison.ts';
import type { ConditionRow } from '../comparison/conditions.ts';
import type { ComparedCurve } from '../comparison/curves.ts';
import type { PredictedRow } from '../comparison/outcome.ts';
import { figureWords, intervalWords, notedWords, rowWords } from '../comparison/row-words.ts';
import type { SentencePart } from '../comparison/sentence.ts';
import { cautionText } from '../interlock/cautions.ts';
import { formatEstimate } from '../quantity/format.ts';
import type { MeasuredBy, Told } from '../comparison/trust.ts';
import { inSystem, type UnitSystem } from '../quantity/unit.ts';
import type { Build } from '../record/build.ts';
import type { Core } from '../record/core.ts';
import { markup, type Markup } from './markup.ts';
import { cautionList, chartFigure, practiceMark, sheetFoot, sheetPage, type SheetMade } from './sheet-page.ts';
import { timeWords } from './time-words.ts';

export interface ComparedSide {
  readonly core: Core;
  readonly build: Build;
}

/** What the sheet of a comparison is made from. */
export interface ComparisonSheetParts extends SheetMade {
  readonly before: ComparedSide;
  readonly after: ComparedSide;
  readonly comparison: Comparison;
  readonly curves: readonly ComparedCurve[];
  /** Prediction beside outcome; empty where nothing was predicted. */
  readonly predicted: readonly PredictedRow[];
  readonly told: Told;
  /** Which plan the build after was wound by, as a phrase; null for none. */
  readonly plan: string | null;
  /** Something of it was practised: nothing of that was measured. */
  readonly practice: boolean;
  readonly system: UnitSystem;
}

type Names = readonly [before: string, after: string];

const sideName = ({ core, build }: ComparedSide): string => `${core.fields.label}, build ${build.number}`;

/** `Build 2` of one core; of two cores each with its label. */
function namesOf({ before, after }: ComparisonSheetParts): Names {
  if (before.core.coreId !== after.core.coreId) return [sideName(before), sideName(after)];
  return [`Build ${before.build.number}`, `Build ${after.build.number}`];
}

const sentence = (parts: readonly SentencePart[], system: UnitSystem): Markup =>
  markup`<p class="say">${parts.map((part) =>
    typeof part === 'string' ? markup`${part}` : markup`<b>${formatEstimate(inSystem(part, system))}</b>`,
  )}</p>`;

function conditionsSection(rows: readonly ConditionRow[], names: Names, system: UnitSystem): Markup {
  const lines = rows.map(
    ({ name, before, after, differs, effect }) =>
      markup`<tr><th scope="row">${name}</th><td>${notedWords(before, system)}</td><td>${notedWords(after, system)}</td><td>${differs ? markup`<b>differs</b>` : before === null || after === null ? 'not known' : 'alike'}${effect === null ? null : markup`<br><span class="small">${effect}</span>`}</td></tr>`,
  );
  return markup`<h2>How they were tested</h2><table class="wide"><thead><tr><th></th><th>${names[0]}</th><th>${names[1]}</th><th></th></tr></thead><tbody>${lines}</tbody></table>`;
}

function quantitiesSection({ comparison, system }: ComparisonSheetParts, names: Names): Markup {
  if (comparison.rows.length === 0) {
    const why = 'Nothing is known of both yet.';
    return markup`<h2>Side by side</h2><p>${why}</p>`;
  }
  const rows = comparison.rows.map((row) => {
    const { name, before, after, difference, verdict, why } = rowWords(row, system);
    const words = row.compared.verdict === 'changed' ? markup`<b>${verdict}</b>` : markup`${verdict}`;
    return markup`<tr><th scope="row">${name}</th><td class="n">${before}</td><td class="n">${after}</td><td class="n">${difference}</td><td>${words}${why === '' ? null : markup`<br><span class="small">${why}</span>`}</td></tr>`;
  });
  return markup`<h2>Side by side</h2><table class="wide"><thead><tr><th></th><th>${names[0]}</th><th>${names[1]}</th><th>Difference</th><th>Verdict</th></tr></thead><tbody>${rows}</tbody></table>`;
}

function predictedSection({ predicted, system }: ComparisonSheetParts): Markup | null {
  if (predicted.length === 0) return null;
  const rows = predicted.map(({ name, predicted: expected, interval, outcome, verdict, kind, from }) => {
    const { unit } = inSystem(expected, system);
    const named = unit === '' ? name : `${name}, ${unit}`;
    const to = intervalWords(interval, expected.unit, system);
    const said = kind === 'not-as-predicted' ? markup`<b>${verdict}</b>` : markup`${verdict}`;
    return markup`<tr><th scope="row">${named}<br><span class="small">by ${from}</span></th><td class="n">${figureWords(expected, system)}${to === '' ? null : markup`<br><span class="small">${to}</span>`}</td><td class="n">${figureWords(outcome, system)}</td><td>${said}</td></tr>`;
  });
  return markup`<h2>Predicted, and what came of it</h2><table class="wide"><thead><tr><th></th><th>Predicted</th><th>Measured</th><th></th></tr></thead><tbody>${rows}</tbody></table>`;
}

const measuredWords = (name: string, by: MeasuredBy | null, times: ReturnType<typeof timeWords>): string =>
  by === null
    ? `${name}: nothing was measured on it.`
    : `${name}: measured by ${by.who.join(', ')}, ${times.when(by.firstWallMs)} to ${times.when(by.lastWallMs)}, in ${by.runs} run${by.runs === 1 ? '' : 's'}.`;

function toldSection({ told, plan }: ComparisonSheetParts, names: Names, times: ReturnType<typeof timeWords>): Markup {
  const done = [...told.done, ...(plan === null ? [] : [plan])];
  const measured = names.map((name, side) => measuredWords(name, told.measured[side] ?? null, times));
  const lines = (texts: readonly string[]) => markup`<ul>${texts.map((text) => markup`<li>${text}</li>`)}</ul>`;
  return markup`<h2>What was done</h2>${lines(done.length === 0 ? ['The record tells of no change to windings or core.'] : done)}
<h2>Whether to trust it</h2>${lines([...told.trust.map(({ text }) => text), ...measured])}`;
}

const curveSection = ({ title, rests, chart, candidates }: ComparedCurve): Markup =>
  markup`<h2>${title}</h2>${rests === null ? null : markup`<p>${rests}</p>`}${chartFigure(chart)}${candidates.length === 0 ? null : cautionList(candidates.map(({ text }) => text))}`;

/** Two builds held against each other, as one page of HTML for paper: no script, nothing fetched, every text escaped. */
export function comparisonSheet(parts: ComparisonSheetParts): string {
  const { before, after, comparison, curves, practice, system } = parts;
  const times = timeWords(parts.zone);
  const names = namesOf(parts);
  const isOneCore = before.core.coreId === after.core.coreId;
  const both = isOneCore ? before.core.fields.label : 'Two cores';
  const heading = isOneCore
    ? `Build ${before.build.number} beside build ${after.build.number}`
    : names.join(' beside ');
  const said = comparison.answer.ok ? comparison.answer.cautions.map(({ text }) => text) : [];
  const body = markup`
${practice ? practiceMark() : null}
<p class="above">Comparison · ${both} · ${sideName(before)}, ${before.build.fields.title} · ${sideName(after)}, ${after.build.fields.title}</p>
<h1>${heading}</h1>
${sentence(comparison.sentence, system)}
${toldSection(parts, names, times)}
${quantitiesSection(parts, names)}
${predictedSection(parts)}
${conditionsSection(comparison.conditions, names, system)}
${curves.map(curveSection)}
<h2>Cautions</h2>${cautionList([...(practice ? [cautionText('c-prac', {})] : []), ...said, cautionText('c-first', {})])}
${sheetFoot(markup`Of what is kept of builds ${before.build.number} and ${after.build.number}. A difference is called a change when 0 lies outside its 95 % interval.`, parts, times)}
`;
  return sheetPage(`${heading}, ${both}${practice ? ', practice' : ''}`, body);
}
