import { expect, it } from 'vitest';
import { meterFuzz } from '../../soak/meter-fuzz.ts';

it('keeps every promise on random lines, and reads the same lines as ever', () => {
  const { slowestMs: _, ...counts } = meterFuzz(41, 3000);
  expect(counts).toMatchInlineSnapshot(`
    {
      "dropped": 887,
      "lines": 3000,
      "numbers": 2610,
      "overloads": 1379,
      "unreadable": {
        "ambiguous-prefix": 32,
        "ambiguous-unit": 16,
        "bad-number": 883,
        "blank": 154,
        "comma": 494,
        "contradicting-marks": 10,
        "cut-number": 462,
        "dashes": 351,
        "digits-apart": 39,
        "no-match": 15936,
        "no-number": 1824,
        "not-a-number": 25,
        "out-of-bounds": 361,
        "point": 3189,
        "several-values": 1548,
        "text-after": 460,
        "text-before": 2612,
        "unit-apart": 24,
        "unknown-unit": 1044,
      },
    }
  `);
});
