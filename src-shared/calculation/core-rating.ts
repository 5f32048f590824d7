import type * as v from 'valibot';
import type { Propagated } from '../quantity/combine.ts';
import { exact, rectangular } from '../quantity/estimate.ts';
import { formatNumber } from '../quantity/format.ts';
import { propagate } from '../quantity/propagate.ts';
import { caution, line, physical, refuse, withoutUncertainty, worked } from './answer.ts';
import type { Caution, PhysicalResult, WorkingLine } from './answer.ts';
import { defineCalculation } from './calculation.ts';
import { choice, group, measured, optional } from './field.ts';
import { emfConstant, longRunTesla } from './flux-density.ts';
import { ironFields, ironOf, netArea, netAreaText } from './iron.ts';

const { tongueMm, stackMm, stackingFactor } = ironFields;

const input = group({
  massKg: optional(
    measured({
      label: 'Mass of the complete transformer',
      unit: 'kg',
      above: 0,
      help: 'As pulled, both windings on: a stripped core misleads by 10 to 25 %.',
    }),
  ),
  tongueMm,
  stackMm,
  stackingFactor,
  windowWidthMm: optional(measured({ label: 'Width of one window', unit: 'mm', above: 0 })),
  windowHeightMm: optional(measured({ label: 'Height of one window', unit: 'mm', above: 0 })),
  kind: optional(
    choice(['welded-appliance', 'other'], {
      label: 'Kind of core',
      help: 'The rule by mass is one for the welded kind out of appliances.',
    }),
    'welded-appliance',
  ),
  hertz: optional(
    measured({ label: 'Hertz', unit: 'Hz', above: 0, help: 'With iron and window: the power by the area product.' }),
  ),
  peakTesla: optional(
    measured({
      label: 'Flux to run it at',
      unit: 'T',
      above: 0,
      help: 'Left out: 1.4 T, for long runs in unknown steel.',
    }),
  ),
  currentDensity: optional(
    measured({
      label: 'Current density to wind for',
      unit: 'A/mm²',
      above: 0,
      help: 'Left out: 3.5 A/mm², for hours.',
    }),
  ),
  copperFill: optional(
    measured({
      label: 'Copper in the window',
      above: 0,
      atMost: 1,
      help: 'Metal alone, of both windings. Left out: 0.3 to 0.4, wound by hand.',
    }),
  ),
});
type CoreInput = v.InferOutput<typeof input>;

export interface CoreRatingResults {
  /** For minutes, not hours; null where no rule holds. Its uncertainty is not known. */
  readonly shortTermPower: PhysicalResult | null;
  /** Where the rule was seen to hold, in W. */
  readonly shortTermPowerRange: readonly [number, number] | null;
  /** Net iron area times the area of one window. */
  readonly areaProduct?: PhysicalResult;
  /** Of the load, in VA: what iron and window give at that flux and current density, half of the copper in each winding. */
  readonly areaProductPower?: PhysicalResult;
  /** Net iron area of the middle limb. */
  readonly ironArea?: PhysicalResult;
  /** Of one window; on a shell core every turn goes through each of the two windows once. */
  readonly windowArea?: PhysicalResult;
  /** Of a winding that fills the window, round the tongue. */
  readonly meanTurnLength?: PhysicalResult;
}

/** Common practice, no source: 100 W per pound, seen from about 500 to 1500 W. */
const wattsPerKg = 220;
const seenFrom = 500;
const seenTo = 1500;

const n = (value: number) => formatNumber(value, 6);

/** Copper alone over the window when wound by hand: McLyman, from memory. */
const handFill = rectangular(0.35, 0.05);
/** A/mm², for hours: common practice, no source. */
const hoursDensity = exact(3.5);

type Part = Pick<CoreRatingResults, 'areaProduct' | 'areaProductPower' | 'ironArea' | 'windowArea' | 'meanTurnLength'>;
interface Shaped {
  readonly ok: true;
  readonly results: Part;
  readonly working: readonly WorkingLine[];
  readonly cautions: readonly Caution[];
}

