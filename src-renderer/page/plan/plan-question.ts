import { handSpacing } from '../../../src-shared/chart/planned-window.ts';
import { calculate } from '../../../src-shared/calculation/calculate.ts';
import type { Answer } from '../../../src-shared/calculation/answer.ts';
import type { ResultsOf } from '../../../src-shared/calculation/table.ts';
import type { OutputKey, PlanKey, PlanNumbers } from './plan-asked.ts';
import type { Leakage, PlanBasis } from './plan-record.ts';
import type { StockWire } from './stock-lines.ts';

export type SecondaryAnswer = Answer<ResultsOf['secondary']>;
type Kind = 'round' | 'cable' | 'strip';

/** What the person chose besides numbers. */
export interface PlanChoices {
  readonly hertz: 50 | 60;
  /** The person's own wire; null: standard sizes. */
  readonly stock: readonly StockWire[] | null;
  readonly standard: 'metric' | 'us' | 'both';
  readonly kinds: readonly Kind[];
  readonly mostStrands: number;
  /** By a short-circuit test kept in the record: its doubt goes with its figure while that stands in the box. */
  readonly leakage: Leakage | null;
  /** What stands in a box that the windings depend on cannot be read. */
  readonly isUnread: boolean;
}

/** Why there is nothing to compute yet, in words; null when everything is there. */
export function notYet(
  { core, turns }: PlanBasis,
  numbers: PlanNumbers,
  { kinds, stock }: Pick<PlanChoices, 'kinds' | 'stock'>,
): string | null {
  if (core.shape === 'toroid') {
    return 'The layers of a ring are not planned here: they get shorter as the hole fills, so that length, resistance, drop and room are not known. What its turns alone tell stands below.';
  }
  if (turns === null) return 'The turns of the primary are not known: every other winding is counted from them.';
  if (core.tongue === undefined || core.stack === undefined) {
    return 'Tongue and stack are not measured: without them no turn has a length, and the flux is not known.';
  }
  if (numbers.windowWidth === undefined || numbers.windowHeight === undefined) {
    return 'Give the free width and height of the window.';
  }
  if (kinds.length === 0) return 'Choose at least one kind of wire.';
  if (stock?.length === 0) return 'Write down your wire, one a line, or choose standard sizes.';
  if (numbers.primaryVolts === undefined) return 'Give the volts on the primary.';
  return null;
}

const given = (key: string, value: unknown) => (value === undefined ? {} : { [key]: value });

/** Where in the window a winding lies, in mm: the room from `innerMm` outwards, and the insulation under it. */
export interface Place {
  readonly innerMm: number;
  readonly widthMm: number;
  readonly baseMm: number;
  readonly clearanceMm: number;
}

/** The free room as `secondary` and `window-fit` both take it. */
export const roomInput = (numbers: PlanNumbers, { innerMm, widthMm, baseMm, clearanceMm }: Place) => ({
  windowWidthMm: widthMm,
  ...given('windowHeightMm', numbers.windowHeight),
  innerMm,
  baseMm,
  ...given('interlayerMm', numbers.interlayer),
  ...given('marginMm', numbers.margin),
  clearanceMm,
  spacing: handSpacing,
});

/** Choices that a table on one screen holds. */
const listed = 10;

/** One output as `secondary` is asked for it. */
export interface OutputQuestion {
  readonly volts: number;
  readonly amps: number;
  readonly powerFactor: number | undefined;
  readonly over50: boolean;
  /** What all other outputs draw through the primary, in A. */
  readonly otherPrimaryAmps: number;
  readonly place: Place;
  /** Part of its room that wire may fill. */
  readonly mostFill: number;
}

/** Two figures that a box shows as the same. */
const isSame = (a: number, b: number): boolean => Math.abs(a - b) <= 1e-3 * b;

const leakageInput = (ohms: number | undefined, measured: Leakage | null) =>
  ohms !== undefined && measured !== null && isSame(ohms, measured.ohms)
    ? { value: measured.ohms, u: measured.u }
    : ohms;

/** What the form and the record ask of `secondary` for one output. */
export function askSecondary(
  { core, primary, turns }: PlanBasis,
  numbers: PlanNumbers,
  chosen: PlanChoices,
  output: OutputQuestion,
): SecondaryAnswer {
  return calculate('secondary', {
    primaryTurns: turns === null ? undefined : { ...turns, value: turns.value + (numbers.added ?? 0) },
    primaryVolts: numbers.primaryVolts,
    hertz: chosen.hertz,
    ...given('primaryOhms', primary?.ohms),
    ...given('primaryOhmsCelsius', primary?.ohms === undefined ? undefined : primary.ohmsCelsius),
    ...given('primaryMetal', primary?.metal === 'not-known' ? undefined : primary?.metal),
    ...given('primaryBareDiameterMm', primary?.bareDiameter),
    ...given('leakageOhms', leakageInput(numbers.leakage, chosen.leakage)),
    loadVolts: output.volts,
    loadAmps: output.amps,
    otherPrimaryAmps: output.otherPrimaryAmps,
    ...given('powerFactor', output.powerFactor),
    ...given('linePercent', numbers.line),
    ...roomInput(numbers, output.place),
    tongueMm: core.tongue,
    stackMm: core.stack,
    ...given('stackingFactor', core.stackingFactor),
    ...given('mostTesla', numbers.tesla),
    ...(chosen.stock === null ? { standard: chosen.standard } : { wires: chosen.stock }),
    kinds: chosen.kinds,
    mostStrands: chosen.mostStrands,
    mostFill: output.mostFill,
    ...given('maxCurrentDensity', numbers.density),
    ...given('celsius', numbers.celsius),
    mostChoices: listed,
    over50Confirmed: output.over50,
  });
}

const boxes: Readonly<Record<string, PlanKey>> = {
  primaryVolts: 'primaryVolts',
  windowWidthMm: 'windowWidth',
  windowHeightMm: 'windowHeight',
  marginMm: 'margin',
  clearanceMm: 'clearance',
  maxCurrentDensity: 'density',
  mostTesla: 'tesla',
  mostFill: 'fill',
  leakageOhms: 'leakage',
  primaryTurns: 'tesla',
};
const outputBoxes: Readonly<Record<string, OutputKey>> = {
  loadVolts: 'loadVolts',
  loadAmps: 'loadAmps',
  powerFactor: 'powerFactor',
};

/** The box that a refusal of the calculation belongs to; null when there is none. */
export const boxOf = (path: string): PlanKey | null => boxes[path] ?? null;
export const outputBoxOf = (path: string): OutputKey | null => outputBoxes[path] ?? null;
