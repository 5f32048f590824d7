import { practiceFaults } from '../../src-shared/practice/fault.ts';
import { rateOf, type FaultRate } from '../shared/fault/fault-rates.ts';
import type { Soak } from './soak.ts';

/** Part of the benches on which each fault is named at least, and on which none is named where none lies. */
const namedAtLeast = 0.93;
const quietAtLeast = 0.97;
/** Causes that are named for one bench on the average, at most: more would be no help. */
const namedAtMost = 3.5;

const share = ({ right, benches }: FaultRate): number => right / benches;
const words = (rate: FaultRate): string => {
  const mean = (rate.named / rate.benches).toFixed(1);
  return `${rate.fault} ${(100 * share(rate)).toFixed(1)} % (${mean} named)`;
};

/** Three standard deviations of a share over so many benches. */
const spread = (part: number, count: number): number => 3 * Math.sqrt((part * (1 - part)) / count);

function isOff(rate: FaultRate): boolean {
  const least = rate.fault === 'none' ? quietAtLeast : namedAtLeast;
  return share(rate) < least - spread(least, rate.benches) || rate.named > namedAtMost * rate.benches;
}

/** Every fault of the practice bench on 150 random benches, or 6 when short: how often the fault reader names it. */
export const practiceFaultsSoak: Soak = {
  name: 'practice-faults',
  run: ({ seed, isShort }) => {
    const count = isShort ? 6 : 150;
    const rates = practiceFaults.map((fault) => rateOf(fault, count, seed));
    const off = rates.filter(isOff).map(({ fault, wrong }) => `${fault}: ${wrong.slice(0, 8).join(', ')}`);
    const told = `${count} benches each; named: ${rates.map(words).join(', ')}`;
    return off.length > 0 ? Promise.reject(new Error(`${told}. Off: ${off.join('; ')}`)) : Promise.resolve(told);
  },
};
