import { done, failed, type Outcome } from '../../src-shared/contract/failure.ts';
import type { ChannelChoice } from '../../src-shared/contract/channel-choice.ts';
import type { BenchFacts } from '../../src-shared/interlock/bench.ts';
import type { MeterDescription } from '../../src-shared/meter/description.ts';
import { wrongAnswer, type Answers } from '../../src-shared/procedure/field.ts';
import type { Procedure, ProcedureChannel } from '../../src-shared/procedure/procedure.ts';
import { procedureById } from '../../src-shared/procedure/table.ts';
import type { RunChannel } from '../../src-shared/record/run.ts';
import type { Store } from '../store/store.ts';

/** A channel of the set-up with the meter that fills it. */
export interface Filled {
  readonly channel: ProcedureChannel;
  readonly meterId: number;
  readonly meterRevisionId: number;
  readonly description: MeterDescription;
  readonly lockedRange: number | null;
  /** Which of the meter's values fills it; null for a meter of one value. */
  readonly value: string | null;
  /** How often the wire passes through the meter's clamp. */
  readonly passes: number;
  /** Its own line is not what is read: somebody reads it and types. */
  readonly byEye: boolean;
}

/** Its values are typed, by what it is or because somebody reads it. */
export const isTyped = ({ description, byEye }: Pick<Filled, 'description' | 'byEye'>): boolean =>
  byEye || description.kind === 'keyboard';

export interface SetUpNow {
  readonly procedure: Procedure;
  readonly choices: readonly ChannelChoice[];
  readonly filled: readonly Filled[];
  /** What was answered at set-up. */
  readonly answers: Answers;
}

/** Its last value was typed: of a meter that is read by eye its line may come back. */
export const readsTyped = (filled: Filled, memory: { readonly last: { readonly origin: string } | null }): boolean =>
  isTyped(filled) && (!filled.byEye || memory.last?.origin === 'keyboard');

/** The set-up that was asked for, read from the record; the guard judges it after this. */
export function choose(
  store: Store,
  bench: BenchFacts,
  procedureId: string,
  choices: readonly ChannelChoice[],
  answers: Answers,
): Outcome<SetUpNow> {
  const procedure = procedureById(procedureId);
  if (procedure === undefined) {
    return failed('not-found', `There is no procedure "${procedureId}".`, { path: 'procedure' });
  }
  const notYet = procedure.notYet(bench);
  if (notYet !== null) return failed('bad-input', notYet, { path: 'procedure' });
  const filled: Filled[] = [];
  for (const [index, choice] of choices.entries()) {
    const one = fill(store, procedure, choice, `channels.${index}`);
    if (!one.ok) return one;
    filled.push(one.value);
  }
  const missing = procedure.channels.find(
    ({ id, required }) => required && !filled.some(({ channel }) => channel.id === id),
  );
  if (missing !== undefined) {
    return failed('meter-missing', `${missing.label}: choose a meter, or type the values.`, {
      path: 'channels',
      detail: { channel: missing.id },
    });
  }
  const wrong =
    wrongAnswer(procedure.asks, answers) ??
    procedure.refuses(bench, answers, new Set(filled.map(({ channel }) => channel.id)));
  if (wrong !== null) return failed('bad-input', wrong.sentence, { path: `answers.${wrong.field}` });
  return done({ procedure, choices, filled, answers });
}

function fill(store: Store, procedure: Procedure, choice: ChannelChoice, path: string): Outcome<Filled> {
  const channel = procedure.channels.find(({ id }) => id === choice.channel);
  const meter = store.meters.get(choice.meterId);
  if (channel === undefined) {
    return failed('not-found', `"${choice.channel}" is no channel of this procedure.`, { path: `${path}.channel` });
  }
  if (meter === null || meter.retired) {
    return failed('meter-missing', `There is no meter ${choice.meterId} on the list.`, { path: `${path}.meterId` });
  }
  if (choice.lockedRange !== null && meter.description.ranges[choice.lockedRange] === undefined) {
    return failed('not-found', 'The meter has no such range.', { path: `${path}.lockedRange` });
  }
  const { description, revisionId } = meter;
  const refused = refusedExtras(choice, description, channel.unit);
  if (refused !== null) return failed('bad-input', refused.sentence, { path: `${path}.${refused.key}` });
  const { meterId, lockedRange, value = null, passes = 1, byEye = false } = choice;
  return done({ channel, meterId, meterRevisionId: revisionId, description, lockedRange, value, passes, byEye });
}

/** The channel of a run that this meter fills. */
export const runChannel = ({ channel, meterId, meterRevisionId, lockedRange, value, passes }: Filled): RunChannel => ({
  channel: channel.id,
  unit: channel.unit,
  meterId,
  meterRevisionId,
  lockedRange,
  ...(value === null ? {} : { value }),
  ...(passes === 1 ? {} : { passes }),
});

/** Why a channel cannot be filled in this way; null when it can. */
function refusedExtras(
  { value, passes, byEye }: ChannelChoice,
  description: MeterDescription,
  unit: string,
): { readonly key: 'value' | 'passes' | 'byEye'; readonly sentence: string } | null {
  if (byEye === true && description.kind !== 'serial') {
    return {
      key: 'byEye',
      sentence: `${description.label} is not read from a line: there is nothing to read by eye instead.`,
    };
  }
  const values = description.kind === 'serial' ? description.values.map(({ name }) => name) : [];
  if (values.length > 0 && (value === undefined || !values.includes(value))) {
    return { key: 'value', sentence: `${description.label} sends several values: say which of them is read here.` };
  }
  if (values.length === 0 && value !== undefined) {
    return { key: 'value', sentence: `${description.label} sends one value a line.` };
  }
  if (passes !== undefined && unit !== 'A') return { key: 'passes', sentence: 'Only amps are read through a clamp.' };
  return null;
}
