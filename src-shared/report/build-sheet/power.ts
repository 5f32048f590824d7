import { cautionText } from '../../interlock/cautions.ts';
import { formatNumber } from '../../quantity/format.ts';
import type { BuildSheetParts } from './facts.ts';
import type { SheetFigures } from './figures.ts';
import type { Measurement } from './measure.ts';
import { predictedWords } from './words.ts';

const n = (value: number, figures = 3): string => formatNumber(value, figures);

/** The lamp must carry more than the no-load current, or it lights although nothing is wrong: Ohm’s law. */
function lampWords({ version }: BuildSheetParts): string {
  const { noLoad, line } = version.fields;
  const { amps } = noLoad;
  if (amps === null) return 'A filament lamp in series, no other kind.';
  const watts = Math.ceil((amps.value * line.volts) / 10) * 10;
  return `A filament lamp in series, no other kind. One of less than about ${n(watts)} W lights although nothing is wrong, since the no-load current alone lights it.`;
}

export function powerRows(parts: BuildSheetParts): readonly Measurement[] {
  const { version, system } = parts;
  const { noLoad, outputs, line, addedTurns } = version.fields;
  const { amps, watts, ampsIfOpposing } = noLoad;
  const wrong =
    addedTurns <= 0
      ? ''
      : ampsIfOpposing === null
        ? 'several times as much: the added turns oppose'
        : `about ${n(ampsIfOpposing.value, 2)} A: the ${n(addedTurns)} added turns oppose`;
  return [
    {
      what: `Line volts, planned for ${n(line.volts)} V ${line.hertz} Hz`,
      expected: n(line.volts),
      unit: 'V',
      means: '',
    },
    {
      what: 'No-load amps, lamp bridged, after 10 s',
      expected: amps === null ? 'not known: no sweep tells' : predictedWords(amps, 'A', system),
      unit: 'A',
      means: wrong,
    },
    ...(watts === null
      ? []
      : [{ what: 'No-load watts', expected: predictedWords(watts, 'W', system), unit: 'W', means: '' }]),
    ...outputs.map(({ label, predicted }, index) => ({
      what: `${index + 1} ${label}, no load`,
      expected: predictedWords(predicted.noLoadVolts, 'V', system),
      unit: 'V',
      means: `under load ${predictedWords(predicted.loadVolts, 'V', system)}`,
    })),
  ];
}

/** What to mind before and at the first power, in the order in which it matters. */
export function powerWords(parts: BuildSheetParts, { surge, primaryAmps }: SheetFigures): readonly string[] {
  const loads = `All loads together draw ${n(primaryAmps)} A through the primary; the no-load current comes on top, out of step.`;
  return [
    'Core and frame on protective earth, fuse in, everything covered, hands off: the checks of the Bench page, every one.',
    `${lampWords(parts)} ${cautionText('c-lamp', {})} Only when it stays dim: off, unplug, bridge the lamp, on again.`,
    surge === null
      ? `${loads} Surge and fuse are not known: they need the resistance of the primary.`
      : `${loads} Fuse to begin with: ${n(surge.fuseFrom, 2)} to ${n(surge.fuseTo, 2)} A, time-lag, in line with the primary. ${surge.whoseRule}. ${cautionText('c-fuse', {})} A second fuse near each output; a cut-out on the winding for anything left running.`,
    surge === null ? '' : cautionText('c-inrush', { i: n(surge.inrush, 2) }),
  ].filter((text) => text !== '');
}
