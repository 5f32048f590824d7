import { expect, test } from 'vitest';
import { finalTemperatures, heated } from '../../../src-shared/practice/heating.ts';
import { scrapTransformer } from './given.ts';

const { heating } = scrapTransformer;
const watts = { winding: 14, core: 11 };

/** The exact answer for two bodies: two exponentials along the two ways in which the pair cools by itself. */
function exact(seconds: number, room: number) {
  const { windingCapacity: cw, coreCapacity: cc, windingToRoom: gw, coreToRoom: gc, between: g } = heating;
  const [a, b, c, d] = [-(gw + g) / cw, g / cw, g / cc, -(gc + g) / cc];
  const middle = (a + d) / 2;
  const apart = Math.sqrt(((a - d) / 2) ** 2 + b * c);
  const end = finalTemperatures(heating, watts, room);
  const [startWinding, startCore] = [room - end.winding, room - end.core];
  const part = (rate: number, otherRate: number) => {
    // exp(At) = sum over both rates of exp(rate t) (A - other) / (rate - other)
    const factor = Math.exp(rate * seconds) / (rate - otherRate);
    return {
      winding: factor * ((a - otherRate) * startWinding + b * startCore),
      core: factor * (c * startWinding + (d - otherRate) * startCore),
    };
  };
  const [one, two] = [part(middle + apart, middle - apart), part(middle - apart, middle + apart)];
  return { winding: end.winding + one.winding + two.winding, core: end.core + one.core + two.core };
}

test('follows the exact answer of two bodies within 0.1 % of the rise, in one stride or many', () => {
  for (const seconds of [30, 600, 3600, 20_000]) {
    const found = heated(heating, { winding: 22, core: 22 }, watts, 22, seconds);
    const known = exact(seconds, 22);
    expect(Math.abs(found.winding - known.winding)).toBeLessThan(1e-3 * (known.winding - 22));
    expect(Math.abs(found.core - known.core)).toBeLessThan(1e-3 * (known.core - 22));
  }
  let now = { winding: 22, core: 22 };
  for (let second = 0; second < 600; second += 1) now = heated(heating, now, watts, 22, 1);
  expect(Math.abs(now.winding - exact(600, 22).winding)).toBeLessThan(0.01);
});

test('ends where what is lost to the room is what comes in', () => {
  const end = finalTemperatures(heating, watts, 22);
  const lost = heating.windingToRoom * (end.winding - 22) + heating.coreToRoom * (end.core - 22);
  expect(Math.abs(lost - watts.winding - watts.core)).toBeLessThan(1e-9);
});
