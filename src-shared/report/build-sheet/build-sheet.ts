import { cautionText } from '../../interlock/cautions.ts';
import { formatEstimate, formatNumber } from '../../quantity/format.ts';
import { inSystem, type UnitSystem } from '../../quantity/unit.ts';
import { staleWords } from '../../record/stale-words.ts';
import { markup, type Markup } from '../markup.ts';
import { cautionList, practiceMark, sheetFoot, sheetPage } from '../sheet-page.ts';
import { timeWords, type TimeWords } from '../time-words.ts';
import { windingCautions } from '../winding-cautions.ts';
import type { BuildSheetParts } from './facts.ts';
import { figuresOf, type SheetFigures } from './figures.ts';
import { measurementsOf, type Measurement, type MeasurementGroup } from './measure.ts';
import { oldWindings } from './old-windings.ts';
import { closingSteps, lastSteps, orderOfWork, type Step } from './order.ts';
import { powerRows, powerWords } from './power.ts';
import { windowSvg } from './window.ts';
import { cutWords, layersWords, predictedWords, turnsWords, wireWords } from './words.ts';

/** Over this an output asks for protection against touch, in V a.c. (IEC 60364-4-41, extra-low voltage). */
const lowVoltsAtMost = 50;

const steps = (list: readonly Step[]): Markup =>
  markup`<ol class="steps${list.length < 4 ? ' few' : ''}">${list.map(
    ({ text, minds }) =>
      markup`<li><span class="box"></span><span>${text}${minds.map((mind) => markup`<small>${mind}</small>`)}</span></li>`,
  )}</ol>`;

const blankCell = (unit: string): Markup => markup`<td class="blank"><span>${unit}</span></td>`;

/** With `stacked`, what another reading means stands below what is read, so that two tables lie side by side. */
function table(list: readonly Measurement[], stacked = false): Markup {
  const rows = list.map(
    ({ what, expected, unit, means }) =>
      markup`<tr><th scope="row">${what}${stacked && means !== '' ? markup`<small>${means}</small>` : null}</th><td class="n">${expected}</td>${blankCell(unit)}${stacked ? null : markup`<td class="small">${means}</td>`}</tr>`,
  );
  return markup`<table class="fill${stacked ? ' stacked' : ''}"><thead><tr><th>Read</th><th>Expected</th><th>Seen</th>${stacked ? null : markup`<th>Otherwise</th>`}</tr></thead><tbody>${rows}</tbody></table>`;
}

const measured = ({ title, how, rows }: MeasurementGroup, stacked: boolean): Markup =>
  markup`<section><h3>${title}</h3><p class="small">${how}</p>${table(rows, stacked)}</section>`;

function beforeClosing(parts: BuildSheetParts, figures: SheetFigures): Markup {
  const { resistance, insulation, lowVolts } = measurementsOf(parts, figures);
  return markup`<div class="two">${measured(resistance, true)}${measured(insulation, true)}</div>${measured(lowVolts, false)}`;
}

function coreWords({ core, system }: BuildSheetParts): string {
  const { shape, mass, tongue, stack, windowWidth, windowHeight } = core.fields;
  const size = (name: string, known: typeof mass, unit: string): string => {
    if (known === undefined) return '';
    const shown = inSystem({ ...known, unit }, system);
    return `${name} ${known.u === null ? `${formatNumber(shown.value, 4)} ${shown.unit}` : formatEstimate(shown)}`;
  };
  return [
    { shell: 'shell core', 'two-limb': 'two-limb core', toroid: 'toroid', unknown: 'shape not known' }[shape],
    size('mass', mass, 'kg'),
    size('tongue', tongue, 'mm'),
    size('stack', stack, 'mm'),
    size('window', windowWidth, 'mm'),
    size('by', windowHeight, 'mm'),
  ]
    .filter((text) => text !== '')
    .join(', ');
}

function primaryWords(parts: BuildSheetParts, { primary, oldTurns, newTurns }: SheetFigures): string {
  const { addedTurns, line } = parts.version.fields;
  const { stays } = oldWindings(parts);
  const name = primary?.label ?? 'Primary';
  const turns = oldTurns === null ? 'turns not known' : `${formatNumber(oldTurns, 4)} turns`;
  const change =
    addedTurns === 0
      ? 'stays as it is'
      : `${addedTurns > 0 ? `${formatNumber(addedTurns)} more` : `${formatNumber(-addedTurns)} fewer`}${newTurns === null ? '' : `, ${formatNumber(newTurns, 4)} then`}`;
  return `${name}: ${turns}, ${change}. ${stays.length === 0 ? '' : ` Also stays: ${stays.join(', ')}.`} For ${formatNumber(line.volts)} V ${line.hertz} Hz.`;
}

function staleMark({ stale, version, versions, system }: BuildSheetParts): Markup | null {
  const newer = version.number < versions ? [`Version ${versions} of this plan is newer than this one.`] : [];
  const words = [...newer, ...stale.map((mark) => staleWords(mark, system))];
  if (words.length === 0) return null;
  return markup`<div class="trip"><b>${stale.length > 0 ? 'Out of date.' : 'Not the newest.'}</b> ${
    stale.length > 0 ? 'What this plan stood on has changed since: plan again, or know why not.' : ''
  }<ul>${words.map((text) => markup`<li>${text}</li>`)}</ul></div>`;
}

