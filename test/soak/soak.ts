/** Something run long and at random: throws when it finds a fault, returns a line about what it did otherwise. */
export interface Soak {
  readonly name: string;
  readonly run: (settings: SoakSettings) => Promise<string>;
}

export interface SoakSettings {
  /** The same seed gives the same inputs. */
  readonly seed: number;
  /** True when all soaks together should take about two minutes. */
  readonly isShort: boolean;
}
