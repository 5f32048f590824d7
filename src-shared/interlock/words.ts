import { assertNever } from '../quantity/assert-never.ts';
import type { HighestVolts } from './bench.ts';
import type { InvalidatingEvent } from './check.ts';
import { checkById, type CheckId } from './checks.ts';
import type { Refusal } from './refusal.ts';
import type { Alarm } from './state.ts';
import type { GuardKind, Lapse, Trip } from './why.ts';

/** A figure as the bench reads it: three significant digits, no exponent. */
export const figure = (value: number): string => String(Number(value.toPrecision(3)));

/** A measured figure with its unit; beyond the range where there is none. */
export const measuredWords = (value: number | null, unit: string): string =>
  value === null ? 'more than the meter can show' : `${figure(value)} ${unit}`;

/** A length of time: whole seconds under two minutes, whole minutes above. */
export function timeWords(seconds: number): string {
  return seconds < 120 ? `${Math.round(seconds)} s` : `${Math.round(seconds / 60)} min`;
}

/** How long a meter has said nothing; one whose lead was just pulled has gone quiet this instant. */
export const quietWords = (seconds: number): string =>
  Math.round(seconds) < 1 ? 'its meter has gone quiet' : `its meter has been quiet for ${timeWords(seconds)}`;

/** That somebody, or the network, set the computer's time by `byMs`. */
export const clockSetWords = (byMs: number): string =>
  `The computer’s time was set ${timeWords(Math.abs(byMs) / 1000)} ${byMs > 0 ? 'forward' : 'back'}. ` +
  'Times of day after this are by the new setting; lengths of time are not touched by it.';

export const stateWords: Readonly<Record<GuardKind, string>> = {
  unproved: 'Unproved',
  isolated: 'Isolated',
  ready: 'Ready',
  live: 'Live',
  tripped: 'Tripped',
  proving: 'Proving',
};

const eventWords: Readonly<Record<InvalidatingEvent, string>> = {
  pow: 'power was declared on',
  plug: 'it was plugged in',
  wire: 'the wiring was changed',
  supply: 'the supply was changed',
  build: 'a winding or the core was changed',
  move: 'the transformer was moved or opened',
  meter: 'a meter, its leads or its range was changed',
  load: 'the load was changed',
  away: 'the bench was left',
  hand: 'another person took over',
  trip: 'a limit was crossed',
  restart: 'the program was started again',
  volts: 'volts were seen while power was declared off',
  sess: 'the session ended',
};

/** Why a check does not stand any more, without its text: "the wiring was changed". */
export function lapseWords({ cause }: Lapse): string {
  switch (cause.kind) {
    case 'time':
      return `it had stood for ${cause.minutes} minutes`;
    case 'event':
      return eventWords[cause.event];
    case 'withdrawn':
      return `${cause.by} took it back`;
    case 'not-seen-any-more':
      return 'what the program sees does not bear it out any more';
    case 'new-volts-table':
      return 'the volts of the windings were computed anew';
    case 'used-up':
      return 'it was for one use';
    case 'new-proof-needed':
      return 'it belonged to a proof that does not count any more';
    case 'clock':
      return 'the clock of the computer was set back';
    default:
      return assertNever(cause);
  }
}

/** The highest volts on the bench, as a sentence. */
export const highestWords = (highest: HighestVolts): string =>
  highest.kind === 'known'
    ? `The highest is ${figure(highest.volts)} V, on ${highest.where}.`
    : `The volts on ${highest.where} are not known: treat it as lethal.`;

/** What tripped, as sentences that begin with what happened. */
export function tripWords(trip: Trip): string {
  const off = 'Switch off at the plug now. Recording goes on.';
  switch (trip.code) {
    case 'limit': {
      const { label, value, unit, limit, bound } = trip;
      const reached = bound === 'max' ? 'reached' : 'fell to';
      return `${label} ${reached} ${measuredWords(value, unit)}, limit ${figure(limit)} ${unit}. ${off}`;
    }
    case 'rise':
      return (
        `${trip.label} rises ${figure(trip.perMinute)} ${trip.unit} a minute, ` +
        `limit ${figure(trip.limit)} ${trip.unit} a minute. ${off}`
      );
    case 'run-time':
      return `Power was on for ${timeWords(trip.limitSeconds)}, the time set for it. ${off}`;
    case 'silence':
      return trip.source === 'meter'
        ? `${trip.label}: ${quietWords(trip.seconds)}, and nothing else watches it. ${off}`
        : `${trip.label}: nothing was typed for ${timeWords(trip.seconds)}. ${off}`;
    case 'slept':
      return `The computer slept, or held this program still, for ${timeWords(trip.seconds)} with power declared on; nothing watched. ${off}`;
    case 'grade-rose':
      return `${highestWords(trip.highest)} Power is on under the checks for low voltage alone. ${off}`;
    default:
      return assertNever(trip);
  }
}

