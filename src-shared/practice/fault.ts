import type { Generator } from '../quantity/generator.ts';

/** Faults that lie in the practice bench to be found. */
export const practiceFaults = [
  'none',
  'shorted-turn',
  'opposed-turns',
  'opposed-strands',
  'half-turn',
  'miscounted-coil',
  'swapped-lead',
  'joint-gap',
  'shunts-in',
  'other-metal',
  'hot-joint',
  'feed-joint',
  'earth-open',
  'damp-insulation',
  'soft-supply',
  'drifting-meter',
] as const;
export type PracticeFault = (typeof practiceFaults)[number];

/** Those that can be hidden from a person. */
export const hideableFaults = practiceFaults.filter((fault) => fault !== 'none');

/** What each is called at the bench. */
export const faultWords: Readonly<Record<PracticeFault, string>> = {
  none: 'None',
  'shorted-turn': 'A shorted turn',
  'opposed-turns': 'Temporary turns the wrong way round',
  'opposed-strands': 'Two strands of the secondary against each other',
  'half-turn': 'A lead of the test coil round the outer limb',
  'miscounted-coil': 'A test coil that was counted wrong',
  'swapped-lead': 'Two leads of the secondary exchanged',
  'joint-gap': 'A gap in the joint of the core',
  'shunts-in': 'Magnetic shunts in the window',
  'other-metal': 'The fed winding is of the other metal',
  'hot-joint': 'A loose lug on the output',
  'feed-joint': 'A bad joint in the leads of the fed winding',
  'earth-open': 'The core’s earth is open',
  'damp-insulation': 'Damp or dirt in the insulation',
  'soft-supply': 'A soft supply',
  'drifting-meter': 'A meter that drifts',
};

/** How bad the faults are. One of a kind lies on the bench at a time; what the others would be does not matter then. */
export interface FaultSizes {
  /** Resistance of a turn that is shorted, in Ω. */
  readonly shortedTurnOhms: number;
  /** Turns by which the test coil of the build differs from what is written on its tag, for each kind of slip. */
  readonly halfTurn: number;
  readonly miscount: number;
  /** Added to the gaps of the core, in mm. */
  readonly gapMm: number;
  /** How many times the fed winding's leakage becomes. */
  readonly shuntFactor: number;
  /** Of the lug and of the joint in the feed, in Ω. */
  readonly lugOhms: number;
  readonly feedJointOhms: number;
  readonly insulationOhms: number;
  /** What a meter's reading moves by in a minute, as a share of itself. */
  readonly driftPerMinute: number;
  /** How much softer than a soft one the supply is. */
  readonly softness: number;
}

/** Of the faults that a person chooses. Invented. */
export const usualSizes: FaultSizes = {
  shortedTurnOhms: 2.5e-3,
  halfTurn: 0.5,
  miscount: 1,
  gapMm: 0.15,
  shuntFactor: 40,
  lugOhms: 0.03,
  feedJointOhms: 1.2,
  insulationOhms: 2.5e5,
  driftPerMinute: 0.015,
  softness: 1,
};

/** Sizes of a fault that is hidden: about the usual ones, either way where there are two ways. */
export function drawSizes(generator: Generator): FaultSizes {
  const about = (usual: number) => usual * (0.75 + 0.5 * generator.uniform());
  const eitherWay = (usual: number) => (generator.uniform() < 0.5 ? -usual : usual);
  return {
    shortedTurnOhms: about(usualSizes.shortedTurnOhms),
    halfTurn: eitherWay(usualSizes.halfTurn),
    miscount: eitherWay(usualSizes.miscount),
    gapMm: about(usualSizes.gapMm),
    shuntFactor: about(usualSizes.shuntFactor),
    lugOhms: about(usualSizes.lugOhms),
    feedJointOhms: about(usualSizes.feedJointOhms),
    insulationOhms: about(usualSizes.insulationOhms),
    driftPerMinute: eitherWay(about(usualSizes.driftPerMinute)),
    softness: about(usualSizes.softness),
  };
}

/** A fault with its sizes, as it lies in the bench. */
export interface LyingFault {
  readonly fault: PracticeFault;
  readonly sizes: FaultSizes;
}
