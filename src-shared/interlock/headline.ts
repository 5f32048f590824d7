import { assertNever } from '../quantity/assert-never.ts';
import { missingForReady } from './ready.ts';
import type { GuardState } from './state.ts';
import { proofWords, whyWords } from './why-words.ts';
import { stateWords } from './words.ts';

/** The natural next act, with the label of its control. */
export type NextAct =
  | { readonly kind: 'open-session'; readonly label: 'Begin at the bench' }
  | { readonly kind: 'prove-dead'; readonly label: 'Prove dead' }
  | { readonly kind: 'ready-check'; readonly label: 'Ready check' }
  /** Held for a second: begun, then confirmed. */
  | { readonly kind: 'power-on'; readonly label: 'Power on' }
  | { readonly kind: 'power-off'; readonly label: 'Power is off' };

/** What the strip says: the state, why it is so or what it stands on, and the natural next act. */
export interface Headline {
  readonly title: string;
  readonly why: string;
  readonly nextAct: NextAct;
}

/** The strip in words. It says what was proved or what is not known, and promises nothing. */
export function headline(state: GuardState): Headline {
  return { title: stateWords[state.kind], why: underTitle(state), nextAct: nextAct(state) };
}

function underTitle(state: GuardState): string {
  switch (state.kind) {
    case 'isolated': {
      const missing = missingForReady(state).length;
      const said = proofWords(state.lastProof);
      const back = state.why.code === 'proved' ? said : `${whyWords(state.why)} ${said}`;
      if (missing === 0 || state.setUp === null || !state.setUp.energised) return back;
      return `${back} ${missing} ${missing === 1 ? 'line is' : 'lines are'} missing for ready.`;
    }
    case 'unproved':
      return `${whyWords(state.why)} Treat it as live.`;
    case 'ready':
    case 'live':
    case 'tripped':
    case 'proving':
      return whyWords(state.why);
    default:
      return assertNever(state);
  }
}

function nextAct(state: GuardState): NextAct {
  switch (state.kind) {
    case 'live':
    case 'tripped':
      return { kind: 'power-off', label: 'Power is off' };
    case 'ready':
      return { kind: 'power-on', label: 'Power on' };
    case 'isolated':
      return { kind: 'ready-check', label: 'Ready check' };
    case 'proving':
      return { kind: 'prove-dead', label: 'Prove dead' };
    case 'unproved':
      return state.sessionId === null
        ? { kind: 'open-session', label: 'Begin at the bench' }
        : { kind: 'prove-dead', label: 'Prove dead' };
    default:
      return assertNever(state);
  }
}
