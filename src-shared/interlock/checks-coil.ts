import type { Check } from './check.ts';

/** T1, test coil at low voltage from an isolated source. */
export const lowVoltageCoilChecks = [
  {
    id: 't1-src',
    text: 'Source is a 50/60 Hz isolated low-voltage one; hertz read at the coil. Not an electronic supply, not a variable autotransformer.',
    weight: 'must',
    holds: { kind: 'setup' },
    invalidatedBy: ['supply'],
    decidedBy: 'person',
    when: 'before-power',
  },
  {
    id: 't1-own',
    text: "The transformer's own plug is in no socket; pins covered.",
    weight: 'must',
    holds: { kind: 'setup' },
    invalidatedBy: ['plug', 'wire', 'away'],
    decidedBy: 'person',
    when: 'before-power',
  },
  {
    id: 't1-coil',
    text: 'Whole turns counted at one window, both leads out on the same side, number written on a tag.',
    weight: 'must',
    holds: { kind: 'setup' },
    invalidatedBy: ['wire', 'build'],
    decidedBy: 'person',
    when: 'before-power',
  },
  {
    id: 't1-side',
    text: "Coil sits on the primary's side of any shunts.",
    weight: 'should',
    holds: { kind: 'setup' },
    invalidatedBy: ['wire', 'build'],
    decidedBy: 'person',
    when: 'before-power',
  },
  {
    id: 't1-range',
    text: 'Range locked, reading above 5 % of it.',
    weight: 'should',
    holds: { kind: 'auto' },
    invalidatedBy: ['meter'],
    decidedBy: 'program',
    when: 'during',
  },
  {
    id: 't1-swap',
    text: 'Read again with the meters exchanged.',
    weight: 'should',
    holds: { kind: 'once' },
    invalidatedBy: ['meter'],
    decidedBy: 'person',
    when: 'during',
  },
] as const satisfies readonly Check[];

/** T2, test coil on the mains. */
export const mainsCoilChecks = [
  {
    id: 't2-why',
    text: 'Low voltage was tried first, or is not to be had (reason noted).',
    weight: 'should',
    holds: { kind: 'once' },
    invalidatedBy: ['build'],
    decidedBy: 'person',
    when: 'before-power',
  },
  {
    id: 't2-coil',
    text: 'Whole turns counted at one window, both leads out on the same side, number written on a tag, with wire rated for mains and 10 mm or more from any high-voltage winding.',
    weight: 'must',
    holds: { kind: 'setup' },
    invalidatedBy: ['wire', 'build'],
    decidedBy: 'person',
    when: 'before-power',
  },
  {
    id: 't2-lamp',
    text: 'Series lamp fitted: dim at no load. Bright = stop.',
    weight: { kind: 'must-if', circumstance: 'built-or-moved-since-power' },
    holds: { kind: 'once' },
    invalidatedBy: ['build', 'move'],
    decidedBy: 'person',
    when: 'before-power',
  },
  {
    id: 't2-plan',
    text: 'Readings to take are listed; power on for 60 s at most.',
    weight: 'should',
    holds: { kind: 'setup' },
    invalidatedBy: ['wire'],
    decidedBy: 'person',
    when: 'before-power',
  },
] as const satisfies readonly Check[];
