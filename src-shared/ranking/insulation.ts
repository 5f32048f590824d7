import { notKnown, type Aspect } from './aspect.ts';
import type { CoreFacts } from './core-facts.ts';

/** The last insulation test against the figure that the person chose. */
export function byInsulation({ insulation }: CoreFacts): Aspect {
  const kind = 'insulation';
  switch (insulation) {
    case 'met':
      return { kind, grade: 'met', share: null, words: 'Met the figure that was chosen.', gives: null };
    case 'not-met': {
      const words = 'The last test did not meet the figure that was chosen.';
      return { kind, grade: 'not-met', share: null, words, gives: 'dry it, look for the cause, and test it again' };
    }
    case 'unclear':
      return notKnown(kind, 'The last test was too near to the figure that was chosen.');
    case 'not-applicable':
      return notKnown(kind, 'One end is on the core: the reading tells nothing.');
    case null:
      return notKnown(kind, 'Not tested.');
  }
}
