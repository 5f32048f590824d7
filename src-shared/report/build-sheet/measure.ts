import { resistanceFactor } from '../../calculation/conductor.ts';
import { formatNumber } from '../../quantity/format.ts';
import { inSystem } from '../../quantity/unit.ts';
import type { WindingFields } from '../../record/build.ts';
import type { PlannedOutput } from '../../record/planned-output.ts';
import type { BuildSheetParts } from './facts.ts';
import { coldOhms, oneTurnAmps, ratioOf, turnsValue, type SheetFigures } from './figures.ts';

/** One reading to take: how, what is expected beside the blank, and what another reading would mean. */
export interface Measurement {
  readonly what: string;
  readonly expected: string;
  readonly unit: string;
  readonly means: string;
}

/** A group of readings that are taken with the same things clipped on. */
export interface MeasurementGroup {
  readonly title: string;
  readonly how: string;
  readonly rows: readonly Measurement[];
}

const n = (value: number, figures = 3): string => formatNumber(value, figures);

function resistance({ version, system }: BuildSheetParts, { primary }: SheetFigures): MeasurementGroup {
  const { outputs } = version.fields;
  const cold = inSystem({ value: 20, u: null, unit: '°C' }, system);
  const ohms = (value: number): { expected: string; unit: string } =>
    value < 1 ? { expected: n(value * 1000), unit: 'mΩ' } : { expected: n(value), unit: 'Ω' };
  const was = primary === undefined ? null : primaryCold(primary);
  return {
    title: 'Resistance, cold',
    how: `Four wires, direct current, winding at rest at ${n(cold.value)} ${cold.unit}. Bring the current down before unclipping: it kicks on every other winding.`,
    rows: [
      {
        what: `${primary?.label ?? 'Primary'}${version.fields.addedTurns > 0 ? ', old turns alone' : ''}`,
        ...(was === null ? { expected: 'not known', unit: 'Ω' } : ohms(was)),
        means: was === null ? '' : 'as before, or the saw was in it',
      },
      ...outputs.map((output, index) => ({
        what: `${index + 1} ${output.label}, strands together`,
        ...ohms(coldOhms(output)),
        means: index === 0 ? 'too high: a strand is broken or not joined' : '',
      })),
    ],
  };
}

/** The record's resistance of the primary at 20 °C, or as it was measured where metal or temperature are not known. */
function primaryCold({ ohms, ohmsCelsius, metal }: WindingFields): number | null {
  if (ohms === undefined) return null;
  return ohmsCelsius === undefined || metal === 'not-known'
    ? ohms.value
    : ohms.value / resistanceFactor(metal, ohmsCelsius);
}

/** Near ends joined, far ends read: common practice, no source. */
function strandRows(
  { version }: BuildSheetParts,
  { feedVolts, voltsPerTurn, newTurns }: SheetFigures,
): readonly Measurement[] {
  return version.fields.outputs.flatMap((output, index) => {
    if (output.wire.strands === 1) return [];
    const perTurn = newTurns === null ? null : (feedVolts / newTurns) * 1000;
    const amps = voltsPerTurn === null ? null : oneTurnAmps(output, voltsPerTurn);
    return [
      {
        what: `${index + 1} ${output.label}: near ends of its ${output.wire.strands} strands joined, between their far ends, each pair`,
        expected: '0',
        unit: 'mV',
        means:
          perTurn === null || amps === null
            ? 'anything else: do not join'
            : `${n(perTurn, 2)} mV is one turn out: joined, about ${n(amps, 2)} A would flow round it at line volts, no load`,
      },
    ];
  });
}

function outputRows(parts: BuildSheetParts, { feedVolts }: SheetFigures): readonly Measurement[] {
  const { outputs, line } = parts.version.fields;
  return outputs.flatMap((output, index) => {
    const volts = feedVolts * ratioOf(output, line.volts);
    return [
      {
        what: `${index + 1} ${output.label}, S${index + 1} to E${index + 1}`,
        expected: n(volts),
        unit: 'V',
        means: `${n(ratioOf(output, line.volts), 4)} of the volts on the primary`,
      },
      ...output.taps.map(({ label, noLoadVolts }) => ({
        what: `S${index + 1} to tap “${label}”`,
        expected: n((feedVolts * noLoadVolts.value) / line.volts),
        unit: 'V',
        means: '',
      })),
      {
        what: `S${index + 1} joined to the start of the primary: across both ends`,
        expected: n(Math.abs(feedVolts - volts)),
        unit: 'V',
        means: `${n(feedVolts + volts)} V: wound the other way round, exchange tags S${index + 1} and E${index + 1}`,
      },
    ];
  });
}

