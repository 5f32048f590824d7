import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  bucketLevels,
  bucketOf,
  bucketSize,
  fill,
  joinBuckets,
  nothingFilled,
  type Bucket,
  type ClosedBucket,
  type Taken,
} from '../../../src-shared/record/bucket.ts';

fc.configureGlobal({ seed: 20_310_314 });

/** Readings at rising times, some of them no numbers. */
const takens = (minLength: number, maxLength: number) =>
  fc
    .array(
      fc.record({
        step: fc.nat(5_000_000),
        kind: fc.constantFrom('number', 'number', 'number', 'overload', 'unreadable'),
        value: fc.integer({ min: -1000, max: 1000 }),
      }),
      { minLength, maxLength },
    )
    .map((parts) => {
      let atUs = 0;
      return parts.map(({ step, kind, value }): Taken => {
        atUs += step;
        return kind === 'number' ? { kind, atUs, value } : { kind, atUs, value: null };
      });
    });

const bucketOfAll = ([first, ...others]: readonly Taken[]): Bucket => {
  if (first === undefined) throw new Error('A bucket holds at least one reading.');
  return bucketOf([first, ...others]);
};

/** The same by looking at the whole list once for each figure. */
function plainly(readings: readonly Taken[]): Bucket {
  const numbers = readings.flatMap(({ atUs, value }) => (value === null ? [] : [{ atUs, value }]));
  const values = numbers.map(({ value }) => value);
  const spot = (wanted: number | undefined) => numbers.find(({ value }) => value === wanted);
  const opening = numbers[0];
  const closing = numbers.at(-1);
  const lowest = spot(Math.min(...values));
  const highest = spot(Math.max(...values));
  const times = readings.map(({ atUs }) => atUs);
  const waits = times.map((atUs, index) => ({ fromUs: times[index - 1] ?? atUs, toUs: atUs }));
  const longest = Math.max(...waits.map(({ fromUs, toUs }) => toUs - fromUs));
  const silence = waits.find(({ fromUs, toUs }) => toUs - fromUs === longest);
  return {
    firstUs: times[0] ?? NaN,
    lastUs: times.at(-1) ?? NaN,
    numbers: numbers.length,
    overloads: readings.filter(({ kind }) => kind === 'overload').length,
    unreadables: readings.filter(({ kind }) => kind === 'unreadable').length,
    spots:
      opening && closing && lowest && highest
        ? { sum: values.reduce((a, b) => a + b, 0), opening, closing, lowest, highest }
        : null,
    voidUs: readings.find(({ value }) => value === null)?.atUs ?? null,
    silence: silence ?? { fromUs: NaN, toUs: NaN },
  };
}

describe('a bucket', () => {
  test('says of one reading what it is', () => {
    expect(bucketOf([{ kind: 'number', atUs: 7, value: 2.5 }])).toMatchObject({
      numbers: 1,
      spots: { sum: 2.5, opening: { atUs: 7, value: 2.5 } },
      voidUs: null,
      silence: { fromUs: 7, toUs: 7 },
    });
    expect(bucketOf([{ kind: 'overload', atUs: 7, value: null }])).toMatchObject({
      numbers: 0,
      overloads: 1,
      spots: null,
      voidUs: 7,
    });
  });

  test('of readings is what looking at each figure on its own finds', () => {
    fc.assert(
      fc.property(takens(1, 60), (readings) => {
        expect(bucketOfAll(readings)).toEqual(plainly(readings));
      }),
    );
  });

  test('of two joined is the bucket of all their readings', () => {
    fc.assert(
      fc.property(takens(2, 60), fc.nat(), (readings, at) => {
        const cut = 1 + (at % (readings.length - 1));
        const joined = joinBuckets(bucketOfAll(readings.slice(0, cut)), bucketOfAll(readings.slice(cut)));
        expect(joined).toEqual(bucketOfAll(readings));
      }),
    );
  });
});

describe('filling', () => {
  const fillAll = (parts: readonly (readonly Taken[])[]) => {
    let filling = nothingFilled;
    const closed: ClosedBucket[] = [];
    for (const part of parts) {
      const filled = fill(filling, part);
      filling = filled.after;
      closed.push(...filled.closed);
    }
    return { filling, closed };
  };

  test('closes every full bucket of every level once, with exactly its readings', () => {
    const steady = Array.from({ length: 70_000 }, (_, index): Taken => ({
      kind: 'number',
      atUs: index,
      value: index % 97,
    }));
    const { closed, filling } = fillAll([steady]);
    expect(filling.count).toBe(70_000);
    for (const level of bucketLevels) {
      const size = bucketSize(level);
      const ofLevel = closed.filter((bucket) => bucket.level === level);
      expect(ofLevel.map(({ number }) => number)).toEqual([...Array(Math.floor(70_000 / size)).keys()]);
      for (const { number, bucket } of ofLevel) {
        expect(bucket).toMatchObject({ numbers: size, firstUs: number * size, lastUs: (number + 1) * size - 1 });
      }
    }
  });

  test('does not depend on how the readings are cut into batches', () => {
    fc.assert(
      fc.property(takens(0, 700), fc.array(fc.nat(60), { maxLength: 40 }), (readings, lengths) => {
        const parts: Taken[][] = [];
        let from = 0;
        for (const length of lengths) {
          parts.push(readings.slice(from, from + length));
          from += length;
        }
        parts.push(readings.slice(from));
        const inParts = fillAll(parts);
        const atOnce = fillAll([readings]);
        const inOrder = (list: readonly ClosedBucket[]) =>
          [...list].sort((a, b) => a.level - b.level || a.number - b.number);
        expect(inOrder(inParts.closed)).toEqual(inOrder(atOnce.closed));
        expect(inParts.filling).toEqual(atOnce.filling);
        for (const { level, number, bucket } of atOnce.closed) {
          const size = bucketSize(level);
          expect(bucket).toEqual(plainly(readings.slice(number * size, (number + 1) * size)));
        }
      }),
    );
  });
});