/** What an alarm says: what happened, then what to do. */
export function alarmWords(alarm: Alarm): string {
  switch (alarm.code) {
    case 'volts-seen':
      return alarm.was === 'proving'
        ? `${measuredWords(alarm.volts, 'V')} is still there, on ${alarm.label}. Do not touch. Switch off and unplug.`
        : `${measuredWords(alarm.volts, 'V')} on ${alarm.label} while power is not declared on. Do not touch. Switch off and unplug.`;
    case 'volts-found':
      return `${measuredWords(alarm.volts, 'V')} from ${alarm.where}. Do not touch. Switch off and unplug.`;
    case 'tripped':
      return tripWords(alarm.trip);
    case 'warn':
      return `${alarm.label} has reached ${measuredWords(alarm.value, alarm.unit)}; you asked to be told at ${figure(alarm.limit)} ${alarm.unit}.`;
    case 'overload':
      return `${alarm.label} is beyond its meter’s range. Nothing can be held against its limit.`;
    case 'volts-gone':
      return `${alarm.label}: ${measuredWords(alarm.volts, 'V')}, and power is declared on. Did you pull the plug? Then say that power is off. If not, a fuse, an RCD or a lead has let go: it may come back at any moment.`;
    case 'meter-quiet':
      return `${alarm.label}: ${quietWords(alarm.seconds)}. Look at the meter.`;
    case 'typed-late':
      return `${alarm.label}: nothing was typed for ${timeWords(alarm.seconds)}. Type a value, or switch off.`;
    case 'changed-while-live':
      return `Changed with power on: ${alarm.what.join(', ')}. Switch off at the plug first.`;
    case 'restarted-while-live':
      return 'The program stopped while power was declared on. Nothing is known now. Look at the plug, then prove it dead.';
    case 'clock':
      return 'The clock of the computer was set back with power on. Times may be wrong: watch the bench, not the clock.';
    default:
      return assertNever(alarm);
  }
}

const checkText = (id: string): string => `“${checkById(id)?.text ?? id}”`;
const listWords = (ids: readonly CheckId[]): string => ids.map(checkText).join(' ');

