import { resistanceFactor, type Metal } from '../calculation/conductor.ts';
import type { Heating } from './heating.ts';
import type { Iron } from './iron.ts';

/** A winding with its hidden truth. */
export interface PracticeWinding {
  readonly id: string;
  readonly label: string;
  readonly role: 'primary' | 'secondary' | 'test-coil' | 'other';
  /** Passes through the window; a lead that leaves on the far side makes a half. */
  readonly turns: number;
  readonly metal: Metal;
  /** In Ω at 20 °C. */
  readonly ohms20: number;
  /** Leakage of its own, in H. */
  readonly henries: number;
  /** One of its ends is joined to the core. */
  readonly endOnCore: boolean;
}

/** A simulated transformer: everything that a real one hides. */
export interface PracticeTransformer {
  readonly iron: Iron;
  readonly windings: readonly PracticeWinding[];
  readonly heating: Heating;
  /** Magnetic shunts between the windings: how many times the fed winding's leakage they make; 1 without any. */
  readonly shuntFactor: number;
  /** A test coil sits on the far side of the shunts, where their flux does not pass. */
  readonly coilBeyondShunts: boolean;
}

/** Resistance of a winding at a temperature, in Ω. */
export const ohmsAt = ({ metal, ohms20 }: PracticeWinding, celsius: number): number =>
  ohms20 * resistanceFactor(metal, celsius);
