import { adjustmentsOf } from '../../../src-shared/comparison/adjustment.ts';
import type { PlanWhole } from '../../../src-shared/contract/plan-view.ts';
import { cautionText } from '../../../src-shared/interlock/cautions.ts';
import type { Build } from '../../../src-shared/record/build.ts';
import type { CoreFields } from '../../../src-shared/record/core.ts';
import { primaryOf } from '../../../src-shared/record/primary.ts';
import type { Result } from '../../../src-shared/record/run.ts';
import type { Place } from '../../state/route.svelte.ts';

/** What is the sensible thing to do next with a core. */
export interface NextStep {
  readonly title: string;
  readonly why: string;
  readonly button: string;
  /** Where it is done: in the dialog of the primary, or at a place; null where there is nothing to do. */
  readonly to: { readonly kind: 'primary' } | { readonly kind: 'place'; readonly place: Place } | null;
}

/** What the next step is judged by. */
export interface StandOfCore {
  readonly coreId: number;
  readonly fields: CoreFields;
  /** The build that is shown; undefined before there is one. */
  readonly build: Build | undefined;
  readonly builds: readonly Build[];
  readonly results: readonly Result[];
  readonly plans: readonly PlanWhole[];
  /** Today as year, month, day. */
  readonly today: string;
}

/** Above this many turns of doubt another test coil is worth its while. */
const worthAnotherCoil = 1;

const at = (title: string, why: string, button: string, place: Place): NextStep => ({
  title: `Next: ${title}`,
  why,
  button,
  to: { kind: 'place', place },
});
const onPrimary = (title: string, why: string, button: string): NextStep => ({
  title: `Next: ${title}`,
  why,
  button,
  to: { kind: 'primary' },
});
const bench = (title: string, why: string, { buildId }: Build): NextStep =>
  at(title, why, 'To the bench', { kind: 'bench', part: `build-${buildId}` });

/** What the winding that is fed is still in want of; null when it is known. */
function aboutPrimary({ coreId, fields, builds, results }: StandOfCore, build: Build): NextStep | null {
  const primary = primaryOf(build);
  if (primary === undefined) {
    const isDead =
      'Before hands go near it: plug out, capacitors discharged, and proved dead by your own meter. ' +
      (fields.fromAppliance === true ? `${cautionText('c-cap', {})} ` : '');
    return onPrimary(
      'say what is wound on it.',
      `${isDead}Begin with the winding that goes to the plug. Its turns may stay unknown: a test coil finds them.`,
      'Add the primary',
    );
  }
  const { turns, ohms } = primary.fields;
  if (turns.kind === 'unknown') {
    return bench(
      'find the primary turns.',
      'A test coil of a few turns, a low voltage, two readings. Nothing has to be taken apart.',
      build,
    );
  }
  if (fields.tongue === undefined || fields.stack === undefined) {
    return at(
      'measure tongue and stack.',
      'With the turns known, the iron area tells how hard the core is driven.',
      'Add the figures',
      { kind: 'edit-core', coreId },
    );
  }
  // Whoever went on to the curve has decided that the turns are known well enough.
  const wentOn = build.number > 1 || results.some(({ calculation }) => calculation === 'excitation');
  if (turns.kind === 'estimated' && turns.u > worthAnotherCoil && !wentOn) {
    return bench(
      'the turns once more, closer.',
      'They are still open by more than one. One meter on one range for both, or the meters exchanged, takes their gain out.',
      build,
    );
  }
  if (ohms !== undefined) return null;
  const isRewound = builds.length > 1 && primary.fields.turnsAdded !== undefined;
  return onPrimary(
    'measure the primary’s resistance.',
    isRewound
      ? 'It has other turns than when it was measured. Cold, with its temperature: it tells later how warm the winding was.'
      : 'Cold, with its temperature: it tells the metal, and later how warm the winding was.',
    'Add the figure',
  );
}

