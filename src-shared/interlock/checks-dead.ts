import type { Check, Holds } from './check.ts';

const proofTime = { kind: 'time', whichTime: 'proof', whileNotLive: true } as const satisfies Holds;
const endsDeadReading = ['pow', 'plug', 'wire', 'volts', 'away', 'restart'] as const;

/** PD, prove dead. Order of steps: GS38; NFPA 70E. */
export const deadChecks = [
  {
    id: 'pd-plug',
    text: 'The plug is out and lies where I can see its pins.',
    weight: 'must',
    holds: proofTime,
    invalidatedBy: ['pow', 'plug', 'away', 'hand', 'restart', 'volts', 'sess'],
    decidedBy: 'person',
    when: 'before-power',
  },
  {
    id: 'pd-cap',
    text: 'No charged capacitor is joined to any winding: taken off, or discharged through a resistor and its ends joined.',
    weight: 'must',
    holds: { kind: 'once' },
    invalidatedBy: ['wire', 'build', 'plug', 'pow'],
    decidedBy: 'person',
    when: 'before-power',
  },
  {
    id: 'pd-lead',
    text: 'Meter and leads whole, in the volts jacks, rated at or above the highest volts this circuit could hold.',
    weight: 'must',
    holds: { kind: 'setup' },
    invalidatedBy: ['meter', 'build', 'supply'],
    decidedBy: 'person',
    when: 'before-power',
  },
  {
    id: 'pd-known1',
    text: 'Known source read: same kind (a.c./d.c.), same range, as expected.',
    weight: 'must',
    holds: { kind: 'proof-pair' },
    invalidatedBy: ['meter'],
    decidedBy: 'proof',
    when: 'before-power',
  },
  {
    id: 'pd-ln',
    text: 'Line to neutral terminals below the threshold, a.c. then d.c.',
    weight: 'must',
    holds: proofTime,
    invalidatedBy: endsDeadReading,
    decidedBy: 'proof',
    when: 'before-power',
  },
  {
    id: 'pd-lc',
    text: 'Each mains terminal to the core below the threshold, a.c. then d.c.',
    weight: 'must',
    holds: proofTime,
    invalidatedBy: endsDeadReading,
    decidedBy: 'proof',
    when: 'before-power',
  },
  {
    id: 'pd-sec',
    text: 'Each low-voltage winding below the threshold. (High-voltage windings: not by ordinary meter; plug out and no capacitor is what makes them dead.)',
    weight: 'must',
    holds: proofTime,
    invalidatedBy: endsDeadReading,
    decidedBy: 'proof',
    when: 'before-power',
  },
  {
    id: 'pd-known2',
    text: 'Known source read again, same meter and leads.',
    weight: 'must',
    holds: { kind: 'proof-pair' },
    invalidatedBy: ['meter'],
    decidedBy: 'proof',
    when: 'before-power',
  },
  {
    id: 'pd-link',
    text: 'Capacitors taken off stay joined until scrapped.',
    weight: 'should',
    holds: { kind: 'once' },
    invalidatedBy: ['build'],
    decidedBy: 'person',
    when: 'before-power',
  },
] as const satisfies readonly Check[];
