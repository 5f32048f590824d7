import type { Build, Winding } from '../../../src-shared/record/build.ts';
import type { CoreFields } from '../../../src-shared/record/core.ts';

/** What is the sensible thing to do next with a core. */
export interface NextStep {
  readonly title: string;
  readonly why: string;
  readonly act: 'add-winding' | 'find-turns' | 'measure-core' | 'correct-primary' | 'none';
  readonly button: string;
}

/** The winding that is fed: the first primary of a build. */
export const primaryOf = (build: Build | undefined): Winding | undefined =>
  build?.windings.find(({ fields }) => fields.role === 'primary');

/** Above this many turns of doubt another test coil is worth its while. */
const worthAnotherCoil = 1;

/** The next step for a core and its build, in the order of the job. */
export function nextStep(fields: CoreFields, build: Build | undefined): NextStep {
  const primary = primaryOf(build);
  if (primary === undefined) {
    return {
      title: 'Next: say what is wound on it.',
      why: 'Begin with the winding that goes to the plug. Its turns may stay unknown: a test coil finds them.',
      act: 'add-winding',
      button: 'Add the primary',
    };
  }
  const { turns } = primary.fields;
  if (turns.kind === 'unknown') {
    return {
      title: 'Next: find the primary turns.',
      why: 'A test coil of a few turns, a low voltage, two readings. Nothing has to be taken apart.',
      act: 'find-turns',
      button: 'To the bench',
    };
  }
  if (fields.tongue === undefined || fields.stack === undefined) {
    return {
      title: 'Next: measure tongue and stack.',
      why: 'With the turns known, the iron area tells how hard the core is driven.',
      act: 'measure-core',
      button: 'Add the figures',
    };
  }
  if (turns.kind === 'estimated' && turns.u > worthAnotherCoil) {
    return {
      title: 'Next: the turns once more, closer.',
      why: 'They are still open by more than one. One meter on one range for both, or the meters exchanged, takes their gain out.',
      act: 'find-turns',
      button: 'To the bench',
    };
  }
  if (primary.fields.ohms === undefined) {
    return {
      title: 'Next: measure the primary’s resistance.',
      why: 'Cold, with its temperature: it tells the metal, and later how warm the winding was.',
      act: 'correct-primary',
      button: 'Add the figure',
    };
  }
  return {
    title: 'Nothing is missing here.',
    why: 'Turns, iron and resistance of the primary are on record. A change of the windings makes the next build.',
    act: 'none',
    button: '',
  };
}
