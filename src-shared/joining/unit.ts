import type { MeasuredInput } from '../calculation/field.ts';

/** A quantity as typed: the value with its standard uncertainty, null when nobody said. */
export interface Known {
  readonly value: number;
  readonly u: number | null;
}

/** One transformer, or one core of a double stack, that is to be joined to others; null is not known. */
export interface JoinUnit {
  readonly name: string;
  /** Of the secondary with no load, on the volts that this unit gets. */
  readonly openVolts: Known | null;
  /** Of the secondary with the primary's referred to it, in Ω. */
  readonly ohms: Known | null;
  readonly reactance: number | null;
  readonly ratedAmps: number | null;
  readonly primaryTurns: Known | null;
  readonly primaryOhms: Known | null;
}

/** What is joined, to what. */
export interface Joint {
  readonly units: readonly JoinUnit[];
  /** Of the supply as a whole. */
  readonly supplyVolts: number;
  /** Of the low source for the tests before joining. */
  readonly testVolts: number;
  readonly loadAmps: number | null;
  /** Of a double stack: on the volts of one core alone, or on twice that. */
  readonly stackSupply: 'same' | 'double';
  /** Window and mass of one core of a double stack. */
  readonly stackCore: { readonly windowWidthMm: MeasuredInput; readonly windowHeightMm: MeasuredInput } | null;
}
