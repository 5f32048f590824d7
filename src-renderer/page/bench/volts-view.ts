import type { BenchFacts, WindingFacts } from '../../../src-shared/interlock/bench.ts';
import { cautionText } from '../../../src-shared/interlock/cautions.ts';
import { figure } from '../../../src-shared/interlock/words.ts';

/** One line of the table of what stands at what while power is on. */
interface VoltsRow {
  readonly id: string;
  readonly label: string;
  /** Null: not known, to be treated as lethal. */
  readonly volts: number | null;
  readonly isFed: boolean;
  /** Over the bound up to which touching counts as harmless when dry. */
  readonly isHigh: boolean;
  readonly caution: string | null;
}

const cautionOf = (winding: WindingFacts, isFed: boolean, fedVolts: number): string | null => {
  if (winding.volts === null) return cautionText('c-unknown', {});
  if (winding.oneEndOnCore === 'yes') return cautionText('c-core', {});
  return isFed || winding.volts <= fedVolts
    ? null
    : cautionText('c-step', { source: figure(fedVolts), v: figure(winding.volts), winding: winding.label });
};

/** Every winding and the plug with their volts, the highest and the unknown first. */
export function voltsRows(bench: BenchFacts, touchVolts: number): readonly VoltsRow[] {
  const fedVolts = bench.supply.volts;
  const windings = bench.windings.map((winding): VoltsRow => {
    const isFed = winding.windingId === bench.fedWindingId;
    return {
      id: `winding-${winding.windingId}`,
      label: winding.label,
      volts: winding.volts,
      isFed,
      isHigh: winding.volts === null || winding.volts > touchVolts,
      caution: cautionOf(winding, isFed, fedVolts),
    };
  });
  const plug: readonly VoltsRow[] =
    bench.plug.kind === 'none'
      ? []
      : [
          {
            id: 'plug',
            label: 'Plug pins',
            volts: bench.plug.kind === 'volts' ? bench.plug.volts : null,
            isFed: false,
            isHigh: bench.plug.kind === 'unknown' || bench.plug.volts > touchVolts,
            caution:
              bench.plug.kind === 'volts'
                ? cautionText('c-pins', { v: figure(bench.plug.volts) })
                : cautionText('c-unknown', {}),
          },
        ];
  return [...windings, ...plug].sort((a, b) => (b.volts ?? Infinity) - (a.volts ?? Infinity));
}

/**
 * The highest source volts that keep every known winding and the plug at or under the bound, in V, rounded down to a
 * tenth; null when nothing is known. Volts go in proportion to the source.
 */
export function highestSourceVolts(bench: BenchFacts, touchVolts: number): number | null {
  const fed = bench.supply.volts;
  const known = [
    ...bench.windings.flatMap(({ volts }) => (volts === null ? [] : [volts])),
    ...(bench.plug.kind === 'volts' ? [bench.plug.volts] : []),
    fed,
  ];
  const highest = Math.max(...known);
  return highest > 0 ? Math.floor(((fed * touchVolts) / highest) * 10 + 1e-9) / 10 : null;
}
