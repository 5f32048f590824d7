import { describe, expect, test } from 'vitest';
import type { Check, Weight } from '../../../src-shared/interlock/check.ts';
import { checkById, checkIds, checklists, checks } from '../../../src-shared/interlock/checks.ts';

/** The checklists of the trade, written down a second time: id, weight, how long it holds, what ends it. */
const lines: readonly (readonly [string, string, string, string])[] = [
  ['pd-plug', 'must', 'proof', 'pow plug away hand restart volts sess'],
  ['pd-cap', 'must', 'once', 'wire build plug pow'],
  ['pd-lead', 'must', 'setup', 'meter build supply'],
  ['pd-known1', 'must', 'proof-pair', 'meter'],
  ['pd-ln', 'must', 'proof', 'pow plug wire volts away restart'],
  ['pd-lc', 'must', 'proof', 'pow plug wire volts away restart'],
  ['pd-sec', 'must', 'proof', 'pow plug wire volts away restart'],
  ['pd-known2', 'must', 'proof-pair', 'meter'],
  ['pd-link', 'should', 'once', 'build'],
  ['b-volts', 'must', 'setup', 'build supply wire'],
  ['b-hv', 'must', 'setup', 'wire build move'],
  ['b-earth', 'must', 'setup', 'wire move build'],
  ['b-fuse', 'must', 'setup', 'supply wire trip'],
  ['b-rcd', 'must', 'day', 'supply'],
  ['b-cover', 'must', 'setup', 'wire move'],
  ['b-off', 'must', 'bench', 'move away hand supply'],
  ['b-rate', 'must', 'auto', 'meter build supply'],
  ['b-jack', 'must', 'setup', 'meter'],
  ['b-clip', 'must', 'setup', 'meter wire'],
  ['b-place', 'must', 'bench', 'move away'],
  ['b-people', 'must', 'bench', 'away hand'],
  ['b-help', 'should', 'day', 'hand'],
  ['b-fit', 'should', 'day', 'hand'],
  ['b-eyes', 'should', 'day', ''],
  ['b-lamp', 'must if built-or-moved-since-power', 'once', 'build move'],
  ['t1-src', 'must', 'setup', 'supply'],
  ['t1-own', 'must', 'setup', 'plug wire away'],
  ['t1-coil', 'must', 'setup', 'wire build'],
  ['t1-side', 'should', 'setup', 'wire build'],
  ['t1-range', 'should', 'auto', 'meter'],
  ['t1-swap', 'should', 'once', 'meter'],
  ['t2-why', 'should', 'once', 'build'],
  ['t2-coil', 'must', 'setup', 'wire build'],
  ['t2-lamp', 'must if built-or-moved-since-power', 'once', 'build move'],
  ['t2-plan', 'should', 'setup', 'wire'],
  ['n-open', 'must', 'setup', 'load wire'],
  ['n-exp', 'must if turns-added', 'auto', 'build'],
  ['n-vt', 'should', 'setup', 'meter wire'],
  ['n-type', 'should', 'auto', 'meter'],
  ['n-wait', 'should', 'auto', ''],
  ['s-var', 'must', 'setup', 'supply'],
  ['s-temp', 'must if temporary-turns', 'setup', 'wire build'],
  ['s-up', 'should', 'each', ''],
  ['s-count', 'must', 'auto', 'wire'],
  ['h-att', 'must', 'setup', 'away hand'],
  ['h-burn', 'must', 'setup', 'move'],
  ['h-probe', 'must', 'setup', 'meter wire'],
  ['h-cold', 'must if resistance-method', 'once', 'pow build'],
  ['h-lim', 'must', 'setup', 'build'],
  ['h-auto', 'must', 'setup', 'meter'],
  ['h-smoke', 'should', 'day', 'build'],
  ['h-cured', 'must', 'day', 'build'],
  ['h-amb', 'should', 'setup', 'move'],
  ['l-load', 'must', 'setup', 'load'],
  ['l-term', 'must', 'setup', 'load wire'],
  ['l-v2', 'must', 'auto', 'build'],
  ['l-ir', 'must', 'once', 'build move'],
  ['l-str', 'must if windings-paralleled', 'once', 'build wire'],
  ['l-mv', 'should', 'setup', 'load wire'],
  ['l-half', 'must', 'setup', 'load'],
  ['x-src', 'must', 'setup', 'supply'],
  ['x-side', 'must', 'setup', 'wire build'],
  ['x-warm', 'should', 'each', 'pow'],
  ['x-sh', 'should', 'setup', 'build'],
  ['k-set', 'must', 'setup', 'wire meter'],
  ['k-seq', 'must', 'each', ''],
  ['k-mark', 'must', 'each', ''],
  ['k-cold', 'must', 'once', 'build meter'],
  ['r-kick', 'must if test-source-over-10-ma', 'setup', 'wire'],
  ['r-4w', 'must if winding-under-2-ohm', 'setup', 'wire'],
  ['i-off', 'must', 'setup', 'wire build'],
  ['i-dis', 'must', 'each', ''],
];

const weightWords = (weight: Weight): string =>
  typeof weight === 'string' ? weight : `must if ${weight.circumstance}`;
const holdsWords = ({ holds }: Check): string => (holds.kind === 'time' ? holds.whichTime : holds.kind);

describe('the checklists', () => {
  test('hold every line of the trade, in its order, and no other', () => {
    expect(checkIds).toEqual(lines.map(([id]) => id));
  });

  test.each(lines)('%s is a %s that holds %s and ends by: %s', (id, weight, holds, ends) => {
    const check = checkById(id);
    expect(check && weightWords(check.weight)).toBe(weight);
    expect(check && holdsWords(check)).toBe(holds);
    expect(check?.invalidatedBy.join(' ')).toBe(ends);
  });

  test('know each check by one id', () => {
    expect(new Set(checkIds).size).toBe(checks.length);
  });

  test('speak in whole sentences', () => {
    for (const { text } of checks) expect(text).toMatch(/^[A-Z].*[.)]$/);
  });

  test('never promise that anything is safe', () => {
    for (const { text } of checks) expect(text.toLowerCase()).not.toContain('safe');
  });

  test('take the base lines along that the low-voltage coil and the short-circuit test ask for', () => {
    expect(checklists.T1.slice(0, 6)).toEqual(['b-volts', 'b-hv', 'b-jack', 'b-clip', 'b-rate', 'b-off']);
    expect(checklists['T1-base']).toEqual(['b-place', 'b-people', 'b-cover', 'b-earth']);
    expect(checklists.X.filter((id) => id.startsWith('b-'))).toEqual(
      'b-volts b-hv b-earth b-fuse b-cover b-off b-jack b-clip b-rate b-place b-people'.split(' '),
    );
  });

  test('count the time of a dead proof only while power is not declared on', () => {
    for (const id of ['pd-plug', 'pd-ln', 'pd-lc', 'pd-sec']) {
      expect(checkById(id)?.holds).toEqual({ kind: 'time', whichTime: 'proof', whileNotLive: true });
    }
  });
});