/** What the dimensions alone tell. */
function byDimensions(given: CoreInput): Shaped | ReturnType<typeof refuse> {
  const { tongueMm: tongue, stackMm: stack, windowWidthMm: width, windowHeightMm: height } = given;
  const cross =
    tongue === undefined && stack === undefined && given.stackingFactor === undefined ? null : ironOf(given);
  if (cross !== null && !cross.ok) return cross;
  if (width === undefined && height !== undefined)
    return refuse('missing-key', 'The height needs the width.', 'windowWidthMm');
  if (height === undefined && width !== undefined)
    return refuse('missing-key', 'The width needs the height.', 'windowHeightMm');

  const iron = cross === null ? null : propagate(cross.factors, netArea);
  const window = width === undefined || height === undefined ? null : { windowWidthMm: width, windowHeightMm: height };
  const windowArea = window === null ? null : propagate(window, (each) => each.windowWidthMm * each.windowHeightMm);
  const product =
    cross === null || window === null
      ? null
      : propagate(
          { ...cross.factors, ...window },
          (each) => (netArea(each) * each.windowWidthMm * each.windowHeightMm) / 1e4,
        );
  // Volts per turn √2 π f B A_Fe, ampere-turns k W J / 2: their product, whatever the turns.
  const winding = {
    hertz: given.hertz ?? exact(NaN),
    peakTesla: given.peakTesla ?? exact(longRunTesla),
    currentDensity: given.currentDensity ?? hoursDensity,
    copperFill: given.copperFill ?? handFill,
  };
  const power =
    cross === null || window === null || given.hertz === undefined
      ? null
      : propagate(
          { ...cross.factors, ...window, ...winding },
          (each) =>
            (emfConstant / 2 / 1e6) *
            (each.hertz * each.peakTesla * netArea(each)) *
            (each.currentDensity * each.copperFill * each.windowWidthMm * each.windowHeightMm),
        );
  // Straight along tongue and stack, and a quarter circle of half the window's width round each corner.
  const meanTurn =
    tongue === undefined || stack === undefined || window === null
      ? null
      : propagate(
          { tongueMm: tongue, stackMm: stack, ...window },
          (each) => 2 * (each.tongueMm + each.stackMm) + Math.PI * each.windowWidthMm,
        );
  const shown: readonly [keyof Part, string, string, string, string, Propagated | null][] = [
    ['ironArea', 'A_Fe', 'tongue × stack × factor', 'mm²', cross === null ? '' : netAreaText(cross.factors), iron],
    [
      'windowArea',
      'W',
      'width × height',
      'mm²',
      window === null ? '' : `${n(window.windowWidthMm.value)} × ${n(window.windowHeightMm.value)}`,
      windowArea,
    ],
    [
      'areaProduct',
      'A_Fe W',
      'A_Fe × W',
      'cm⁴',
      `${n(iron?.value ?? 0)} × ${n(windowArea?.value ?? 0)} / 10^4`,
      product,
    ],
    [
      'areaProductPower',
      'S',
      '(π / √2) f B A_Fe × k W J',
      'VA',
      `2.22144 × ${n(winding.hertz.value)} × ${n(winding.peakTesla.value)} × ${n(iron?.value ?? 0)}e-6 × ${n(winding.copperFill.value)} × ${n(windowArea?.value ?? 0)} × ${n(winding.currentDensity.value)}`,
      power,
    ],
    [
      'meanTurnLength',
      'l',
      '2 (tongue + stack) + π × width',
      'mm',
      `2 (${n(tongue?.value ?? 0)} + ${n(stack?.value ?? 0)}) + π × ${n(width?.value ?? 0)}`,
      meanTurn,
    ],
  ];
  const known = shown.flatMap(([key, symbol, formula, unit, numbers, found]) =>
    found === null ? [] : [{ key, unit, found, line: line(symbol, formula, numbers, found.value, unit) }],
  );
  return {
    ok: true,
    results: Object.fromEntries(known.map(({ key, unit, found }) => [key, physical(unit, found)])),
    working: known.map((each) => each.line),
    cautions: [
      ...(cross === null ? [] : cross.cautions),
      ...(power === null
        ? []
        : [
            caution(
              'area-product',
              'The power by the area product counts neither heat nor drop: larger cores lose their heat less well, so it flatters them.',
            ),
          ]),
    ],
  };
}

function powerCautions(watts: number): readonly Caution[] {
  const rule = caution(
    'rule-of-thumb',
    'About 220 W per kg (100 W per pound) by common practice, no source: for minutes, not hours, and only with the mass as pulled. Its uncertainty is not known.',
  );
  const outside = caution('outside-rule', `The rule was seen from about ${seenFrom} to ${seenTo} W; this is outside.`);
  return watts < seenFrom || watts > seenTo ? [rule, outside] : [rule];
}

function run(given: CoreInput) {
  const { massKg, kind } = given;
  const shaped = byDimensions(given);
  if (!shaped.ok) return shaped;
  if (massKg === undefined && shaped.working.length === 0) {
    return refuse('missing-key', 'Give the mass, or dimensions of the stack or the window.', 'massKg');
  }
  const watts = massKg !== undefined && kind === 'welded-appliance' ? massKg.value * wattsPerKg : null;
  const results: CoreRatingResults = {
    shortTermPower: watts === null ? null : withoutUncertainty('W', watts),
    shortTermPowerRange: watts === null ? null : [seenFrom, seenTo],
    ...shaped.results,
  };
  const power = watts === null ? [] : [line('P', '220 W/kg × m', `220 × ${n(massKg?.value ?? 0)}`, watts, 'W')];
  const noRule = caution(
    'no-power-rule',
    'Without the mass of a welded appliance core there is no rule for the power.',
  );
  const cautions = watts === null ? [noRule] : powerCautions(watts);
  return worked(results, [...power, ...shaped.working], [...cautions, ...shaped.cautions]);
}

export const coreRating = defineCalculation({
  name: 'core-rating',
  title: 'What a core is good for',
  version: 1,
  sources: [
    'Short-term power from the mass: common practice, no source',
    'Areas and mean turn: geometry of a shell core',
    'Power by the area product: W. T. McLyman, Transformer and Inductor Design Handbook, from memory; it follows from E = √2 π f N Φ',
  ],
  input,
  example: { massKg: 5.4, tongueMm: 38, stackMm: 65, windowWidthMm: 24, windowHeightMm: 62, hertz: 60 },
  run,
});
