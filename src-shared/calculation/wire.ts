import type * as v from 'valibot';
import { awgDiameterMm, awgName, awgNumber, awgOfDiameterMm, thickestAwg, thinnestAwg } from '../quantity/awg.ts';
import { formatNumber } from '../quantity/format.ts';
import { propagate } from '../quantity/propagate.ts';
import type { Values } from '../quantity/sources.ts';
import { caution, line, physical, refuse, worked, type Caution, type PhysicalResult, type Refusal } from './answer.ts';
import { defineCalculation } from './calculation.ts';
import { conductors, metals, resistanceFactor } from './conductor.ts';
import { choice, group, measured, optional, wholeNumberOrName } from './field.ts';
import { filmedWire, films, filmWords, type FilmedWire } from './film.ts';
import { iecFilmSource } from './film-iec.ts';
import { nemaFilmSource } from './film-nema.ts';

const input = group({
  awg: optional(
    wholeNumberOrName(['1/0', '2/0', '3/0', '4/0'], {
      label: 'Gauge (AWG)',
      help: 'Give one of gauge, diameter, area or circular mils.',
      atLeast: thickestAwg,
      atMost: thinnestAwg,
    }),
  ),
  diameterMm: optional(measured({ label: 'Bare diameter', unit: 'mm', above: 0, atMost: 100 })),
  areaMm2: optional(measured({ label: 'Bare area', unit: 'mm²', above: 0, atMost: 10_000 })),
  circularMils: optional(measured({ label: 'Bare area in circular mils', unit: 'cmil', above: 0, atMost: 1e8 })),
  celsius: optional(measured({ label: 'Temperature', unit: '°C', atLeast: -60, atMost: 300 }), 20),
  metal: optional(choice(metals, { label: 'Metal' }), 'copper'),
  film: optional(choice(films, { label: 'Film', words: filmWords })),
  overallDiameterMm: optional(measured({ label: 'Overall diameter, as measured', unit: 'mm', above: 0, atMost: 100 })),
});
type WireInput = v.InferOutput<typeof input>;

export interface WireResults {
  readonly bareDiameter: PhysicalResult;
  readonly area: PhysicalResult;
  readonly circularMils: PhysicalResult;
  readonly ohmsPerKm: PhysicalResult;
  /** The metal alone, without film. */
  readonly kgPerKm: PhysicalResult;
  /** As measured, or the largest that the film's standard allows. */
  readonly overallDiameter?: PhysicalResult;
  /** The least that the film's standard allows. */
  readonly leastOverallDiameter?: PhysicalResult;
  /** By how much the conductor's diameter may be off by its standard, to each side. */
  readonly diameterTolerance?: PhysicalResult;
  /** A number, or `1/0` to `4/0`. */
  readonly nearestAwg: number | string;
}

const mil = 0.0254;
const sizes = ['awg', 'diameterMm', 'areaMm2', 'circularMils'] as const;

type Size = Pick<WireInput, 'diameterMm' | 'areaMm2' | 'circularMils'> & { readonly gaugeMm?: number };

/** The one thing that tells the size, under its own key; refused when there are several, or none. */
function sizeOf(given: WireInput): { readonly ok: true; readonly size: Size } | Refusal {
  const named = sizes.filter((key) => given[key] !== undefined);
  if (named.length > 1) return refuse('conflict', `Give only one of ${named.join(', ')}.`, named[1]);
  if (named.length < 1) return refuse('missing-key', `Give one of ${sizes.join(', ')}.`, 'diameterMm');
  const { awg, diameterMm, areaMm2, circularMils } = given;
  const size = {
    ...(awg === undefined ? {} : { gaugeMm: awgDiameterMm(awgNumber(awg)) }),
    ...(diameterMm === undefined ? {} : { diameterMm }),
    ...(areaMm2 === undefined ? {} : { areaMm2 }),
    ...(circularMils === undefined ? {} : { circularMils }),
  };
  return { ok: true, size };
}

/** Bare diameter in mm by whichever size is there. */
function diameterOf({ gaugeMm, diameterMm, areaMm2, circularMils }: Values<Size>): number {
  if (areaMm2 !== undefined) return Math.sqrt((4 * areaMm2) / Math.PI);
  if (circularMils !== undefined) return mil * Math.sqrt(circularMils);
  return diameterMm ?? gaugeMm ?? NaN;
}
const areaOf = (size: Values<Size>): number => (Math.PI / 4) * diameterOf(size) ** 2;

const fixed = (unit: string, value: number) =>
  physical(
    unit,
    propagate({}, () => value),
  );