/** Every output with the next in series, so that the one that opposes is seen before they are joined. */
function seriesRows(outputs: readonly PlannedOutput[], feedVolts: number, lineVolts: number): readonly Measurement[] {
  const of = (output: PlannedOutput) => feedVolts * ratioOf(output, lineVolts);
  return outputs.slice(1).flatMap((second, index) => {
    const first = outputs[index];
    if (first === undefined) return [];
    const [one, two] = [of(first), of(second)];
    return [
      {
        what: `E${index + 1} joined to S${index + 2}: S${index + 1} to E${index + 2}`,
        expected: n(one + two),
        unit: 'V',
        means: `${n(Math.abs(one - two))} V: they oppose`,
      },
    ];
  });
}

function addedRows({ version }: BuildSheetParts, { oldTurns, feedVolts }: SheetFigures): readonly Measurement[] {
  const { addedTurns } = version.fields;
  if (addedTurns <= 0) return [];
  const what = 'Feed on the old primary alone: across old and added turns in series';
  if (oldTurns === null) {
    return [{ what, expected: 'more than the feed', unit: 'V', means: 'less than the feed: the added turns oppose' }];
  }
  const across = (turns: number) => (feedVolts * (oldTurns + turns)) / oldTurns;
  return [
    {
      what,
      expected: n(across(addedTurns), 4),
      unit: 'V',
      means: `${n(across(-addedTurns), 4)} V: the added turns oppose`,
    },
  ];
}

function lowVolts(parts: BuildSheetParts, figures: SheetFigures): MeasurementGroup {
  const { outputs, line } = parts.version.fields;
  const unknown = parts.build.windings.filter(
    ({ fields }) => turnsValue(fields.turns) === null && fields.role !== 'primary',
  );
  return {
    title: 'Turns, polarity and strands, at low volts',
    how: `${n(figures.feedVolts)} V a.c., ${line.hertz} Hz, from an isolated source on the primary, never the mains; pins of the plug covered. Another source: in proportion.${
      unknown.length === 0
        ? ''
        : ` The turns of ${unknown.map(({ fields }) => fields.label).join(' and ')} are not known: while that is on the core, treat it as lethal even now.`
    }`,
    rows: [
      { what: 'Primary, the feed itself', expected: n(figures.feedVolts), unit: 'V', means: '' },
      ...addedRows(parts, figures),
      ...outputRows(parts, figures),
      ...seriesRows(outputs, figures.feedVolts, line.volts),
      ...strandRows(parts, figures),
    ],
  };
}

function insulation({ build, version }: BuildSheetParts): MeasurementGroup {
  const { outputs } = version.fields;
  const blank = (what: string, means = ''): Measurement => ({ what, expected: '', unit: 'MΩ', means });
  const bonded = build.windings.filter(({ fields }) => fields.oneEndOnCore === 'yes').map(({ fields }) => fields.label);
  return {
    title: 'Insulation',
    how: 'Tester at the volts that you chose: ______ V; you accept ______ MΩ at least. Meters, rectifiers off. Let it discharge, then join the ends.',
    rows: [
      blank(
        'Primary to core',
        bonded.length === 0
          ? ''
          : `${bonded.join(', ')}: one end is on the core by design; lift it first, or it reads near zero`,
      ),
      ...outputs.flatMap(({ label }, index) => [
        blank(`Primary to ${index + 1} ${label}`, index === 0 ? 'between mains and hand' : ''),
        blank(`${index + 1} ${label} to core`),
        ...(index === 0 ? [] : [blank(`${index} to ${index + 1}`)]),
      ]),
    ],
  };
}

/** Everything to read before the core is closed or the ends are made off. */
export const measurementsOf = (parts: BuildSheetParts, figures: SheetFigures) => ({
  resistance: resistance(parts, figures),
  insulation: insulation(parts),
  lowVolts: lowVolts(parts, figures),
});
