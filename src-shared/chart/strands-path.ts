/** A place in a section through a window, in mm: x from the limb outwards, y down from the top. */
export interface Place {
  readonly x: number;
  readonly y: number;
}

/** Strands of one layer as one path: circles, or rectangles for strip. `along` the limb and `out` from it. */
export function strandsPath(
  middles: readonly Place[],
  kind: 'round' | 'cable' | 'strip',
  along: number,
  out: number,
): string {
  const n = (value: number) => Number(value.toFixed(4));
  return middles
    .map(({ x, y }) =>
      kind === 'strip'
        ? `M${n(x - out / 2)} ${n(y - along / 2)}h${n(out)}v${n(along)}h${n(-out)}z`
        : `M${n(x - out / 2)} ${n(y)}a${n(out / 2)} ${n(out / 2)} 0 1 0 ${n(out)} 0a${n(out / 2)} ${n(out / 2)} 0 1 0 ${n(-out)} 0`,
    )
    .join('');
}