/** From a core that is known to one that is wound: its curve, a plan, the winding. */
function towardsWinding({ coreId, plans }: StandOfCore, build: Build, has: (name: string) => boolean): NextStep | null {
  const plan = plans.findLast(({ buildId }) => buildId === build.buildId);
  const version = plan?.versions.at(-1);
  if (version !== undefined) {
    const { number, fields, revisionId, stale } = version;
    return stale.length > 0
      ? at(
          'look at the plan again.',
          `“${fields.title}” stood on figures that are others now. Keep it once more, with the new ones.`,
          'To the plan',
          { kind: 'plan', buildId: build.buildId },
        )
      : at(
          `wind it, by version ${number} of “${fields.title}”.`,
          'When it is wound, enter what it really became: that makes the next build, with the plan beside it.',
          'As wound',
          { kind: 'wound', coreId, planRevisionId: revisionId },
        );
  }
  if (build.number > 1) return null;
  if (!has('excitation')) {
    return bench(
      'the no-load curve.',
      'Current against volts, as it is: it tells what more primary turns would do, and is what the next build is held against.',
      build,
    );
  }
  return at(
    'plan what it is to give.',
    'Turns, iron and the curve are on record: the plan tells the secondary, and whether the primary wants more turns.',
    'To the plan',
    { kind: 'plan', buildId: build.buildId },
  );
}

/** What is to be proved of a build that was wound, in the order of the job. */
function towardsProof(stand: StandOfCore, build: Build, has: (name: string) => boolean): NextStep | null {
  const { coreId, builds, results, today } = stand;
  const { curedOn } = build.fields;
  if (curedOn !== undefined && curedOn > today) {
    return { title: `Next: wait until ${curedOn}.`, why: cautionText('c-varn', {}), button: '', to: null };
  }
  if (!has('insulation-resistance')) {
    return bench(
      'insulation, before any power.',
      'Each winding to the others and to the core, now that it is closed up. Windings that were just threaded are scraped easily.',
      build,
    );
  }
  if (!has('no-load') && !has('excitation')) {
    return bench(
      'a no-load point.',
      'Through the lamp first. The current tells within a second whether added turns aid or oppose; with the volts of the output it tells whether the turns are right.',
      build,
    );
  }
  const change = adjustmentsOf(results, build.buildId).find(({ verdict }) => verdict === 'change');
  if (change !== undefined) {
    return at(
      `${change.title.charAt(0).toLowerCase()}${change.title.slice(1)}`,
      `${change.why} Then enter it as the next build.`,
      'As wound',
      { kind: 'wound', coreId, planRevisionId: null },
    );
  }
  if (!has('heat-run')) {
    return bench('a heat run.', 'Where it ends if it stays on, and how long it may. Stay with it.', build);
  }
  if (!has('loaded-run') && build.windings.some(({ fields }) => fields.role === 'secondary')) {
    return bench('a loaded run.', 'Volts against amps, with the sag of the house wiring taken out.', build);
  }
  const before = builds.find(({ number }) => number === build.number - 1);
  if (before === undefined) return null;
  return at(
    `compare with build ${before.number}.`,
    'The same tests on both: what changed, by how much, and whether these meters can tell.',
    'Compare',
    { kind: 'compare', before: before.buildId, after: build.buildId },
  );
}

/** The next step for a core and its build, in the order of the job. */
export function nextStep(stand: StandOfCore): NextStep {
  const { coreId, build, builds, results } = stand;
  const nothing = {
    title: 'Nothing is missing here.',
    why: 'A change of the windings makes the next build.',
    button: '',
    to: null,
  };
  if (build === undefined) return nothing;
  const later = builds.find(({ number }) => number === build.number + 1);
  const latest = builds.at(-1);
  if (later !== undefined && latest !== undefined) {
    return {
      title: `This is how it was: build ${latest.number} is the latest.`,
      why: 'What was measured stays with the build it was measured on.',
      button: `To build ${latest.number}`,
      to: { kind: 'place', place: { kind: 'core', coreId, buildId: latest.buildId } },
    };
  }
  const has = (name: string) => results.some((one) => one.buildId === build.buildId && one.calculation === name);
  const isWound = build.number > 1;
  return (
    aboutPrimary(stand, build) ??
    (isWound ? null : towardsWinding(stand, build, has)) ??
    (isWound ? towardsProof(stand, build, has) : null) ??
    nothing
  );
}
