import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { WindingFields } from '../../../src-shared/record/build.ts';
import { rewound } from '../../../src-shared/record/rewound.ts';

const primary: WindingFields = {
  label: 'Primary',
  role: 'primary',
  turns: { kind: 'estimated', value: 164.2, u: 0.4, resultId: 9 },
  metal: 'copper',
  ohms: { value: 2.2, u: 0.02 },
  ohmsCelsius: 21,
  oneEndOnCore: 'no',
  onPlug: true,
};

test('adds turns to what was found, with the doubt that it had, and forgets the resistance', () => {
  const { ohms: _ohms, ohmsCelsius: _at, ...rest } = primary;
  expect(rewound(primary, 14)).toEqual({
    ...rest,
    turns: { kind: 'estimated', value: 178.2, u: 0.4, resultId: 9 },
    turnsAdded: 14,
  });
});

test('changes nothing where no turn was added, and knows no more of turns that nobody knows', () => {
  expect(rewound({ ...primary, turnsAdded: 14 }, 0)).toEqual(primary);
  expect(rewound({ ...primary, turns: { kind: 'unknown' } }, 12)?.turns).toEqual({ kind: 'unknown' });
});

test('takes turns off and on again to where it was, and never more than there are', () => {
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 4000 }), fc.integer({ min: -4000, max: 4000 }), (turns, added) => {
      const counted: WindingFields = { ...primary, turns: { kind: 'counted', turns } };
      const after = rewound(counted, added);
      if (turns + added < 0.5) expect(after).toBeNull();
      else expect(after === null ? null : rewound(after, -added)?.turns).toEqual(counted.turns);
    }),
  );
});
