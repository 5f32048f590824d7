import { describe, expect, test } from 'vitest';
import type { WindingFields } from '../../../src-shared/record/build.ts';
import { closedChanges } from '../../../src-shared/record/winding-change.ts';

const unknown: WindingFields = {
  label: 'Mains side',
  role: 'primary',
  turns: { kind: 'unknown' },
  metal: 'not-known',
  oneEndOnCore: 'not-looked',
  onPlug: true,
};
const estimated = {
  ...unknown,
  turns: { kind: 'estimated', value: 120.2, u: 0.4, resultId: 3 },
} satisfies WindingFields;
const counted = { ...unknown, turns: { kind: 'counted', turns: 120 } } satisfies WindingFields;

describe('what a measurement or a closer look found out stays open', () => {
  test.each<[string, WindingFields, WindingFields]>([
    ['nothing', unknown, unknown],
    ['turns by measurement', unknown, estimated],
    ['turns by counting', unknown, counted],
    ['turns counted after they were estimated', estimated, counted],
    ['turns known better', estimated, { ...estimated, turns: { kind: 'estimated', value: 120, u: 0.2, resultId: 4 } }],
    ['ohms', unknown, { ...unknown, ohms: { value: 0.7, u: 0.01 }, ohmsCelsius: 20 }],
    ['ohms again', { ...unknown, ohms: { value: 0.7, u: null } }, { ...unknown, ohms: { value: 0.71, u: 0.01 } }],
    ['one end on the core', unknown, { ...unknown, oneEndOnCore: 'yes' }],
    ['a note', { ...unknown, note: 'blue tape' }, { ...unknown, note: 'blue tape, third from the left' }],
    ['the metal', unknown, { ...unknown, metal: 'aluminium' }],
    ['the wire', unknown, { ...unknown, bareDiameter: { value: 1.2, u: 0.02 } }],
  ])('%s', (_, before, after) => {
    expect(closedChanges(before, after)).toEqual([]);
  });
});

describe('a change of the winding itself is closed', () => {
  const known: WindingFields = { ...counted, metal: 'copper', bareDiameter: { value: 1.2, u: null } };
  const withoutWire: WindingFields = { ...counted, metal: 'copper' };
  test.each<[string, WindingFields, WindingFields]>([
    ['label', unknown, { ...unknown, label: 'Other side' }],
    ['role', unknown, { ...unknown, role: 'secondary' }],
    ['turns', counted, { ...counted, turns: { kind: 'counted', turns: 132 } }],
    ['turns', counted, estimated],
    ['turns', counted, unknown],
    ['turns', estimated, unknown],
    ['metal', known, { ...known, metal: 'aluminium' }],
    ['bareDiameter', known, { ...known, bareDiameter: { value: 1.5, u: null } }],
    ['bareDiameter', known, withoutWire],
    ['onPlug', unknown, { ...unknown, onPlug: false }],
  ])('%s', (field, before, after) => {
    expect(closedChanges(before, after)).toEqual([field]);
  });

  test('and every such field is named', () => {
    expect(closedChanges(unknown, { ...counted, label: 'x', role: 'other' })).toEqual(['label', 'role']);
  });
});
