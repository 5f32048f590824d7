import type * as v from 'valibot';
import { rectangular } from '../quantity/estimate.ts';
import { formatNumber } from '../quantity/format.ts';
import { propagate } from '../quantity/propagate.ts';
import { caution, line, physical, worked, type Caution, type PhysicalResult } from './answer.ts';
import { defineCalculation } from './calculation.ts';
import { conductors, type Metal } from './conductor.ts';
import { group, measured, optional, wholeNumber } from './field.ts';

const input = group({
  ohms: measured({ label: 'Resistance of the winding', unit: 'Ω', above: 0 }),
  celsius: measured({ label: 'Temperature of the winding', unit: '°C', atLeast: -60, atMost: 300 }),
  turns: measured({ label: 'Turns', above: 0 }),
  bareDiameterMm: measured({
    label: 'Bare diameter',
    unit: 'mm',
    above: 0,
    help: 'Film scraped off.',
    isWireSize: true,
  }),
  meanTurnMm: measured({ label: 'Mean length of a turn', unit: 'mm', above: 0 }),
  strands: optional(wholeNumber({ label: 'Strands in hand', atLeast: 1, atMost: 10_000 }), 1),
});
type MetalInput = v.InferOutput<typeof input>;

export interface WindingMetalResults {
  /** At 20 °C. */
  readonly resistivity: PhysicalResult;
  readonly metal: Metal | 'unclear';
}

/** How far below copper, or above aluminium, a winding may come out and still count as that metal. */
const beyond = 1.3;

function metalOf({ value, interval95 }: PhysicalResult): WindingMetalResults['metal'] {
  const [copper, aluminium] = [conductors.copper.resistivity20, conductors.aluminium.resistivity20];
  const between = Math.sqrt(copper * aluminium);
  if (interval95 === null || value < copper / beyond || value > aluminium * beyond) return 'unclear';
  const [low, high] = interval95;
  if (high < between) return 'copper';
  return low > between ? 'aluminium' : 'unclear';
}

function run(given: MetalInput) {
  const { ohms, celsius, turns, bareDiameterMm, meanTurnMm, strands } = given;
  const [high, low] = [conductors.copper.constantCelsius, conductors.aluminium.constantCelsius];
  const constant = rectangular((high + low) / 2, (high - low) / 2);
  const mmPerMetre = 1000;
  const tree = { ohms, celsius, turns, bareDiameterMm, meanTurnMm, constant };
  const area = propagate({ bareDiameterMm }, (each) => (strands * Math.PI * each.bareDiameterMm ** 2) / 4);
  const rho = propagate(tree, (each) => {
    const mm2 = (strands * Math.PI * each.bareDiameterMm ** 2) / 4;
    const metres = (each.turns * each.meanTurnMm) / mmPerMetre;
    return (((each.ohms * mm2) / metres) * (each.constant + 20)) / (each.constant + each.celsius);
  });
  const resistivity = physical('Ω mm²/m', rho);
  const results: WindingMetalResults = { resistivity, metal: metalOf(resistivity) };
  const metres = (turns.value * meanTurnMm.value) / mmPerMetre;
  const warm = (ohms.value * area.value) / metres;
  const n = (value: number) => formatNumber(value, 6);
  const k = n(constant.value);
  const cautions: readonly Caution[] =
    results.metal === 'unclear'
      ? [
          caution(
            'metal-unclear',
            'These figures fit neither metal clearly: look again at diameter, strands, turns and mean turn, or scrape an end.',
          ),
        ]
      : [caution('alloy-not-seen', 'Clad or alloyed wire can come out as either: scrape an end and look.')];
  return worked(
    results,
    [
      line('A', 'π d² / 4 × strands', `π × ${n(bareDiameterMm.value)}² / 4 × ${n(strands)}`, area.value, 'mm²'),
      line('ρ', 'R A / (N l)', `${n(ohms.value)} × ${n(area.value)} / ${n(metres)}`, warm, 'Ω mm²/m'),
      line(
        'ρ20',
        'ρ × (K + 20) / (K + θ)',
        `${n(warm)} × (${k} + 20) / (${k} + ${n(celsius.value)})`,
        rho.value,
        'Ω mm²/m',
      ),
    ],
    cautions,
  );
}

export const windingMetal = defineCalculation({
  name: 'winding-metal',
  title: 'Copper or aluminium, by resistance and size',
  version: 1,
  sources: [conductors.copper.source, conductors.aluminium.source],
  input,
  example: {
    ohms: { value: 0.42, u: 0.01 },
    celsius: 21,
    turns: { value: 120, u: 0.5 },
    bareDiameterMm: { value: 1.45, u: 0.01 },
    meanTurnMm: { value: 330, u: 8 },
    strands: 1,
  },
  run,
});