function overallOf(given: WireInput, filmed: FilmedWire | null): Partial<WireResults> {
  const { overallDiameterMm } = given;
  if (overallDiameterMm !== undefined) {
    return {
      overallDiameter: physical(
        'mm',
        propagate({ overallDiameterMm }, (each) => each.overallDiameterMm),
      ),
    };
  }
  if (filmed === null) return {};
  const { largestOverallMm, leastOverallMm, diameterToleranceMm } = filmed;
  return {
    ...(largestOverallMm === null ? {} : { overallDiameter: fixed('mm', largestOverallMm) }),
    ...(leastOverallMm === null ? {} : { leastOverallDiameter: fixed('mm', leastOverallMm) }),
    ...(diameterToleranceMm === null ? {} : { diameterTolerance: fixed('mm', diameterToleranceMm) }),
  };
}

function filmCautions(given: WireInput, filmed: FilmedWire | null): readonly Caution[] {
  if (given.film === undefined) return [];
  if (filmed === null) {
    return [caution('not-in-film-table', 'This size is not in the table of the film: measure the overall diameter.')];
  }
  if (filmed.largestOverallMm === null) {
    return [
      caution('no-largest-overall', 'The largest overall diameter of this size is not in our table: measure it.'),
    ];
  }
  return filmed.isConfirmed
    ? []
    : [caution('film-table-unconfirmed', 'This row of the film table is from memory: measure before you rely on it.')];
}

function run(given: WireInput) {
  const found = sizeOf(given);
  if (!found.ok) return found;
  const { celsius, metal, film, overallDiameterMm } = given;
  const tree = { ...found.size, celsius };
  const { resistivity20, density } = conductors[metal];

  const diameter = propagate(tree, diameterOf);
  const area = propagate(tree, areaOf);
  const ohms = propagate(
    tree,
    (each) => ((1000 * resistivity20) / areaOf(each)) * resistanceFactor(metal, each.celsius),
  );
  if (overallDiameterMm !== undefined && overallDiameterMm.value < diameter.value) {
    return refuse('conflict', 'The overall diameter is smaller than the bare one.', 'overallDiameterMm');
  }
  const filmed = film === undefined ? null : filmedWire(film, diameter.value);
  const nearest = Math.min(thinnestAwg, Math.max(thickestAwg, Math.round(awgOfDiameterMm(diameter.value))));
  const results: WireResults = {
    bareDiameter: physical('mm', diameter),
    area: physical('mm²', area),
    circularMils: physical(
      'cmil',
      propagate(tree, (each) => (diameterOf(each) / mil) ** 2),
    ),
    ohmsPerKm: physical('Ω/km', ohms),
    kgPerKm: physical(
      'kg/km',
      propagate(tree, (each) => areaOf(each) * density),
    ),
    ...overallOf(given, filmed),
    nearestAwg: nearest > 0 ? nearest : awgName(nearest),
  };
  return worked(results, working(given, diameter.value, area.value, ohms.value), filmCautions(given, filmed));
}

function working({ awg, celsius, metal }: WireInput, diameter: number, area: number, ohms: number) {
  const n = (value: number) => formatNumber(value, 6);
  const { resistivity20, constantCelsius, density } = conductors[metal];
  const temperatures = `(${constantCelsius} + ${n(celsius.value)}) / (${constantCelsius} + 20)`;
  return [
    ...(awg === undefined
      ? []
      : [line('d', '0.127 × 92^((36 - n) / 39)', `0.127 × 92^((36 - ${awgNumber(awg)}) / 39)`, diameter, 'mm')]),
    line('A', 'π d² / 4', `π × ${n(diameter)}² / 4`, area, 'mm²'),
    line(
      'R',
      '1000 ρ20 / A × (K + θ) / (K + 20)',
      `1000 × ${n(resistivity20)} / ${n(area)} × ${temperatures}`,
      ohms,
      'Ω/km',
    ),
    line('m', 'A × density', `${n(area)} × ${density}`, area * density, 'kg/km'),
  ];
}

export const wire = defineCalculation({
  name: 'wire',
  title: 'A round wire: size, resistance, mass',
  version: 1,
  sources: [
    'AWG: ASTM B258, from the unrounded diameter',
    conductors.copper.source,
    conductors.aluminium.source,
    iecFilmSource,
    nemaFilmSource,
  ],
  input,
  example: {
    diameterMm: { value: 2, u: 0.01, shape: 'rectangular' },
    celsius: 75,
    metal: 'copper',
    film: 'iec-grade-2',
  },
  run,
});
