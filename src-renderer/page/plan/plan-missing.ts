import { formatNumber } from '../../../src-shared/quantity/format.ts';
import type { Build } from '../../../src-shared/record/build.ts';
import type { Place } from '../../state/route.svelte.ts';
import type { PlanNumbers } from './plan-asked.ts';
import { hasShortCircuit, othersOf, primaryBuildMm, type PlanBasis } from './plan-record.ts';

/** One thing that would make the plan surer: what, and what it does. `at` is where it is put right. */
export interface Missing {
  readonly what: string;
  readonly why: string;
  readonly at: 'bench' | 'core' | 'edit-core' | null;
  /** Without it there is no plan at all: what its button says. */
  readonly act?: string;
}

/** Where a thing that is missing is put right, for a build; null where no one place does it. */
export function missingPlace(at: Missing['at'], { coreId, buildId }: Build): Place | null {
  if (at === 'bench') return { kind: 'bench', part: `build-${buildId}` };
  if (at === 'core') return { kind: 'core', coreId, buildId };
  return at === 'edit-core' ? { kind: 'edit-core', coreId } : null;
}

/** A part of the volts that nobody notices. */
const worthSaying = 0.002;

/** What of the record the room of the primary waits for, in words. */
function roomWaitsFor({ core, primary, turns }: PlanBasis): string {
  const waits = [
    ...(turns === null ? ['Its turns'] : []),
    ...(primary?.bareDiameter === undefined ? ['Its wire'] : []),
    ...(core.windowWidth === undefined || core.windowHeight === undefined ? ['The window'] : []),
  ];
  if (waits.length === 0) return 'It does not fit the window as it stands on record';
  const [first, ...rest] = waits;
  const words = [first, ...rest.map((each) => each.toLowerCase())].join(' and ');
  return `${words} ${waits.length > 1 || turns === null ? 'are' : 'is'} not on record`;
}

/**
 * What is missing for a better answer, most telling first. `off`: windings that come off before this is wound; null where the
 * person measured the room, so that what takes it no longer matters.
 */
export function missingFor(basis: PlanBasis, numbers: PlanNumbers, off: readonly number[] | null): readonly Missing[] {
  const { core, primary, turns } = basis;
  const missing: Missing[] = [];
  if (primary === undefined) {
    missing.push({
      what: 'No primary described',
      why: 'Begin with the winding that goes to the plug.',
      at: 'core',
      act: 'Describe the primary',
    });
  } else if (turns === null) {
    missing.push({
      what: 'Primary turns',
      why: 'A test coil of a few turns finds them.',
      at: 'bench',
      act: 'Find the turns',
    });
  } else if (turns.u / turns.value > worthSaying) {
    const percent = formatNumber((100 * turns.u) / turns.value, 2);
    const why = `± ${formatNumber(turns.u, 2)} turns are ${percent} % of every volt here: another test coil, or exchanged meters.`;
    missing.push({ what: 'Primary turns, closer', why, at: 'bench' });
  }
  if (core.tongue === undefined || core.stack === undefined) {
    missing.push({
      what: 'Tongue and stack',
      why: 'They give length of turn and flux.',
      at: 'edit-core',
      act: 'Measure the core',
    });
  }
  if (core.tongue?.u === null || core.stack?.u === null) {
    const why = 'Without it no figure here can say how sure it is.';
    missing.push({ what: 'Give or take of tongue and stack', why, at: 'edit-core' });
  }
  if (core.windowWidth === undefined || core.windowHeight === undefined) {
    missing.push({ what: 'Window of the core', why: 'The room typed here is all there is to go by.', at: 'edit-core' });
  }
  if (primary !== undefined && primary.ohms === undefined) {
    missing.push({
      what: 'Resistance of the primary',
      why: 'Its drop is not in these volts: they are too high.',
      at: 'core',
    });
  }
  if (primary?.ohms?.u === null) {
    missing.push({
      what: 'Give or take of the primary’s resistance',
      why: 'So that the drop can say how sure it is.',
      at: 'core',
    });
  }
  if (primary?.ohms !== undefined && primary.metal === 'not-known') {
    missing.push({
      what: 'Metal of the primary',
      why: 'Warmed as copper; aluminium is common in cheap ones.',
      at: 'core',
    });
  }
  const isRing = core.shape === 'toroid';
  if (numbers.leakage === undefined && !isRing) {
    const why = hasShortCircuit(basis)
      ? 'Counted as nothing: the short-circuit test kept here does not say which winding was fed.'
      : 'Counted as nothing. A short-circuit test fed into the primary tells it.';
    missing.push({ what: 'Leakage reactance', why, at: 'bench' });
  }
  if (off === null || isRing) return missing;
  if (primary !== undefined && primaryBuildMm(basis) === null) {
    missing.push({
      what: 'Room that the primary takes',
      why: `${roomWaitsFor(basis)}, so nothing was taken off the window.`,
      at: 'core',
    });
  }
  const unknown = othersOf(basis).filter(
    ({ winding, heightMm }) => heightMm === null && !off.includes(winding.windingId),
  );
  if (unknown.length > 0) {
    const names = unknown.map(({ winding }) => winding.fields.label).join(', ');
    missing.push({
      what: 'Other windings of this build',
      why: `${names}: not taken off the free room, since turns or wire are not on record. Take off what stays.`,
      at: 'core',
    });
  }
  return missing;
}
