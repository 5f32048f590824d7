import { assertNever } from '../quantity/assert-never.ts';
import { checkById } from './checks.ts';
import type { LastProof } from './proof.ts';
import type { GuardKind, Lapse, ProofFailure, ProofKind, Why } from './why.ts';
import {
  figure,
  highestWords,
  lapseWords,
  measuredWords,
  quietWords,
  stateWords,
  timeWords,
  tripWords,
} from './words.ts';

const kindWords = { ac: 'a.c.', dc: 'd.c.', both: '' } as const;

/** What a proof failed on, as a sentence. */
export function failureWords(failure: ProofFailure): string {
  switch (failure.code) {
    case 'known-wrong': {
      const { coupling, declaredVolts, readVolts, before } = failure;
      const when = before ? 'before' : 'after';
      return (
        `The known source read ${measuredWords(readVolts, 'V')} ${kindWords[coupling]} ${when} the circuit, ` +
        `where ${figure(declaredVolts)} V was declared. The meter proves nothing until that is explained.`
      );
    }
    case 'indicator-dark':
      return `The indicator stayed dark on the known source ${failure.before ? 'before' : 'after'} the circuit. It proves nothing.`;
    case 'volts-found':
      return failure.volts === null
        ? `There are volts from ${failure.where}. Do not touch. Find what feeds it.`
        : `${figure(failure.volts)} V ${kindWords[failure.coupling]} stands at ${failure.where}. Do not touch. Find what feeds it.`;
    default:
      return assertNever(failure);
  }
}

const proofWordsByKind: Readonly<Record<ProofKind, string>> = {
  meter: 'Proved dead with a meter: known source, every pair, known source again.',
  indicator: 'Proved dead with a two-pole indicator: lights, nothing, lights.',
  'plug-out-low-volts':
    'Only this was proved: the transformer’s own plug is out. The low-voltage source and the windings were not measured.',
  'between-points':
    'Between two points: the plug is out, and the clipped meter fell below the threshold. Core and windings were not measured: touch no metal.',
};

/** What was proved, and how; when is for the page to say. */
export function proofWords({ kind, instrument, by }: LastProof): string {
  const means = instrument === null ? '' : ` With ${instrument.label}.`;
  return `${proofWordsByKind[kind]}${means} By ${by}.`;
}

/** Why the guard is in its state, as a sentence. */
export function whyWords(why: Why): string {
  switch (why.code) {
    case 'begun':
      return 'The program has begun. Nothing is known.';
    case 'session-opened':
      return 'A session was opened. Nothing is known of this bench yet.';
    case 'session-ended':
      return 'The session was ended.';
    case 'restarted':
      return why.was === null
        ? 'The program was started again. Nothing is known now.'
        : `The program was started again; it was ${stateWords[why.was].toLowerCase()} before. Nothing is known now.`;
    case 'proved':
      return proofWordsByKind[why.proof];
    case 'proof-failed':
      return failureWords(why.failure);
    case 'proof-begun':
      return 'A new proof was begun.';
    case 'lapsed':
      return lapsesWords(why.lapses);
    case 'volts-seen':
      return `${measuredWords(why.volts, 'V')} on ${why.label}${offWords(why.was)}`;
    case 'all-confirmed':
      return 'Every must was confirmed, the limits are set, the meters answer.';
    case 'declared-on':
      return `${why.by} declared power on.`;
    case 'tripped':
      return tripWords(why.trip);
    case 'declared-off':
      return `${why.by} declared power off. Not yet proved dead.`;
    case 'off-without-on':
      return `${why.by} declared power off; it had not been declared on, so it may have been. Prove it dead again.`;
    case 'set-up-changed':
      return 'The set-up was changed.';
    case 'meter-quiet':
      return `${why.label}: ${quietWords(why.seconds)}.`;
    case 'grade-rose':
      return `${highestWords(why.highest)} The checks for low voltage do not do any more.`;
    case 'clock-stepped':
      return `The clock of the computer was set back by ${timeWords(why.backMs / 1000)}. How long the proof has stood is not known.`;
    default:
      return assertNever(why);
  }
}

const offWords = (was: GuardKind): string =>
  was === 'proving' ? '. Power was declared off. Do not touch.' : '. Power was not declared on. Do not touch.';

function lapsesWords(lapses: readonly Lapse[]): string {
  const [first] = lapses;
  if (first === undefined) return 'What it stood on has lapsed.';
  const text = checkById(first.checkId)?.text ?? first.checkId;
  const more = lapses.length === 1 ? '' : ` And ${lapses.length - 1} more.`;
  return `“${text}” does not stand any more: ${lapseWords(first)}.${more}`;
}
