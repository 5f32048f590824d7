import type { ProofPoint, ProofStep } from '../../../src-shared/interlock/proof.ts';
import type { LastProof } from '../../../src-shared/interlock/proof.ts';
import type { LapseCause, ProofFailure } from '../../../src-shared/interlock/why.ts';
import type { InvalidatingEvent } from '../../../src-shared/interlock/check.ts';
import { assertNever } from '../../../src-shared/quantity/assert-never.ts';
import { formatNumber } from '../../../src-shared/quantity/format.ts';

const eventWords: Readonly<Record<InvalidatingEvent, string>> = {
  pow: 'power was declared on',
  plug: 'the plug was put in',
  wire: 'you changed the wiring',
  supply: 'the supply was changed',
  build: 'a winding or the core was changed',
  move: 'the transformer was moved or opened',
  meter: 'a meter, its leads or its range was changed',
  load: 'the load was changed',
  away: 'you left the bench',
  hand: 'another person took over',
  trip: 'a limit was crossed',
  restart: 'the program began again',
  volts: 'volts were seen with power declared off',
  sess: 'the session ended',
};

/** Why a check is asked again, in the words of the bench. */
export function lapseWords(cause: LapseCause): string {
  switch (cause.kind) {
    case 'time':
      return `stands ${cause.minutes >= 120 ? `${Math.round(cause.minutes / 60)} h` : `${cause.minutes} min`} at most`;
    case 'event':
      return eventWords[cause.event];
    case 'withdrawn':
      return `taken back by ${cause.by}`;
    case 'not-seen-any-more':
      return 'the program does not see it any more';
    case 'new-volts-table':
      return 'the volts were computed anew';
    case 'used-up':
      return 'it was for one use';
    case 'new-proof-needed':
      return 'a new proof is needed';
    case 'clock':
      return 'nobody knows how long it has stood';
    default:
      return assertNever(cause);
  }
}

const couplingWords = { ac: 'a.c.', dc: 'd.c.', both: 'a.c. and d.c.' } as const;

const pairWords = {
  'L-N': 'Line to neutral',
  'L-core': 'Line to core',
  'N-core': 'Neutral to core',
} as const;

/** Where the leads are held. */
export function pointWords(point: ProofPoint): string {
  switch (point.kind) {
    case 'known1':
      return 'Known source';
    case 'pair':
      return pairWords[point.pair];
    case 'winding':
      return `${point.label}, end to end`;
    case 'known2':
      return 'Known source again';
    default:
      return assertNever(point);
  }
}

/** One step of a proof: `Line to neutral, a.c.`. */
export const stepWords = ({ point, coupling }: ProofStep): string =>
  coupling === 'both' ? pointWords(point) : `${pointWords(point)}, ${couplingWords[coupling]}`;

const volts = (value: number): string => `${formatNumber(value, 4)} V`;

/** What a proof failed on, and what that means. */
export function failureWords(failure: ProofFailure): string {
  switch (failure.code) {
    case 'known-wrong':
      return (
        `The known source, ${couplingWords[failure.coupling]}, should read ${volts(failure.declaredVolts)} and read ` +
        `${failure.readVolts === null ? 'beyond the range' : volts(failure.readVolts)} ` +
        `${failure.before ? 'before' : 'after'} the circuit: the meter, its leads or its range cannot be trusted, so nothing is proved.`
      );
    case 'indicator-dark':
      return (
        `The indicator stayed dark on the known source ${failure.before ? 'before' : 'after'} the circuit: it cannot ` +
        'be trusted, so nothing is proved.'
      );
    case 'volts-found':
      return failure.volts === null
        ? `There is voltage at ${failure.where}. Do not touch. Look at the plug, then prove again.`
        : `${volts(failure.volts)} ${couplingWords[failure.coupling]} at ${failure.where}, where under ` +
            `${volts(failure.thresholdVolts)} counts as dead. Do not touch. Look at the plug, then prove again.`;
    default:
      return assertNever(failure);
  }
}

/** What a proof proved, and by what. */
export function proofWords({ kind }: LastProof): string {
  switch (kind) {
    case 'meter':
      return 'Circuit proved dead by meter';
    case 'indicator':
      return 'Circuit proved dead by two-pole indicator';
    case 'plug-out-low-volts':
      return 'Own plug seen out; low volts only';
    case 'between-points':
      return 'Plug out and clipped meter fell; hands off metal';
    default:
      return assertNever(kind);
  }
}
