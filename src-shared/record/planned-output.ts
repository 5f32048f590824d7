import * as v from 'valibot';
import { between, words } from './field.ts';

const mm = (field: string) => between(0, 2000, field);
const turns = (field: string) =>
  v.pipe(between(0.5, 100_000, field), v.multipleOf(0.5, `${field} must be whole or half turns.`));

/** A figure that was worked out; `u` is its standard uncertainty, null when nobody can say. */
export const Predicted = v.strictObject({ value: v.pipe(v.number(), v.finite()), u: v.nullable(v.number()) });
export type Predicted = v.InferOutput<typeof Predicted>;

const bunch = {
  /** The standard size, such as `1.25 mm` or `AWG 14`. */
  name: words('Wire', 60),
  /** Strands in hand, and how many of them lie one above the other. */
  strands: v.pipe(between(1, 100, 'Strands'), v.safeInteger()),
  strandsDeep: v.pipe(between(1, 20, 'Strands deep'), v.safeInteger()),
};

/** The wire of an output. Lengths in mm; `overall` ones include the insulation. */
const PlannedWire = v.variant('kind', [
  v.strictObject({
    kind: v.literal('round'),
    ...bunch,
    bareDiameterMm: mm('Bare diameter'),
    overallMm: mm('Overall diameter'),
  }),
  v.strictObject({
    kind: v.literal('cable'),
    ...bunch,
    areaMm2: between(0, 10_000, 'Area of the cable'),
    overallMm: mm('Overall diameter'),
  }),
  v.strictObject({
    kind: v.literal('strip'),
    ...bunch,
    widthMm: mm('Strip width'),
    thicknessMm: mm('Strip thickness'),
    overallWidthMm: mm('Overall width'),
    overallThicknessMm: mm('Overall thickness'),
  }),
]);
export type PlannedWire = v.InferOutput<typeof PlannedWire>;

/** A lead taken out between the ends of an output. */
const PlannedTap = v.strictObject({
  label: words('Tap label', 40),
  /** Turns from the beginning of the output to the tap. */
  turns: turns('Turns to the tap'),
  noLoadVolts: Predicted,
});

/** One layer, from the limb outwards. */
const PlannedLayer = v.strictObject({
  turns: turns('Turns of a layer'),
  /** From the limb to the inside of the layer, and how high it is. */
  fromMm: mm('Place of a layer'),
  depthMm: mm('Height of a layer'),
});

/** One output as it is to be wound. Lengths in mm, mass in kg. */
export const PlannedOutput = v.strictObject({
  /** Stays the same from version to version: what the tally counts by. */
  key: words('Key of the output', 20),
  label: words('Label of the output', 60),
  loadVolts: between(0.01, 1000, 'Load volts'),
  loadAmps: between(0.001, 10_000, 'Load amps'),
  powerFactor: between(0.05, 1, 'Power factor'),
  turns: turns('Turns'),
  taps: v.pipe(v.array(PlannedTap), v.maxLength(12, 'An output holds at most 12 taps.')),
  wire: PlannedWire,
  layers: v.pipe(v.array(PlannedLayer), v.minLength(1)),
  /** Insulation under the first layer, between layers, and at each end of every layer. */
  baseMm: mm('Base'),
  interlayerMm: mm('Interlayer'),
  marginMm: mm('Margin'),
  /** Cut so much for each strand, leads included. */
  lengthMm: between(0, 1e7, 'Length to cut'),
  copperKg: between(0, 1000, 'Mass of the wire'),
  predicted: v.strictObject({
    noLoadVolts: Predicted,
    loadVolts: Predicted,
    /** At `celsius`. */
    ohms: Predicted,
    celsius: between(-30, 250, 'Temperature'),
    lossWatts: Predicted,
    /** In A/mm². */
    currentDensity: Predicted,
  }),
});
export type PlannedOutput = v.InferOutput<typeof PlannedOutput>;