function cutList({ version, system }: BuildSheetParts): Markup {
  const lines = version.fields.outputs.map(
    ({ label, loadVolts, loadAmps, turns, wire, layers, lengthMm, copperKg }, index) =>
      markup`<tr><th scope="row"><b class="big">${index + 1}</b> ${label}<small>${formatNumber(loadVolts)} V at ${formatNumber(loadAmps)} A</small></th><td><b class="big">${turnsWords(turns)}</b><small>${layers.length === 1 ? '1 layer' : `${layers.length} layers: ${layersWords({ layers })}`}</small></td><td>${wireWords(wire, system)}<small>${mass(copperKg, system)} of wire</small></td><td class="n"><b class="big">${wire.strands} × ${cutWords(lengthMm, system)}</b><small>leads included</small></td></tr>`,
  );
  return markup`<table class="cut"><thead><tr><th>Output</th><th>Wind</th><th>Wire</th><th>Cut</th></tr></thead><tbody>${lines}</tbody></table>`;
}

function mass(kg: number, system: UnitSystem): string {
  return predictedWords({ value: kg, u: null }, 'kg', system);
}

function taps({ version }: BuildSheetParts): Markup | null {
  const lines = version.fields.outputs.flatMap(({ label, taps: list }, index) =>
    list.map(
      ({ label: tap, turns, noLoadVolts }) =>
        `${index + 1} ${label}: tap “${tap}” after turn ${formatNumber(turns)}, ${formatNumber(noLoadVolts.value, 3)} V without load`,
    ),
  );
  return lines.length === 0 ? null : markup`<p><b>Taps.</b> ${lines.join('; ')}.</p>`;
}

function separation({ build, version, system }: BuildSheetParts): Markup {
  const { outputs, line } = version.fields;
  const first = outputs[0];
  const planned =
    first === undefined
      ? ''
      : `Planned: ${predictedWords({ value: first.baseMm, u: null }, 'mm', system)} under the first output, ${predictedWords({ value: first.marginMm, u: null }, 'mm', system)} at both ends. `;
  const was =
    build.fields.separation === undefined || build.fields.separation === ''
      ? ''
      : `Found: ${build.fields.separation}. `;
  const margin = predictedWords({ value: 6, u: null }, 'mm', system);
  return markup`<p><b>Separation.</b> ${planned}${was}Wound, from primary to output: ________________ , ____ layers. Where a hand can reach the output, basic insulation is not enough: three layers of film of which any two hold the test, and margins of about ${margin} at 230 V, are usual (common practice, no source). For ${formatNumber(line.volts)} V your local rules say what is asked.</p>`;
}

function cautions(parts: BuildSheetParts): readonly string[] {
  const { core, build, version, practice } = parts;
  const windings = build.windings.map(({ fields }) => fields);
  const isHigh = version.fields.outputs.some(
    ({ loadVolts, predicted }) => Math.max(loadVolts, predicted.noLoadVolts.value) > lowVoltsAtMost,
  );
  const notTakenOff = version.fields.window.notTakenOff ?? [];
  return [
    ...(practice ? [cautionText('c-prac', {})] : []),
    ...(notTakenOff.length === 0
      ? []
      : [
          `Nothing was taken off the window for ${notTakenOff.map((label) => `“${label}”`).join(' and ')}, which stays: measure the room that is free before wire is cut.`,
        ]),
    ...(isHigh ? [cautionText('c-out50', {})] : []),
    ...windingCautions(windings),
    ...(build.fields.shunts === 'out' ? [cautionText('c-shunt', {})] : []),
    ...(core.fields.fromAppliance === true
      ? ['For hours this core is weaker than its weight says: the rule by mass holds for minutes.']
      : []),
    cautionText('c-hot', {}),
    cautionText('c-first', {}),
  ];
}

function head(parts: BuildSheetParts, figures: SheetFigures, times: TimeWords): Markup {
  const { core, build, version, versions, need, practice } = parts;
  const { title, opening } = version.fields;
  const way = opening === 'closed' ? 'Core stays closed, threaded by hand' : 'Core opened, wound on a former';
  return markup`${practice ? practiceMark() : null}
<p class="above">Build sheet · ${core.fields.label}, on build ${build.number}, ${build.fields.title} · version ${version.number} of ${versions}, kept ${times.when(version.wallMs)}</p>
<h1>${title}</h1>
${staleMark(parts)}
<p>${coreWords(parts)}. ${primaryWords(parts, figures)} ${need === null ? '' : `For “${need}”. `}<b>${way}.</b></p>`;
}

/** A kept version of a plan as one sheet for the bench: wind by its front, measure by its back. Every text is escaped. */
export function buildSheet(parts: BuildSheetParts): string {
  const { core, version, practice, system } = parts;
  const times = timeWords(parts.zone);
  const figures = figuresOf(parts);
  const title = `Build sheet, ${version.fields.title}, ${core.fields.label}, version ${version.number}${practice ? ', practice' : ''}`;
  const body = markup`
${head(parts, figures, times)}
${cutList(parts)}
<div class="beside"><figure>${windowSvg(version.fields, system)}<figcaption class="small">One window to scale; every turn passes each window once. The other window is its mirror image.</figcaption></figure>
<div>${taps(parts)}${separation(parts)}<p><b>Cautions.</b></p>${cautionList(cautions(parts))}</div></div>
<h2>In this order</h2>
${steps(orderOfWork(parts, figures))}
<h2 class="overleaf">Before closing up</h2>
${beforeClosing(parts, figures)}
<h2>Close up</h2>
${steps(closingSteps(parts))}
<h2>First power, through a lamp</h2>
<ul class="cautions">${powerWords(parts, figures).map((text) => markup`<li>${text}</li>`)}</ul>
${table(powerRows(parts))}
${steps(lastSteps)}
<p class="no-power">No power until: <span class="line"></span> (date; varnish cured)</p>
${sheetFoot(markup`Plan ${version.planId}, version ${version.number}, for ${core.fields.label}. Wound by <span class="line"></span> on <span class="line"></span>.`, parts, times)}
`;
  return sheetPage(title, body, 'build');
}
