/** Relative doubt of a reading, as its meter states it. */
const amps = (value: number) => ({ value, u: 0.01 * value });
const volts = (value: number) => ({ value, u: 0.003 * value });
const watts = (value: number) => ({ value, u: 0.02 * value });

/** An invented 230 V, 50 Hz core out of a dimmer cabinet: a sweep by a variable transformer, and points with 20 more turns. */
export const excitationExample = {
  primaryTurns: 300,
  points: [
    { volts: volts(92), amps: amps(0.186), watts: watts(8.1) },
    { volts: volts(120.5), amps: amps(0.241), watts: watts(13.6) },
    { volts: volts(150.2), amps: amps(0.318), watts: watts(21.0) },
    { volts: volts(181), amps: amps(0.471), watts: watts(30.9) },
    { volts: volts(200.3), amps: amps(0.681), watts: watts(38.6) },
    { volts: volts(216), amps: amps(1.004), watts: watts(46.3) },
    { volts: volts(230.4), amps: amps(1.51), watts: watts(55.9) },
    { volts: volts(205), amps: amps(0.556), watts: watts(35.6), turns: 320 },
    { volts: volts(229.5), amps: amps(0.997), watts: watts(46.9), turns: 320 },
  ],
  primaryOhms: { value: 2.1, u: 0.02 },
  supplyVolts: 230,
  addedTurns: [0, 10, 20, 40],
  hertz: 50,
  ironAreaMm2: { value: 2080, u: 30 },
  limits: { amps: 0.6, tesla: 1.5 },
};
