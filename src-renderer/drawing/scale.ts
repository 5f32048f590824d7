/** Millimetres to the pixels of a drawing, the same in both directions. */
export interface Scale {
  readonly pixelsPerMm: number;
}

/** The largest common scale at which every box fits into `width` by `height` pixels; 1 for no boxes. */
export function commonScale(
  boxes: readonly { readonly width: number; readonly height: number }[],
  width: number,
  height: number,
): Scale {
  const fits = boxes.map((box) => Math.min(width / box.width, height / box.height));
  return { pixelsPerMm: fits.length === 0 ? 1 : Math.min(...fits) };
}

/** A round length in mm, at most `longest` pixels long at this scale, for a scale bar: 1, 2 or 5 times a power of ten. */
export function roundLength({ pixelsPerMm }: Scale, longest: number): number {
  const most = longest / pixelsPerMm;
  const power = 10 ** Math.floor(Math.log10(most));
  const step = [5, 2, 1].find((times) => times * power <= most) ?? 1;
  return step * power;
}
