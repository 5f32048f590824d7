import { expect, it } from 'vitest';
import { calculate } from '../../../src-shared/calculation/calculate.ts';
import { remembered } from '../../../src-main/bench/remembered.ts';

const coil = (coilTurns: number) => ({ readings: [{ coilTurns, coilVolts: 9.87, primaryVolts: 118.6 }] });

/** Remembered answers, with the inputs that were really worked out. */
function counted() {
  const worked: unknown[] = [];
  const answer = remembered((name, input) => {
    worked.push(input);
    return calculate(name, input);
  });
  return { answer, worked };
}

it('works the same input out once, and gives the answer that it had', () => {
  const { answer, worked } = counted();
  const first = answer('test-coil', coil(10));

  expect(answer('test-coil', coil(10))).toBe(first);
  expect(first).toEqual(calculate('test-coil', coil(10)));
  expect(worked).toHaveLength(1);
});

it('works out anew what differs in a single reading, or is another calculation', () => {
  const { answer, worked } = counted();
  answer('test-coil', coil(10));

  expect(answer('test-coil', coil(11))).toEqual(calculate('test-coil', coil(11)));
  expect(answer('wire', coil(10))).toMatchObject({ ok: false });
  expect(worked).toHaveLength(3);
});

it('forgets the answer that was asked longest ago, so that its memory has an end', () => {
  const { answer, worked } = counted();
  for (let turns = 1; turns <= 12; turns += 1) answer('test-coil', coil(turns));
  answer('test-coil', coil(1));
  answer('test-coil', coil(13));
  expect(worked).toHaveLength(13);

  answer('test-coil', coil(1));
  expect(worked).toHaveLength(13);
  answer('test-coil', coil(2));
  expect(worked).toHaveLength(14);
});
