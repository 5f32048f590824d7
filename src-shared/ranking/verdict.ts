import type { Aspect, AspectKind, Grade } from './aspect.ts';
import { byCircuit } from './circuit.ts';
import type { CoreFacts } from './core-facts.ts';
import type { Demand } from './demand.ts';
import { byFlux } from './flux.ts';
import { byHeat } from './heat.ts';
import { byInsulation } from './insulation.ts';
import { missingOf, type MissingKind } from './missing.ts';
import { byIronAndWindow, byMass } from './power.ts';
import { sizeOf, type Size } from './size.ts';
import { byWindow } from './window.ts';

/** What a core comes to for a need, best first; `not-known` stands between doing and not doing: it is neither. */
export const standings = ['will-do', 'as-far-as-known', 'not-known', 'minutes', 'will-not'] as const;
export type Standing = (typeof standings)[number];

/** One core held against one need. */
export interface Verdict {
  readonly coreId: number;
  readonly buildId: number | null;
  readonly standing: Standing;
  /** In the order in which they are shown. */
  readonly aspects: readonly Aspect[];
  readonly size: Size | null;
  readonly missing: readonly MissingKind[];
  /** The tightest of what is known: 1 takes all that there is; 0 where nothing is known. */
  readonly tightest: number;
}

/** Whether the power is known at all, one way or the other. */
const tellsPower: readonly AspectKind[] = ['mass', 'iron-and-window'];
/** What has to be known before a core is said to do. A heat run and a circuit make it surer. */
const decisive: readonly AspectKind[] = ['iron-and-window', 'flux', 'window'];

function standingOf(aspects: readonly Aspect[]): Standing {
  const has = (grade: Grade) => aspects.some((aspect) => aspect.grade === grade);
  if (has('not-met')) return 'will-not';
  if (has('minutes')) return 'minutes';
  const isPowerKnown = aspects.some(({ kind, grade }) => tellsPower.includes(kind) && grade !== 'not-known');
  if (!isPowerKnown) return 'not-known';
  const isOpen = aspects.some(({ kind, grade }) => decisive.includes(kind) && grade === 'not-known');
  return isOpen || has('close') ? 'as-far-as-known' : 'will-do';
}

/** The tightest of the aspects that refuse, or of all that are known where none does. */
function tightestOf(aspects: readonly Aspect[]): number {
  const refusing = aspects.filter(({ grade }) => grade === 'not-met' || grade === 'minutes');
  const counted = refusing.length > 0 ? refusing : aspects.filter(({ grade }) => grade !== 'not-known');
  return Math.max(0, ...counted.map(({ share }) => share ?? 0));
}

/** Holds a core against a need in every respect. */
export function judge(facts: CoreFacts, demand: Demand): Verdict {
  const aspects = [byMass, byIronAndWindow, byFlux, byWindow, byHeat, byCircuit, byInsulation].map((by) =>
    by(facts, demand),
  );
  return {
    coreId: facts.coreId,
    buildId: facts.buildId,
    standing: standingOf(aspects),
    aspects,
    size: sizeOf(facts.fields),
    missing: missingOf(facts),
    tightest: tightestOf(aspects),
  };
}
