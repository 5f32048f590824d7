import type { LineValue } from '../../../src-shared/meter/line-format.ts';
import { carriesCoupling, type Coupling, type MeterUnit } from '../../../src-shared/meter/unit.ts';
import type { ValuesBoxes } from './meter-boxes.ts';

/** One of several values on a line, as typed. */
interface ValueRow {
  readonly id: number;
  name: string;
  by: 'position' | 'label';
  /** Its place, counted from 1 as a person does, or its label. */
  place: string;
  unit: MeterUnit | 'as-sent';
  coupling: Coupling | 'none';
}

/** What stands on a line of several values, as it stands in the form. Without rows a line has one value. */
export class ValuesForm {
  rows = $state<ValueRow[]>([]);
  #nextRow = 1;

  take(values: readonly LineValue[]): void {
    this.rows = values.map(({ name, from, unit, coupling }) => ({
      id: this.#nextRow++,
      name,
      by: from.by,
      place: from.by === 'position' ? String(from.position + 1) : from.label,
      unit: unit ?? 'as-sent',
      coupling: coupling ?? 'none',
    }));
  }

  add(): void {
    const place = String(this.rows.length + 1);
    this.rows.push({
      id: this.#nextRow++,
      name: `Value ${place}`,
      by: 'position',
      place,
      unit: 'as-sent',
      coupling: 'none',
    });
  }

  remove(id: number): void {
    this.rows = this.rows.filter((row) => row.id !== id);
  }

  snapshot(): ValuesBoxes {
    return this.rows.map(({ name, by, place, unit, coupling }) => ({ name, by, place, unit, coupling }));
  }

  restore(boxes: ValuesBoxes): void {
    this.rows = boxes.map((row) => ({ id: this.#nextRow++, ...row }));
  }

  /** As the description has them; what cannot be read is refused there. */
  gather(): object[] {
    return this.rows.map(({ name, by, place, unit, coupling }) => ({
      name,
      from:
        by === 'label'
          ? { by, label: place }
          : { by, position: /^\d+$/.test(place.trim()) ? Number(place) - 1 : Number.NaN },
      unit: unit === 'as-sent' ? null : unit,
      coupling: unit === 'as-sent' || coupling === 'none' || !carriesCoupling(unit) ? null : coupling,
    }));
  }
}
