import type { windingRoles } from '../record/build.ts';
import type { Supply } from '../record/session.ts';
import type { Coupling } from '../meter/unit.ts';
import type { ChecklistId, Circumstance } from './check.ts';
import type { ProposedLimits } from './limit.ts';

/** One winding of the build on the bench, with what it will stand at while the supply is on. */
export interface WindingFacts {
  readonly windingId: number;
  readonly label: string;
  readonly role: (typeof windingRoles)[number];
  /** Computed volts with the supply on; null when its turns, or those of the fed winding, are not known. */
  readonly volts: number | null;
  /** Its ends are joined to the plug of the transformer. */
  readonly onPlug: boolean;
  readonly oneEndOnCore: 'yes' | 'no' | 'not-looked';
}

/** What the plug of the transformer will stand at while the supply is on. */
export type PlugFacts =
  { readonly kind: 'none' } | { readonly kind: 'volts'; readonly volts: number } | { readonly kind: 'unknown' };

/** What is on the bench: the build, what feeds it and where. Computed by main from the record, never chosen. */
export interface BenchFacts {
  readonly buildId: number;
  readonly supply: Supply;
  /** Which winding is fed; null when that is not known. */
  readonly fedWindingId: number | null;
  readonly windings: readonly WindingFacts[];
  readonly plug: PlugFacts;
}

/**
 * What a channel measures, as far as the guard cares. The first three belong to an energised circuit; `cooling-resistance`
 * is read through the plug after switch-off; `proof` readings go into a proof of dead.
 */
export const channelKinds = [
  'energised-volts',
  'energised-amps',
  'watts',
  'temperature',
  'ambient',
  'resistance',
  'cooling-resistance',
  'insulation',
  'hertz',
  'proof',
] as const;
export type ChannelKind = (typeof channelKinds)[number];

/** Measurement category of a meter's inputs (IEC 61010-2-033); `none` is not for circuits joined to the mains. */
export const meterCategories = ['none', 'II', 'III', 'IV', 'not-known'] as const;
export type MeterCategory = (typeof meterCategories)[number];

/** What the guard needs to know of a meter. */
export interface MeterFacts {
  readonly meterId: number;
  readonly label: string;
  /** Values are typed by hand. */
  readonly typed: boolean;
  /** Time between two of its readings; for a typed one 0. */
  readonly intervalMs: number;
  /** Highest volts that its inputs are rated for; null when nobody said. */
  readonly maxVolts: number | null;
  readonly category: MeterCategory;
  /** Whether its serial link is isolated; `none` when there is no link. */
  readonly linkIsolated: 'yes' | 'no' | 'not-known' | 'none';
  readonly practice: boolean;
  /** Index of the range that is locked; null while the meter chooses by itself. */
  readonly lockedRange: number | null;
  /** Which of its values, where a line of it carries several; absent for a meter of one value. */
  readonly value?: string;
}

/** What can fill one channel at a time: a meter, or one value of a meter that gives several at once. */
export const fillerOf = ({ meterId, value }: MeterFacts): string => `${meterId} ${value ?? ''}`;

/** A channel of the procedure in hand with the meter that fills it. */
export interface ChannelFacts {
  readonly id: string;
  readonly label: string;
  readonly kind: ChannelKind;
  readonly unit: string;
  /** What its meter is to be set to; null where that makes no difference. */
  readonly coupling: Coupling | null;
  /** Channels with equal quantities can stand in for each other when one falls silent. */
  readonly quantity: string;
  readonly required: boolean;
  /** `once`: read once a session, so silence means nothing. */
  readonly cadence: 'repeated' | 'once';
  /** Highest working volts on the meter's inputs, against each other or against earth; null when not known. */
  readonly volts: number | null;
  /** A capacitor part or a peak: rated against the peak value. */
  readonly peak: boolean;
  /** Joined to the mains without isolation between. */
  readonly joinedToMains: boolean;
  /** Reads the fed winding or the line itself, so that its fall shows that the feed is gone. */
  readonly onFed: boolean;
  readonly meter: MeterFacts | null;
}

/** The procedure in hand, with everything that decides what the guard will ask. */
export interface SetUp {
  readonly procedureId: string;
  /** Whether the test object is powered; winding resistance and insulation are not. */
  readonly energised: boolean;
  readonly checklists: readonly ChecklistId[];
  /** Circumstances that do not apply here; every other one counts as applying. */
  readonly ruledOut: readonly Circumstance[];
  readonly bench: BenchFacts;
  readonly channels: readonly ChannelFacts[];
  /** One meter is moved between channels, so it may fill more than one. */
  readonly oneMeter: boolean;
  readonly proposed: ProposedLimits;
  /** How many times faster than the clock practised time goes; absent is 1. Rates of rise and run times count in it. */
  readonly timeFactor?: number;
}

/** The highest volts anywhere on the bench with the supply on, and where; unknown as soon as one winding is. */
export type HighestVolts =
  | { readonly kind: 'known'; readonly volts: number; readonly where: string }
  | { readonly kind: 'unknown'; readonly where: string };

/** How much the guard asks: `handful` at or under the touch bound everywhere from an isolated source, else `base`. */
export type Grade = 'handful' | 'base';

/** The highest computed volts on the bench: the supply itself, every winding and the plug. */
export function highestVolts(bench: BenchFacts): HighestVolts {
  const places = [
    { where: 'supply', volts: bench.supply.volts },
    ...bench.windings.map(({ label, volts }) => ({ where: label, volts })),
    ...(bench.plug.kind === 'none'
      ? []
      : [{ where: 'plug', volts: bench.plug.kind === 'volts' ? bench.plug.volts : null }]),
  ];
  let highest: HighestVolts = { kind: 'known', volts: 0, where: 'supply' };
  for (const { where, volts } of places) {
    if (volts === null || !Number.isFinite(volts)) return { kind: 'unknown', where };
    if (Math.abs(volts) > highest.volts) highest = { kind: 'known', volts: Math.abs(volts), where };
  }
  return highest;
}

/** The grade that the bench facts come to; `base` when nothing is known. */
export function gradeOf(bench: BenchFacts | null, touchVolts: number): Grade {
  if (bench === null || bench.supply.kind !== 'isolated-low-voltage' || bench.fedWindingId === null) return 'base';
  const highest = highestVolts(bench);
  return highest.kind === 'known' && highest.volts <= touchVolts ? 'handful' : 'base';
}

/** Whether the supply joins the fed circuit to the mains. A variable transformer isolates nothing, at any setting. */
export const isJoinedToMains = (supply: Supply): boolean =>
  supply.kind === 'mains' || supply.kind === 'mains-through-lamp' || supply.kind === 'variable-transformer';

/** A reading as the guard sees it: in the base unit of its channel. */
export type SeenReading =
  | { readonly kind: 'number'; readonly value: number; readonly unit: string; readonly coupling: Coupling | null }
  /** Beyond the range; `atLeast` is the top of the range where that is known. */
  | {
      readonly kind: 'overload';
      readonly atLeast: number | null;
      readonly unit: string | null;
      readonly coupling: Coupling | null;
    }
  | { readonly kind: 'unreadable' };
