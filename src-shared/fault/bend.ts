interface Seen {
  /** Amps and volts of the output, by rising amps. */
  readonly x: number;
  readonly y: number;
}

const fewest = 4;
/** Under this much sag meters cannot tell a bend: own simulation. */
const leastSag = 0.02;

/**
 * Part of the sag at the most load that goes with the square of the amps, from U = U0 − a I − b I² by least squares: 0 for
 * a resistance, 1 for a reactance with a resistive load. Null where fewer than four points, or too little sag, cannot tell.
 */
export function bendOf(points: readonly Seen[]): number | null {
  const most = Math.max(...points.map(({ x }) => x));
  const top = Math.max(...points.map(({ y }) => y));
  if (points.length < fewest || !(most > 0)) return null;
  const fit = parabola(points.map(({ x, y }) => ({ x: x / most, y: y / top })));
  if (fit === null) return null;
  const { straight, square } = fit;
  const sag = -(straight + square);
  return sag < leastSag ? null : -square / sag;
}

/** y = c + straight x + square x² by least squares (normal equations about the mean); null where x are too few. */
function parabola(points: readonly Seen[]): { readonly straight: number; readonly square: number } | null {
  const mean = (of: (point: Seen) => number) => points.reduce((sum, point) => sum + of(point), 0) / points.length;
  const [mx, mq, my] = [mean(({ x }) => x), mean(({ x }) => x * x), mean(({ y }) => y)];
  const xx = mean(({ x }) => (x - mx) ** 2);
  const xq = mean(({ x }) => (x - mx) * (x * x - mq));
  const qq = mean(({ x }) => (x * x - mq) ** 2);
  const xy = mean(({ x, y }) => (x - mx) * (y - my));
  const qy = mean(({ x, y }) => (x * x - mq) * (y - my));
  const determinant = xx * qq - xq * xq;
  if (!(determinant > 1e-9)) return null;
  return { straight: (qq * xy - xq * qy) / determinant, square: (xx * qy - xq * xy) / determinant };
}
