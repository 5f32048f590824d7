import * as v from 'valibot';
import { Correction } from '../../../src-shared/meter/correction.ts';
import { decimalMarks } from '../../../src-shared/meter/decimal-mark.ts';
import { SerialMeter } from '../../../src-shared/meter/description.ts';
import { BareUnit, encodings } from '../../../src-shared/meter/line-format.ts';
import { PortSettings } from '../../../src-shared/meter/port-settings.ts';
import { MeterRange } from '../../../src-shared/meter/range.ts';
import { Sample } from '../../../src-shared/meter/sample.ts';
import { couplings, meterUnits } from '../../../src-shared/meter/unit.ts';

const text = v.string();
const unit = v.picklist(meterUnits);
const coupling = v.picklist([...couplings, 'none']);
const { path: _path, identity: _identity, ...settings } = PortSettings.entries;

const RangeBoxes = v.strictObject({
  unit,
  coupling,
  top: text,
  resolution: text,
  percent: text,
  digits: text,
  shape: MeterRange.entries.shape,
});
const ScaleBoxes = v.strictObject({ unit, factor: text, becomes: unit, percent: text });

/** The boxes for accuracy and scales as a reload brings them back. */
export const AccuracyBoxes = v.strictObject({ ranges: v.array(RangeBoxes), scales: v.array(ScaleBoxes) });
export type AccuracyBoxes = v.InferOutput<typeof AccuracyBoxes>;

/** The boxes for several values on a line. */
export const ValuesBoxes = v.array(
  v.strictObject({
    name: text,
    by: v.picklist(['position', 'label']),
    place: text,
    unit: v.picklist([...meterUnits, 'as-sent']),
    coupling,
  }),
);
export type ValuesBoxes = v.InferOutput<typeof ValuesBoxes>;

/** The boxes for how a meter is brought to send. */
export const TalkBoxes = v.strictObject({
  mode: v.picklist(['listen', 'ask']),
  query: text,
  intervalSeconds: text,
  timeoutSeconds: text,
  opening: text,
  lineEnd: v.picklist(['lf', 'cr', 'crlf']),
});
export type TalkBoxes = v.InferOutput<typeof TalkBoxes>;

/** The boxes of a meter's form as a reload brings them back. */
export const MeterBoxes = v.strictObject({
  label: text,
  kind: v.picklist(['serial', 'keyboard', 'practice']),
  /** The port, and the lasting name of the one that was picked from the list. */
  portPath: text,
  identity: v.nullable(v.strictObject({ path: text, identity: v.nullable(text) })),
  ...settings,
  encoding: v.picklist(encodings),
  decimal: v.picklist(decimalMarks),
  grammar: v.picklist(['generic', 'pattern']),
  pattern: text,
  bareUnit: v.picklist([...meterUnits, 'none']),
  bareCoupling: coupling,
  barePower: BareUnit.entries.powerOfTen.wrapped,
  responding: SerialMeter.entries.responding,
  maxVolts: text,
  category: text,
  crestFactor: text,
  linkIsolated: SerialMeter.entries.linkIsolated,
  interval: text,
  sample: v.nullable(Sample),
  corrections: v.array(Correction),
  reason: text,
  talk: TalkBoxes,
  values: ValuesBoxes,
  accuracy: AccuracyBoxes,
});
export type MeterBoxes = v.InferOutput<typeof MeterBoxes>;
