import type { Coupling } from '../meter/unit.ts';
import type { ProofKind } from './why.ts';

/** What a proof is made with: a meter on locked ranges and known sources, or a two-pole voltage indicator. */
export type ProofInstrument =
  | {
      readonly kind: 'meter';
      readonly meterId: number;
      readonly label: string;
      readonly practice: boolean;
      readonly maxVolts: number | null;
      /** Index of the range locked for each kind, in the meter's description. */
      readonly acRange: number;
      readonly dcRange: number;
      /** What the known sources are declared to give, in V. */
      readonly knownAcVolts: number;
      readonly knownDcVolts: number;
    }
  | {
      readonly kind: 'indicator';
      readonly label: string;
      readonly practice: boolean;
      readonly maxVolts: number | null;
    };

/** Between what the leads are held. */
export type ProofPoint =
  | { readonly kind: 'known1' }
  | { readonly kind: 'pair'; readonly pair: 'L-N' | 'L-core' | 'N-core' }
  | { readonly kind: 'winding'; readonly windingId: number; readonly label: string }
  | { readonly kind: 'known2' };

/** An indicator answers to a.c. and d.c. at once. */
export type ProofCoupling = 'ac' | 'dc' | 'both';

/** One reading of a proof, in the order in which they are taken. */
export interface ProofStep {
  readonly point: ProofPoint;
  readonly coupling: ProofCoupling;
}

/** What the instrument said. */
export type ProofResult =
  | {
      readonly kind: 'volts';
      readonly volts: number;
      readonly coupling: Coupling;
      readonly meterId: number;
      /** Index of the range the meter was on; null when it chose by itself, which is not accepted. */
      readonly range: number | null;
      /** Taken with the meter's low-impedance input or a lamp across, to tell pick-up from a live circuit. */
      readonly lowImpedance: boolean;
    }
  | { readonly kind: 'overload'; readonly meterId: number }
  | { readonly kind: 'lights' }
  | { readonly kind: 'nothing' };

/** A step that was taken, as it was accepted. */
export interface ProofReading extends ProofStep {
  readonly atMs: number;
  readonly result: ProofResult;
  /** A first reading over the threshold that the low-impedance one explained as pick-up, in V. */
  readonly strayVolts: number | null;
}

/** A proof in progress. */
export interface ProofInProgress {
  readonly begunAtMs: number;
  readonly lastAtMs: number;
  readonly by: string;
  readonly instrument: ProofInstrument;
  readonly steps: readonly ProofStep[];
  readonly readings: readonly ProofReading[];
  /** Volts over the threshold and under the ceiling at the next step: to be read again with a low-impedance input. */
  readonly explainVolts: number | null;
}

/** A proof that was made. Whether it still stands is for the guard's state to say. */
export interface LastProof {
  readonly kind: ProofKind;
  readonly by: string;
  readonly practice: boolean;
  readonly provedAtMs: number;
  /** The earliest reading of the circuit: from here it ages. */
  readonly circuitAtMs: number;
  /** How long it was agreed to hold when it was made, in minutes. */
  readonly holdMinutes: number;
  readonly instrument: ProofInstrument | null;
  readonly readings: readonly ProofReading[];
  /** When it ended; null while it stands. */
  readonly endedAtMs: number | null;
}