/** Why an event was refused, as a sentence that says what to do. */
export function refusalWords(refusal: Refusal): string {
  switch (refusal.code) {
    case 'stale':
      return 'The bench has changed since you looked. Nothing was done; look again.';
    case 'no-session':
      return 'No session is open. Open one first.';
    case 'session-open':
      return 'A session is open already. End it first.';
    case 'no-set-up':
      return 'No procedure is chosen. Choose one and say which meter fills which channel.';
    case 'not-energised':
      return 'This procedure needs no power: isolated is the right state for it.';
    case 'not-in-this-state':
      return `Not while the bench is ${stateWords[refusal.state].toLowerCase()}.`;
    case 'power-is-on':
      return 'Power counts as on. Switch off at the plug and say so first.';
    case 'not-ready':
      return `Not ready: ${refusal.missing.length} ${refusal.missing.length === 1 ? 'thing is' : 'things are'} missing. The list says which.`;
    case 'hold-not-begun':
      return 'The bar is not being held. Press it and hold it.';
    case 'hold-too-short':
      return `The bar was held for ${figure(refusal.heldMs / 1000)} s. Hold it for ${figure(refusal.limitMs / 1000)} s.`;
    case 'hold-too-long':
      return 'That was too long after the bar was pressed. Press it again.';
    case 'not-asked':
      return `${checkText(refusal.checkId)} is not asked here.`;
    case 'seen-by-program':
      return `${checkText(refusal.checkId)} is ticked by the program when it sees it.`;
    case 'not-seen-by-program':
      return `${checkText(refusal.checkId)} is not for the program to tick.`;
    case 'needs-proof':
      return `${checkText(refusal.checkId)} is read with a meter or an indicator, as a step of the proof.`;
    case 'checks-first':
      return `Before the leads touch anything, confirm: ${listWords(refusal.checkIds)}`;
    case 'must-not-skipped':
      return 'This line is a must. It is not passed over.';
    case 'reason-needed':
      return 'Say why. Looser limits and lines passed over are kept with their reason.';
    case 'proof-begun':
      return 'A proof is under way. Finish it or give it up first.';
    case 'no-proof-begun':
      return 'No proof is under way. Begin one.';
    case 'another-step':
      return 'That is not the next step of the proof. Nothing was taken.';
    case 'another-meter':
      return 'That is another meter than the proof was begun with. The same meter and leads for all of it.';
    case 'another-instrument':
      return 'That is not what the instrument of this proof can say.';
    case 'another-coupling':
      return `The meter is on ${refusal.sent}; this step is ${refusal.asked === 'ac' ? 'a.c.' : 'd.c.'}.`;
    case 'range-not-locked':
      return 'Lock the range: the known source and the circuit are read on the same one.';
    case 'another-range':
      return 'That is another range than the proof was begun with. The same range for all of it.';
    case 'low-impedance-not-asked':
      return 'The low-impedance input is for a reading that has to be explained. Read this one the usual way.';
    case 'low-impedance-asked':
      return 'Read this point again with the low-impedance input, or with a lamp across.';
    case 'known-too-low':
      return `A known source of ${figure(refusal.volts)} V ${refusal.coupling === 'ac' ? 'a.c.' : 'd.c.'} is too low: at least ${figure(refusal.lowestVolts)} V.`;
    case 'known-too-long-ago':
      return `The known source was read ${figure(refusal.minutes)} min from the circuit; ${refusal.limitMinutes} min is the most. Begin the proof again.`;
    case 'proof-meter-unrated':
      return refusal.maxVolts === null
        ? `What this instrument is rated for is not known; this circuit could hold ${figure(refusal.neededVolts)} V.`
        : `This instrument is rated for ${figure(refusal.maxVolts)} V; this circuit could hold ${figure(refusal.neededVolts)} V.`;
    case 'practice-does-not-count':
      return 'A practice instrument proves nothing on a real bench.';
    case 'grade-needs-full-proof':
      return 'The plug alone is enough only for a low-voltage test coil with every winding known and under the bound. Prove it dead.';
    case 'metal-needs-full-proof':
      return 'Before hands touch metal the whole proof is made.';
    case 'no-series':
      return 'There is no series to go on with: something was changed, or no full proof with a meter began it. Prove it dead.';
    case 'fall-not-seen':
      return 'The clipped meter was not seen well above the threshold with power on and below it since the plug came out. Prove it dead.';
    case 'volts-still-there':
      return `${measuredWords(refusal.volts, 'V')} is still there, on ${refusal.channel}. Do not touch.`;
    case 'out-of-bounds':
      return `${refusal.what} must be ${boundsWords(refusal.lowest, refusal.highest)}.`;
    case 'limit-missing':
      return `A limit for ${refusal.channel} is missing.`;
    case 'limit-not-known':
      return `There is no one channel ${refusal.channel} to set a limit for.`;
    case 'leads-on-circuit':
      return (
        `${refusal.channel} is on the circuit and power is declared on: nobody changes leads now. Read the same meter by ` +
        'eye and type what it shows, or switch off, say so with F8, and let the other meter take over then.'
      );
    case 'loosened-while-live':
      return `Limits are not loosened with power on: ${refusal.what.join(', ')}.`;
    case 'low-voltage-list-refused':
      return 'This supply is not what the low-voltage checks are for.';
    case 'base-list-missing':
      return 'Nothing is powered without the base checks.';
    case 'meter-missing':
      return `Nothing fills ${refusal.label}.`;
    case 'meter-twice':
      return `${refusal.label} fills two channels at once.`;
    case 'practice-meter':
      return `${refusal.label} is a practice meter: it cannot watch over a real bench.`;
    case 'meter-unrated':
      return refusal.maxVolts === null
        ? `What ${refusal.meter} is rated for is not known; ${refusal.channel} could stand at ${figure(refusal.neededVolts)} V.`
        : `${refusal.meter} is rated for ${figure(refusal.maxVolts)} V; ${refusal.channel} could stand at ${figure(refusal.neededVolts)} V.`;
    case 'winding-unknown':
      return `What ${refusal.channel} stands at is not known. No ordinary meter goes there with power on.`;
    case 'category-missing':
      return `${refusal.meter} has no category for circuits joined to the mains, and ${refusal.channel} is one.`;
    case 'link-not-isolated':
      return (
        `The serial link of ${refusal.meter} is ${refusal.isolated === 'no' ? 'not isolated' : 'not known to be isolated'}; ` +
        `${refusal.channel} is ${refusal.volts === null ? 'joined to the mains' : `at ${figure(refusal.volts)} V`}.`
      );
    case 'wrong-unit':
      return `${refusal.channel} is in ${refusal.asked}; the meter sent ${refusal.sent ?? 'no unit'}.`;
    case 'channel-not-known':
      return 'The set-up has no such channel.';
    case 'unreadable':
      return 'That could not be read.';
    case 'power-not-declared':
      return 'Volts, amps and watts are recorded only while power is declared on.';
    case 'not-proved-dead':
      return 'An ohmmeter goes on a winding that is proved dead. Prove it first.';
    case 'plug-out-first':
      return 'Pull the plug, say so, and let the voltmeter be seen below the threshold. Then the measuring socket.';
    default:
      return assertNever(refusal);
  }
}

function boundsWords(lowest: number | null, highest: number | null): string {
  if (lowest !== null && highest !== null) return `a number from ${figure(lowest)} to ${figure(highest)}`;
  if (lowest !== null) return `a number of at least ${figure(lowest)}`;
  return highest === null ? 'a number' : `a number of at most ${figure(highest)}`;
}
