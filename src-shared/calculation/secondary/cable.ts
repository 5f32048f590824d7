import { awgDiameterMm } from '../../quantity/awg.ts';

/** Stranded insulated cable: one core, flexible. */
export interface Cable {
  readonly name: string;
  readonly areaMm2: number;
  /** Largest over the insulation. */
  readonly overallMm: number;
  readonly ohmsPerKm20: number;
}

export const iecCableSource =
  'Resistance of flexible cores: IEC 60228, class 5, plain copper; overall diameters: EN 50525-2-31, single core, upper limits; both from memory';

const iec = (areaMm2: number, ohmsPerKm20: number, overallMm: number): Cable => ({
  name: `${areaMm2} mm² cable`,
  areaMm2,
  overallMm,
  ohmsPerKm20,
});

export const iecCables: readonly Cable[] = [
  iec(1.5, 13.3, 3.4),
  iec(2.5, 7.98, 4.1),
  iec(4, 4.95, 4.8),
  iec(6, 3.3, 5.3),
  iec(10, 1.91, 6.8),
  iec(16, 1.21, 8.1),
  iec(25, 0.78, 10.2),
  iec(35, 0.554, 11.7),
  iec(50, 0.386, 13.9),
  iec(70, 0.272, 16),
];

export const usCableSource =
  'Overall diameters of stranded building wire: NEC (NFPA 70), chapter 9, table 5, from memory';

/** Strands lie in a spiral and are that much longer than the cable: common practice, no source. */
export const layOfStrands = 1.02;
const copperOhms = 1000 / 58;
const inch = 25.4;

const us = (awg: number, name: string, overallInch: number): Cable => {
  const areaMm2 = (Math.PI / 4) * awgDiameterMm(awg) ** 2;
  return {
    name: `AWG ${name} cable`,
    areaMm2,
    overallMm: overallInch * inch,
    ohmsPerKm20: (copperOhms / areaMm2) * layOfStrands,
  };
};

export const usCables: readonly Cable[] = [
  us(14, '14', 0.111),
  us(12, '12', 0.13),
  us(10, '10', 0.164),
  us(8, '8', 0.216),
  us(6, '6', 0.254),
  us(4, '4', 0.324),
  us(2, '2', 0.384),
  us(1, '1', 0.446),
  us(0, '1/0', 0.486),
  us(-1, '2/0', 0.532),
];
