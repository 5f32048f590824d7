import type { MeterRange, Scale } from '../../../src-shared/meter/range.ts';
import { carriesCoupling, type Coupling, type MeterUnit } from '../../../src-shared/meter/unit.ts';
import type { AccuracyBoxes } from './meter-boxes.ts';
import { boxed, typedNumber } from './typed-number.ts';

/** A range of the accuracy table as typed. */
export interface RangeRow {
  readonly id: number;
  unit: MeterUnit;
  coupling: Coupling | 'none';
  top: string;
  resolution: string;
  percent: string;
  digits: string;
  shape: MeterRange['shape'];
}

/** A scale factor as typed. */
interface ScaleRow {
  readonly id: number;
  unit: MeterUnit;
  factor: string;
  becomes: MeterUnit;
  percent: string;
}

const unknownRange: MeterRange = {
  unit: 'V',
  coupling: 'ac',
  top: Number.NaN,
  resolution: Number.NaN,
  percentOfReading: Number.NaN,
  digits: Number.NaN,
  shape: 'rectangular',
};

/** The accuracy table and the scale factors of a meter, as they stand in the form. */
export class AccuracyForm {
  ranges = $state<RangeRow[]>([]);
  scales = $state<ScaleRow[]>([]);
  #nextRow = 1;

  take({ ranges, scales }: { readonly ranges: readonly MeterRange[]; readonly scales: readonly Scale[] }): void {
    this.ranges = ranges.map((range) => this.#row(range));
    this.scales = scales.map((scale) => this.#scaleRow(scale));
  }

  /** A further range: ten times the last one, or an empty one. */
  addRange(): void {
    const last = this.ranges.at(-1);
    const times10 = (text: string): string => (text.trim() === '' ? '' : boxed(typedNumber(text) * 10));
    this.ranges.push(
      last === undefined
        ? this.#row(unknownRange)
        : { ...last, id: this.#nextRow++, top: times10(last.top), resolution: times10(last.resolution) },
    );
  }

  addScale(): void {
    this.scales.push(this.#scaleRow({ unit: 'V', factor: 1000, becomes: 'A', percent: 1 }));
  }

  /** The range that a row amounts to, as far as its texts are numbers; null when one is not. */
  rangeOf(row: RangeRow): MeterRange | null {
    const range = rangeAsTyped(row);
    const isWhole = [range.top, range.resolution, range.percentOfReading, range.digits].every(Number.isFinite);
    return isWhole ? range : null;
  }

  snapshot(): AccuracyBoxes {
    return {
      ranges: this.ranges.map(({ id: _, ...row }) => row),
      scales: this.scales.map(({ id: _, ...row }) => row),
    };
  }

  restore({ ranges, scales }: AccuracyBoxes): void {
    this.ranges = ranges.map((row) => ({ id: this.#nextRow++, ...row }));
    this.scales = scales.map((row) => ({ id: this.#nextRow++, ...row }));
  }

  /** As the description has them; what cannot be read is refused there. */
  gather(): { ranges: MeterRange[]; scales: Scale[] } {
    return {
      ranges: this.ranges.map(rangeAsTyped),
      scales: this.scales.map(({ unit, factor, becomes, percent }) => ({
        unit,
        factor: typedNumber(factor),
        becomes,
        percent: typedNumber(percent),
      })),
    };
  }

  #row({ unit, coupling, top, resolution, percentOfReading, digits, shape }: MeterRange): RangeRow {
    const text = (value: number): string => (Number.isNaN(value) ? '' : boxed(value));
    return {
      id: this.#nextRow++,
      unit,
      coupling: coupling ?? 'none',
      top: text(top),
      resolution: text(resolution),
      percent: text(percentOfReading),
      digits: text(digits),
      shape,
    };
  }

  #scaleRow({ unit, factor, becomes, percent }: Scale): ScaleRow {
    return { id: this.#nextRow++, unit, factor: boxed(factor), becomes, percent: boxed(percent) };
  }
}

const rangeAsTyped = ({ unit, coupling, top, resolution, percent, digits, shape }: RangeRow): MeterRange => ({
  unit,
  coupling: coupling === 'none' || !carriesCoupling(unit) ? null : coupling,
  top: typedNumber(top),
  resolution: typedNumber(resolution),
  percentOfReading: typedNumber(percent),
  digits: typedNumber(digits),
  shape,
});
