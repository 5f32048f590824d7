import { cautionText } from '../interlock/cautions.ts';
import { checkById, isCheckId } from '../interlock/checks.ts';
import type { Chart } from '../chart/chart.ts';
import { formatEstimate, formatNumber } from '../quantity/format.ts';
import type { CheckMark } from '../record/check.ts';
import type { KeptPair, KeptValue, Run } from '../record/run.ts';
import { timeFactorOf } from '../record/run-time.ts';
import { instantWords } from '../chart/ticks.ts';
import { answerWords, channelLabel, procedureTitle } from './channel-words.ts';
import { conditionsOf, endingText, readerTexts } from './conditions.ts';
import { heatFit } from './heat-fit.ts';
import { markup, type Markup } from './markup.ts';
import type { NoResult } from './no-result.ts';
import { readAnswer } from './read-answer.ts';
import { answerSection, noResultSection } from './sheet-answer.ts';
import { cautionList, chartFigure, pairs, practiceMark, sheetFoot, sheetPage, type SheetMade } from './sheet-page.ts';
import type { RunFacts } from './run-facts.ts';
import { timeWords, type TimeWords } from './time-words.ts';
import { windingCautions } from './winding-cautions.ts';

/** What a sheet is made from. */
export interface SheetParts extends SheetMade {
  readonly facts: RunFacts;
  /** The run's own chart first, then those of its results. */
  readonly charts: readonly Chart[];
  /** Why no result was kept; null where one was, or where there is nothing to say of it. */
  readonly noResult: NoResult | null;
}

function head({ facts, charts }: SheetParts): Markup {
  const { run, core, build } = facts;
  const trip = facts.happenings.some(({ kind }) => kind === 'trip') || run.ending === 'tripped';
  const ending = endingText(facts);
  return markup`${run.practice ? practiceMark(run) : null}
<p class="above">Run sheet · run ${run.runId} · ${core.fields.label}, build ${build.number}, ${build.fields.title}</p>
<h1>${procedureTitle(run.procedure)}</h1>
${trip ? markup`<p class="trip"><b>Tripped.</b> ${ending}</p>` : markup`<p>${ending}</p>`}
${charts.map(chartFigure)}`;
}

/** What stands over the instants of a run. */
const sinceHead = (run: Run): string => (timeFactorOf(run) === 1 ? 'Since the start' : 'Since the start (simulated)');

function channelsSection(facts: RunFacts): Markup {
  const { run, counts } = facts;
  const rows = run.channels.map((channel, index) => {
    const count = counts[index];
    const readers = readerTexts(facts, index).map((text, nth) => (nth === 0 ? markup`${text}` : markup`<br>${text}`));
    const figure = (value: number | null | undefined) =>
      value === null || value === undefined ? '' : formatNumber(value, 5);
    const others = [
      (count?.overloads ?? 0) > 0 ? `${count?.overloads ?? 0} beyond the range` : '',
      (count?.unreadables ?? 0) > 0 ? `${count?.unreadables ?? 0} unreadable` : '',
    ].filter((text) => text !== '');
    return markup`<tr><th scope="row">${channelLabel(run.procedure, channel.channel)}</th><td>${readers}</td><td class="n">${count?.readings ?? 0}${others.length > 0 ? markup`<br><span class="small">${others.join(', ')}</span>` : null}</td><td class="n">${figure(count?.lowest)}</td><td class="n">${figure(count?.mean)}</td><td class="n">${figure(count?.highest)}</td><td class="n">${channel.unit}</td></tr>`;
  });
  return markup`<h2>Channels and meters</h2><table class="wide"><thead><tr><th>Channel</th><th>Filled by</th><th>Readings</th><th>Lowest</th><th>Mean</th><th>Highest</th><th>Unit</th></tr></thead><tbody>${rows}</tbody></table>`;
}

const keptText = ({ value, u, shared, unit, bottomOfRange }: KeptValue): string =>
  formatEstimate({ value, u: u === null ? null : Math.hypot(u, shared?.u ?? 0), unit }) +
  (bottomOfRange ? ' (bottom of its range)' : '');

function keptSection(kept: readonly KeptPair[]): Markup | null {
  if (kept.length === 0) return null;
  const rows = kept.map(({ coilTurns, primary, coil, swapped, order, driftVolts, withdrawn }) => {
    const how = [
      order === 'primary-coil-primary' ? 'one meter: primary, coil, primary' : 'both at once',
      swapped ? 'meters exchanged' : '',
      driftVolts === null ? '' : `drift ${formatNumber(driftVolts, 3)} V`,
    ].filter((text) => text !== '');
    return markup`<tr${withdrawn === null ? null : markup` class="gone"`}><td class="n">${coilTurns}</td><td class="n">${keptText(primary)}</td><td class="n">${keptText(coil)}</td><td>${how.join(', ')}${withdrawn === null ? '' : ` · taken back: ${withdrawn}`}</td></tr>`;
  });
  return markup`<h2>Kept pairs</h2><table class="wide"><thead><tr><th>Coil turns</th><th>Primary</th><th>Coil</th><th>How</th></tr></thead><tbody>${rows}</tbody></table>`;
}

