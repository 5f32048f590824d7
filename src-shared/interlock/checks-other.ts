import type { Check } from './check.ts';

/** X, short-circuit test, beside a part of the base. */
export const shortCircuitChecks = [
  {
    id: 'x-src',
    text: 'Feed is an adjustable or low-voltage source that cannot give full volts into this short; set to zero. Mains plug not fitted.',
    weight: 'must',
    holds: { kind: 'setup' },
    invalidatedBy: ['supply'],
    decidedBy: 'person',
    when: 'before-power',
  },
  {
    id: 'x-side',
    text: 'The low-voltage winding is shorted, with a bolted copper link; HV winding is out, or open and insulated, never the link side.',
    weight: 'must',
    holds: { kind: 'setup' },
    invalidatedBy: ['wire', 'build'],
    decidedBy: 'person',
    when: 'before-power',
  },
  {
    id: 'x-warm',
    text: 'Winding at room temperature, noted; each point under 30 s, 2 min apart.',
    weight: 'should',
    holds: { kind: 'each' },
    invalidatedBy: ['pow'],
    decidedBy: 'person',
    when: 'before-power',
  },
  {
    id: 'x-sh',
    text: 'Shunts in/out noted: figure holds for this current only.',
    weight: 'should',
    holds: { kind: 'setup' },
    invalidatedBy: ['build'],
    decidedBy: 'person',
    when: 'before-power',
  },
] as const satisfies readonly Check[];

/** K, cooling after switch-off: starts in *proving*. */
export const coolingChecks = [
  {
    id: 'k-set',
    text: 'Four-wire set ends in a shrouded socket that only this plug fits; nothing of it is joined to the winding while power is on.',
    weight: 'must',
    holds: { kind: 'setup' },
    invalidatedBy: ['wire', 'meter'],
    decidedBy: 'person',
    when: 'before-power',
  },
  {
    id: 'k-seq',
    text: 'Off, plug pulled and in my hand, voltmeter seen below threshold, then into the measuring socket.',
    weight: 'must',
    holds: { kind: 'each' },
    invalidatedBy: [],
    decidedBy: 'person',
    when: 'after-power',
  },
  {
    id: 'k-mark',
    text: 'Switch-off marked at the instant (key).',
    weight: 'must',
    holds: { kind: 'each' },
    invalidatedBy: [],
    decidedBy: 'program',
    when: 'after-power',
  },
  {
    id: 'k-cold',
    text: 'Cold resistance taken earlier with the same set.',
    weight: 'must',
    holds: { kind: 'once' },
    invalidatedBy: ['build', 'meter'],
    decidedBy: 'person',
    when: 'before-power',
  },
] as const satisfies readonly Check[];

/** R, winding resistance: not energised in the sense of the guard, needs PD. */
export const resistanceChecks = [
  {
    id: 'r-kick',
    text: 'High-turn windings insulated, nobody touching; current brought down before unclipping.',
    weight: { kind: 'must-if', circumstance: 'test-source-over-10-ma' },
    holds: { kind: 'setup' },
    invalidatedBy: ['wire'],
    decidedBy: 'person',
    when: 'before-power',
  },
  {
    id: 'r-4w',
    text: 'Millivolt clips inside current clips; both polarities.',
    weight: { kind: 'must-if', circumstance: 'winding-under-2-ohm' },
    holds: { kind: 'setup' },
    invalidatedBy: ['wire'],
    decidedBy: 'person',
    when: 'before-power',
  },
] as const satisfies readonly Check[];

/** I, insulation resistance: not energised in the sense of the guard, needs PD. */
export const insulationChecks = [
  {
    id: 'i-off',
    text: 'Meters, electronics, rectifiers disconnected; HV-to-core bond known.',
    weight: 'must',
    holds: { kind: 'setup' },
    invalidatedBy: ['wire', 'build'],
    decidedBy: 'person',
    when: 'before-power',
  },
  {
    id: 'i-dis',
    text: "Tester's own discharge waited for, ends then joined.",
    weight: 'must',
    holds: { kind: 'each' },
    invalidatedBy: [],
    decidedBy: 'person',
    when: 'after-power',
  },
] as const satisfies readonly Check[];
