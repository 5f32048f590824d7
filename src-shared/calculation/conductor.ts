import { exact, rectangular, type Estimate } from '../quantity/estimate.ts';

/** What a conductor metal is like, as far as windings go. */
export interface Conductor {
  /** Resistivity at 20 °C in Ω mm²/m. */
  readonly resistivity20: number;
  /** Resistance goes as this constant plus the temperature in °C. */
  readonly constantCelsius: number;
  /** kg/dm³, which is also kg/km for 1 mm². */
  readonly density: number;
  /** Heat capacity of a volume, in J/(mm³ K). */
  readonly volumeHeatCapacity: number;
  readonly source: string;
}

export const metals = ['copper', 'aluminium'] as const;
export type Metal = (typeof metals)[number];

/**
 * The metals that windings are made of. Never take one silently for a winding that was found: aluminium is common in cheap
 * appliance transformers.
 */
export const conductors: Readonly<Record<Metal, Conductor>> = {
  copper: {
    resistivity20: 1 / 58,
    constantCelsius: 234.5,
    density: 8.89,
    volumeHeatCapacity: 3.45e-3,
    source:
      'Annealed copper: IEC 60028 (1925), 58 MS/m and 8.89 kg/dm³; 234.5: IEC 60076-2:2011; heat capacity: IEC 60949, from memory',
  },
  aluminium: {
    resistivity20: 0.028264,
    constantCelsius: 225,
    density: 2.703,
    volumeHeatCapacity: 2.43e-3,
    source:
      'Aluminium: IEC 60889, 0.028264 Ω mm²/m and 2.703 kg/dm³, from memory; 225: IEC 60076-2:2011; heat capacity: IEC 60949, from memory',
  },
};

/** Resistance at `celsius` over that at 20 °C (IEC 60076-2:2011). */
export const resistanceFactor = (metal: Metal, celsius: number): number => {
  const { constantCelsius } = conductors[metal];
  return (constantCelsius + celsius) / (constantCelsius + 20);
};

/** The constant of the metal; where nobody knows which, somewhere between the two. */
export function temperatureConstant(metal: Metal | undefined): Estimate {
  if (metal !== undefined) return exact(conductors[metal].constantCelsius);
  const [high, low] = [conductors.copper.constantCelsius, conductors.aluminium.constantCelsius];
  return rectangular((high + low) / 2, (high - low) / 2);
}
