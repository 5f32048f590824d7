import { plannedRows, type PlannedRow } from '../../chart/planned-window.ts';
import { strandsPath } from '../../chart/strands-path.ts';
import { formatNumber } from '../../quantity/format.ts';
import { inSystem, type UnitSystem } from '../../quantity/unit.ts';
import type { PlanFields } from '../../record/plan.ts';
import { markup, type Markup } from '../markup.ts';

/** Of the whole drawing, in its own units. */
const [width, height] = [330, 300];
const edge = { left: 30, right: 54, top: 36, bottom: 48 };

const figure = (value: number): string => String(Math.round(value * 100) / 100);

function layer({ strand, middles }: PlannedRow): Markup {
  const { kind } = strand;
  return markup`<path class="film" d="${strandsPath(middles, kind, strand.along, strand.out)}"/><path class="metal" d="${strandsPath(middles, kind, strand.bareAlong, strand.bareOut)}"/>`;
}

/** Insulation under each output and between its layers, and the margins at both ends. */
function insulation({ outputs, window }: PlanFields): readonly Markup[] {
  const strip = (x: number, y: number, wide: number, high: number) =>
    wide > 0 && high > 0
      ? [
          markup`<rect class="insulation" x="${figure(x)}" y="${figure(y)}" width="${figure(wide)}" height="${figure(high)}"/>`,
        ]
      : [];
  return outputs.flatMap(({ layers, baseMm, marginMm }) => {
    const [first, last] = [layers[0], layers.at(-1)];
    if (first === undefined || last === undefined) return [];
    const to = last.fromMm + last.depthMm;
    return [
      ...strip(first.fromMm - baseMm, 0, baseMm, window.heightMm),
      ...layers.slice(1).flatMap(({ fromMm }, index) => {
        const before = layers[index];
        const from = before === undefined ? fromMm : before.fromMm + before.depthMm;
        return strip(from, marginMm / 2, fromMm - from, window.heightMm - marginMm);
      }),
      ...strip(first.fromMm, 0, to - first.fromMm, marginMm),
      ...strip(first.fromMm, window.heightMm - marginMm, to - first.fromMm, marginMm),
    ];
  });
}

/** One window of the plan to scale, every turn where it lies, with a bar that a printer can be held against. */
export function windowSvg(fields: PlanFields, system: UnitSystem): Markup {
  const { window, outputs } = fields;
  const { widthMm, heightMm, innerMm, clearanceMm } = window;
  const scale = Math.min(
    (width - edge.left - edge.right) / Math.max(widthMm, 1),
    (height - edge.top - edge.bottom) / Math.max(heightMm, 1),
  );
  const [wide, high] = [widthMm * scale, heightMm * scale];
  const left = edge.left + (width - edge.left - edge.right - wide) / 2;
  const bar = system === 'us' ? { mm: 12.7, word: '½ in' } : { mm: 10, word: '10 mm' };
  const words = (mm: number) => {
    const shown = inSystem({ value: mm, u: null, unit: 'mm' }, system);
    return `${formatNumber(shown.value, 3)} ${shown.unit}`;
  };
  const numbers = outputs.map(({ layers }, index) => {
    const middle = ((layers[0]?.fromMm ?? 0) + (layers.at(-1)?.fromMm ?? 0) + (layers.at(-1)?.depthMm ?? 0)) / 2;
    return markup`<text class="which" x="${figure(left + middle * scale)}" y="${index % 2 === 0 ? 13 : 26}" text-anchor="middle">${index + 1}</text>`;
  });
  return markup`<svg class="window" viewBox="0 0 ${width} ${height}" role="img" aria-label="One window to scale: ${outputs.map(({ label, turns }) => `${label}, ${formatNumber(turns)} turns`).join('; ')}">
<defs><pattern id="under" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path class="hatch" d="M0 3H6"/></pattern></defs>
<rect class="iron" x="${figure(left - 10)}" y="${edge.top - 8}" width="${figure(wide + 20)}" height="${figure(high + 16)}"/>
<g transform="translate(${figure(left)} ${edge.top}) scale(${String(scale)})">
<rect class="free" data-part="window" width="${figure(widthMm)}" height="${figure(heightMm)}"/>
${innerMm > 0 ? markup`<rect class="under" data-part="under" fill="url(#under)" width="${figure(innerMm)}" height="${figure(heightMm)}"/>` : null}
${insulation(fields)}
${plannedRows(fields).map(layer)}
${clearanceMm > 0 ? markup`<rect class="insulation" data-part="clearance" x="${figure(widthMm - clearanceMm)}" y="0" width="${figure(clearanceMm)}" height="${figure(heightMm)}"/>` : null}
</g>
${innerMm * scale > 14 ? markup`<text class="on" transform="translate(${figure(left + (innerMm * scale) / 2 + 4)} ${figure(edge.top + high / 2)}) rotate(-90)" text-anchor="middle">underneath</text>` : null}
${numbers}
<text x="${figure(left + wide + 16)}" y="${figure(edge.top + high / 2)}">${words(heightMm)}</text>
<text x="${figure(left + wide / 2)}" y="${figure(edge.top + high + 24)}" text-anchor="middle">${words(widthMm)} wide · ${words(window.leftMm)} left</text>
<path class="bar" d="M8 ${height - 8}h${figure(bar.mm * scale)}m0 -4v8m${figure(-bar.mm * scale)} 0v-8"/><text x="${figure(14 + bar.mm * scale)}" y="${height - 4}">${bar.word}</text>
</svg>`;
}
