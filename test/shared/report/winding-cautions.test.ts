import { expect, it } from 'vitest';
import { windingCautions } from '../../../src-shared/report/winding-cautions.ts';

const common = { role: 'secondary', metal: 'not-known', onPlug: false } as const;

it('says of which winding each caution speaks, and nothing of the others', () => {
  const lines = windingCautions([
    { ...common, label: 'Heater', turns: { kind: 'counted', turns: 3 }, oneEndOnCore: 'no' },
    { ...common, label: 'High-voltage', turns: { kind: 'unknown' }, oneEndOnCore: 'yes' },
  ]);
  expect(lines).toEqual([
    expect.stringMatching(/^High-voltage: This winding’s turns are not known\. .*thousands of volts/),
    expect.stringMatching(/^High-voltage: One end of this winding is joined to the core\./),
  ]);
});
