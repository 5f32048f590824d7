/** Letters of thermal classes, lowest first; US dry-type practice has other temperatures for some of these letters. */
export const insulationClasses = ['Y', 'A', 'E', 'B', 'F', 'H', 'N', 'R'] as const;

/** Temperature of each class in °C: IEC 60085:2007, Table 1. */
export const classCelsius: Readonly<Record<(typeof insulationClasses)[number], number>> = {
  Y: 90,
  A: 105,
  E: 120,
  B: 130,
  F: 155,
  H: 180,
  N: 200,
  R: 220,
};
