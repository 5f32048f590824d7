import type { PracticeControls } from './controls.ts';
import type { LyingFault } from './fault.ts';
import type { PracticeFaults } from './observed.ts';

/** A lug that sits well, a joint of an earth wire, and insulation that is in order: what they read, in Ω. Invented. */
const soundLugOhms = 3e-4;
const soundInsulationOhms = 2.4e8;

/** A bench on which nothing is wrong. */
export const noFaults: PracticeFaults = {
  shortedTurnOhms: null,
  feedJointOhms: 0,
  lugOhms: soundLugOhms,
  earthOpen: false,
  insulationOhms: soundInsulationOhms,
  leadSwapped: false,
  strandsOpposed: false,
};

/** What a fault does to the parts of the bench that are joined and carry. */
export function circuitFaults({ fault, sizes }: LyingFault): PracticeFaults {
  return {
    shortedTurnOhms: fault === 'shorted-turn' ? sizes.shortedTurnOhms : null,
    feedJointOhms: fault === 'feed-joint' ? sizes.feedJointOhms : 0,
    lugOhms: fault === 'hot-joint' ? sizes.lugOhms : soundLugOhms,
    earthOpen: fault === 'earth-open',
    insulationOhms: fault === 'damp-insulation' ? sizes.insulationOhms : soundInsulationOhms,
    leadSwapped: fault === 'swapped-lead',
    strandsOpposed: fault === 'opposed-strands',
  };
}

/** Turns that the test coil of the build has beyond those on its tag. */
export function coilTurnsOff({ fault, sizes }: LyingFault): number {
  if (fault === 'half-turn') return sizes.halfTurn;
  return fault === 'miscounted-coil' ? sizes.miscount : 0;
}

/** The controls as the bench truly is: a fault may be what a person could have set as well. */
export function truly(controls: PracticeControls, { fault, sizes }: LyingFault): PracticeControls {
  switch (fault) {
    case 'opposed-turns':
      return { ...controls, addedOpposed: !controls.addedOpposed };
    case 'joint-gap':
      return { ...controls, jointGapMm: controls.jointGapMm + sizes.gapMm };
    case 'shunts-in':
      return { ...controls, shuntsIn: true };
    case 'soft-supply':
      return { ...controls, source: 'soft' };
    default:
      return controls;
  }
}

/** A battery at its end takes a meter no further than this. */
const driftsAtMost = 0.15;

/** What a drifting meter shows of each unit after some minutes. */
export function driftAfter({ fault, sizes }: LyingFault, minutes: number): number {
  if (fault !== 'drifting-meter') return 1;
  const drift = sizes.driftPerMinute * Math.max(0, minutes);
  return 1 + Math.sign(drift) * Math.min(driftsAtMost, Math.abs(drift));
}
