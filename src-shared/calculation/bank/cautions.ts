import { formatNumber } from '../../quantity/format.ts';
import { caution, type Caution } from '../answer.ts';
import type { BankInput } from './input.ts';
import type { BankResults } from './results.ts';

/** Above this an output needs protection against touch (IEC 60364-4-41). */
const extraLowVolts = 50;

export function cautionsOf(given: BankInput, results: BankResults): readonly Caution[] {
  const { units, join, loadAmps } = given;
  const isMixed =
    units.some(({ reactance }) => reactance === undefined) && units.some(({ reactance }) => reactance !== undefined);
  const highest = Math.max(...units.map(({ openVolts }) => openVolts.value));
  const idle = results.circulatingAmps?.value ?? 0;
  const said: readonly [boolean, string, string][] = [
    [
      join === 'parallel',
      'measure-across-last-link',
      'Before closing the last link, measure across it at low volts: it must read near 0. A voltmeter there is the proof, not this sum.',
    ],
    [
      results.closing === 'do-not-close',
      'do-not-close',
      `Do not close the last link: over 1 % of the volts would stand across it, and with no load at all about ${formatNumber(idle, 3)} A would flow round the windings.`,
    ],
    [
      join === 'parallel' && results.limitAmps.value === 0,
      'overloaded-with-no-load',
      'With no load at all the current round the windings is over what one of them is rated for.',
    ],
    [
      join === 'series' && results.openVolts.value < highest,
      'opposing',
      'Almost no voltage is left, or less than one unit alone has: they oppose. Exchange the leads of one of them.',
    ],
    [
      loadAmps !== undefined && loadAmps.value > results.limitAmps.value,
      'over-limit',
      'At this load a unit carries more than it is rated for.',
    ],
    [
      isMixed,
      'reactance-taken-as-none',
      'Where no reactance was given it was taken as none: with unlike reactances the units share otherwise.',
    ],
    [
      results.openVolts.value > extraLowVolts,
      'over-50-volts',
      'An output over 50 V a.c. needs protection against touch that this program does not judge. Local rules and a licensed person decide.',
    ],
    [
      join === 'series',
      'insulation',
      'In series the insulation of each winding stands at the volts of all of them against the core.',
    ],
  ];
  return said.flatMap(([applies, code, text]) => (applies ? [caution(code, text)] : []));
}
