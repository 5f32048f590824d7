import * as v from 'valibot';
import { amount, ofObject, oneOf } from './field.ts';
import { couplings, meterUnits } from './unit.ts';

/** What the shape of an accuracy statement can be: equal chance everywhere within it, or two standard deviations. */
const accuracyShapes = ['rectangular', 'normal-k2'] as const;

/**
 * One range of a meter and how far it can be trusted: plus or minus a percentage of the reading plus a number of steps
 * of the last digit. Values are in the base unit, before any scale factor.
 */
export const MeterRange = v.strictObject(
  {
    unit: oneOf('Unit of the range', meterUnits),
    /** Null for a range that knows no coupling (ohms, degrees, hertz). */
    coupling: v.nullable(oneOf('Coupling of the range', couplings)),
    /** The largest value that it shows. */
    top: amount('Top of the range', 1e-12, 1e12),
    /** One step of the last digit. */
    resolution: amount('Resolution', 1e-15, 1e9),
    percentOfReading: amount('Per cent of reading', 0, 100, '%'),
    digits: amount('Digits', 0, 10_000, 'steps of the last digit'),
    shape: oneOf('Shape', accuracyShapes),
  },
  ofObject('Range'),
);
export type MeterRange = v.InferOutput<typeof MeterRange>;

/** Ranges of a meter: each finer than its top, none twice. An index into this list names a range everywhere. */
export const MeterRanges = v.pipe(
  v.array(MeterRange, 'Ranges must be a list.'),
  v.maxLength(60, 'Ranges: at most 60.'),
  v.check(
    (ranges) => ranges.every((range) => range.resolution < range.top),
    'Resolution of a range must be smaller than its top.',
  ),
  v.check(
    (ranges) => new Set(ranges.map((range) => `${range.unit} ${range.coupling} ${range.top}`)).size === ranges.length,
    'Ranges: each unit, coupling and top only once.',
  ),
);

/**
 * A factor between what the meter shows and what is meant: a current transformer, a shunt, a probe. `becomes` is the
 * unit after it. `percent` is the factor's own accuracy, rectangular.
 */
export const Scale = v.strictObject(
  {
    unit: oneOf('Unit of the scale', meterUnits),
    factor: amount('Scale factor', 1e-6, 1e6),
    becomes: oneOf('Unit after the scale', meterUnits),
    percent: amount('Per cent of the scale', 0, 100, '%'),
  },
  ofObject('Scale'),
);
export type Scale = v.InferOutput<typeof Scale>;

export const Scales = v.pipe(
  v.array(Scale, 'Scales must be a list.'),
  v.check((list) => new Set(list.map(({ unit }) => unit)).size === list.length, 'Scales: one for each unit.'),
);