function pointsSection({ run, points }: RunFacts): Markup | null {
  if (points.length === 0) return null;
  const rows = points.map(({ atMs, values, fields, withdrawn }) => {
    const said = Object.entries(fields).map(([id, answer]) => answerWords(run.procedure, id, answer));
    const words = [
      ...said.map(({ name, text }) => `${name.toLowerCase()} ${text}`),
      ...(withdrawn === null ? [] : [`taken back: ${withdrawn}`]),
    ];
    return markup`<tr${withdrawn === null ? null : markup` class="gone"`}><td class="n">${instantWords(atMs, 1000)}</td>${run.channels.map(
      ({ channel }) => {
        const value = values.find((each) => each.channel === channel);
        return markup`<td class="n">${value === undefined ? '' : keptText(value)}</td>`;
      },
    )}<td>${words.join(', ')}</td></tr>`;
  });
  return markup`<h2>Kept points</h2><table class="wide"><thead><tr><th>${sinceHead(run)}</th>${run.channels.map(({ channel }) => markup`<th>${channelLabel(run.procedure, channel)}</th>`)}<th>Said with it</th></tr></thead><tbody>${rows}</tbody></table>`;
}

function faultsSection({ faults }: RunFacts): Markup | null {
  if (faults.length === 0) return null;
  const each = faults.map(({ title, isAsExpected, suspicions }) => {
    const lines = suspicions.map(({ cause, fits, decides }) =>
      fits
        ? markup`<li>${cause} <span class="small">To decide: ${decides}</span></li>`
        : markup`<li class="small">Hardly: ${cause}</li>`,
    );
    return markup`<p><b>${title}</b>${isAsExpected ? ' As expected.' : ''}</p>${lines.length === 0 ? null : markup`<ul>${lines}</ul>`}`;
  });
  return markup`<h2>Expected against seen</h2>${each}`;
}

function happeningsSection({ run, happenings }: RunFacts, times: TimeWords): Markup | null {
  if (happenings.length === 0) return null;
  const rows = happenings.map(
    ({ atMs, wallMs, text }) =>
      markup`<tr><td class="n">${instantWords(atMs, 100)}</td><td class="n">${times.when(wallMs)}</td><td>${text}</td></tr>`,
  );
  return markup`<h2>What happened</h2><table class="wide"><thead><tr><th>${sinceHead(run)}</th><th>By the clock</th><th>What</th></tr></thead><tbody>${rows}</tbody></table>`;
}

const markWords: Readonly<Record<CheckMark['mark'], string>> = {
  confirmed: 'confirmed',
  'seen-by-program': 'seen by the program',
  'passed-over': 'passed over',
  lapsed: 'lapsed',
};

function checksSection({ checks }: RunFacts, times: TimeWords): Markup | null {
  if (checks.length === 0) return null;
  const rows = checks.map(({ checkId, mark, who, reason, wallMs }) => {
    const text = (isCheckId(checkId) ? checkById(checkId)?.text : undefined) ?? checkId;
    return markup`<tr><td>${text}</td><td>${markWords[mark]}${reason === null ? '' : `: ${reason}`}</td><td>${who}</td><td class="n">${times.when(wallMs)}</td></tr>`;
  });
  return markup`<h2>Checks</h2><table class="wide"><thead><tr><th>Line</th><th>How it stood</th><th>Who</th><th>When</th></tr></thead><tbody>${rows}</tbody></table>`;
}

function cautionsSection({ facts }: SheetParts, times: TimeWords): Markup {
  const { run, session, build } = facts;
  const lines = [
    ...(run.practice ? [cautionText('c-prac', {})] : []),
    ...windingCautions(build.windings.map(({ fields }) => fields)),
    ...(build.fields.shunts === 'out' ? [cautionText('c-shunt', {})] : []),
    cautionText('c-first', {}),
    cautionText('c-plate', { who: session.fields.who, date: times.day(run.startedWallMs) }),
  ];
  return markup`<h2>Cautions</h2>${cautionList(lines)}`;
}

function foot(parts: SheetParts, times: TimeWords): Markup {
  const { run, session, signOff } = parts.facts;
  const signed =
    signOff === null
      ? markup`The session is not signed off.`
      : markup`Signed off by ${signOff.who} on ${times.when(signOff.wallMs)}; content <span class="fig">${signOff.contentHash}</span>. The figure finds change in the record, and says so; it does not stop a forger who works it out anew.`;
  return sheetFoot(markup`Run ${run.runId} of session ${session.sessionId}. ${signed}`, parts, times);
}

/** A run as one page of HTML for paper: no script, nothing fetched, every text escaped. */
export function runSheet(parts: SheetParts): string {
  const { facts } = parts;
  const times = timeWords(parts.zone);
  const { run, core } = facts;
  const title = `${procedureTitle(run.procedure)}, ${core.fields.label}, run ${run.runId}${run.practice ? ', practice' : ''}`;
  const body = markup`
${head(parts)}
${facts.results.map((result) => answerSection(readAnswer(result), times, heatFit(result.calculation, result.output, true)))}
${parts.noResult === null ? null : noResultSection(parts.noResult)}
${faultsSection(facts)}
${keptSection(facts.kept)}
${pointsSection(facts)}
<h2>Conditions</h2>${pairs(conditionsOf(facts, times))}
${channelsSection(facts)}
${happeningsSection(facts, times)}
${checksSection(facts, times)}
${cautionsSection(parts, times)}
${foot(parts, times)}
`;
  return sheetPage(title, body);
}
