const mostSteps = 60;
/** Against 1 or the root itself, whichever is larger: below it only rounding is left. */
const closeEnough = 1e-14;

/**
 * Where an increasing or decreasing function crosses zero between `low` and `high`, by Ridders' method (C. Ridders, IEEE
 * Transactions on Circuits and Systems 26, 1979, 979): as steady as halving, and much faster. Null where the function
 * has one sign at both ends.
 */
export function rootBetween(f: (x: number) => number, low: number, high: number): number | null {
  let [a, b] = [low, high];
  let [fa, fb] = [f(a), f(b)];
  if (fa === 0) return a;
  if (fb === 0) return b;
  if (!(fa * fb < 0)) return null;
  let found = (a + b) / 2;
  for (let step = 0; step < mostSteps; step += 1) {
    const middle = (a + b) / 2;
    const fm = f(middle);
    const x = middle + ((middle - a) * Math.sign(fa - fb) * fm) / Math.sqrt(fm * fm - fa * fb);
    const hair = closeEnough * Math.max(1, Math.abs(x));
    const isThere = Math.abs(x - found) <= hair;
    found = x;
    const fx = f(x);
    if (isThere || fx === 0 || fm === 0) return fm === 0 ? middle : x;
    // The closest pair with opposite signs is kept.
    if (fm * fx < 0) [a, fa, b, fb] = [middle, fm, x, fx];
    else if (fa * fx < 0) [b, fb] = [x, fx];
    else [a, fa] = [x, fx];
    if (Math.abs(b - a) <= hair) return x;
  }
  return found;
}
