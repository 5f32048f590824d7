import type { Check } from './check.ts';

/** N, no-load point. */
export const noLoadChecks = [
  {
    id: 'n-open',
    text: 'No load on any secondary; ends insulated.',
    weight: 'must',
    holds: { kind: 'setup' },
    invalidatedBy: ['load', 'wire'],
    decidedBy: 'person',
    when: 'before-power',
  },
  {
    id: 'n-exp',
    text: 'Expected amps (from curve or mass) noted; what a wrong-way added turn would read is shown.',
    weight: { kind: 'must-if', circumstance: 'turns-added' },
    holds: { kind: 'auto' },
    invalidatedBy: ['build'],
    decidedBy: 'program',
    when: 'before-power',
  },
  {
    id: 'n-vt',
    text: 'Voltmeter is at the primary terminals, behind the ammeter.',
    weight: 'should',
    holds: { kind: 'setup' },
    invalidatedBy: ['meter', 'wire'],
    decidedBy: 'person',
    when: 'before-power',
  },
  {
    id: 'n-type',
    text: 'Meter kind (true-rms or average) known; range leaves room for peaks.',
    weight: 'should',
    holds: { kind: 'auto' },
    invalidatedBy: ['meter'],
    decidedBy: 'program',
    when: 'before-power',
  },
  {
    id: 'n-wait',
    text: 'Read after the first 10 s; core demagnetised if d.c. was used since.',
    weight: 'should',
    holds: { kind: 'auto' },
    invalidatedBy: [],
    decidedBy: 'program',
    when: 'during',
  },
] as const satisfies readonly Check[];

/** S, no-load sweep. */
export const sweepChecks = [
  {
    id: 's-var',
    text: 'Variable transformer: output isolation known to be none; starts at zero; top stop 110 % of nominal.',
    weight: 'must',
    holds: { kind: 'setup' },
    invalidatedBy: ['supply'],
    decidedBy: 'person',
    when: 'before-power',
  },
  {
    id: 's-temp',
    text: 'Temporary primary turns: mains-rated wire, joints covered, aiding (low-voltage check read higher total turns).',
    weight: { kind: 'must-if', circumstance: 'temporary-turns' },
    holds: { kind: 'setup' },
    invalidatedBy: ['wire', 'build'],
    decidedBy: 'person',
    when: 'before-power',
  },
  {
    id: 's-up',
    text: 'Points taken upwards, ends brought down to zero.',
    weight: 'should',
    holds: { kind: 'each' },
    invalidatedBy: [],
    decidedBy: 'person',
    when: 'during',
  },
  {
    id: 's-count',
    text: 'Turns carrying current noted for each point.',
    weight: 'must',
    holds: { kind: 'auto' },
    invalidatedBy: ['wire'],
    decidedBy: 'program',
    when: 'before-power',
  },
] as const satisfies readonly Check[];
