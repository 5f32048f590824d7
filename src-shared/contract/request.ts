import * as v from 'valibot';
import { MeterDescription } from '../meter/description.ts';
import { GuardCommand } from '../interlock/command.ts';
import { Build, BuildFields, WindingFields } from '../record/build.ts';
import { Core, CoreFields } from '../record/core.ts';
import { note, recordId, wallMs, words } from '../record/field.ts';
import { HistoryColumns } from '../record/reading.ts';
import { KeptPair, KeptValue, RecordEvent, Result, Run } from '../record/run.ts';
import { Session, SessionFields } from '../record/session.ts';
import { Settings } from '../record/settings.ts';
import { GuardView } from './guard-view.ts';
import { MeterState, PortInfo } from './meter-view.ts';

const nothing = v.strictObject({});
const coilTurns = v.pipe(
  v.number('Coil turns must be a whole number.'),
  v.safeInteger('Coil turns must be whole: both leads leave on the same side.'),
  v.minValue(1, 'Coil turns must be at least 1.'),
  v.maxValue(10_000, 'Coil turns must be at most 10000.'),
);
const reason = v.optional(words('Reason', 200));

/** A core with everything the Core page shows. */
const CoreWhole = v.strictObject({
  core: Core,
  builds: v.array(Build),
  results: v.array(Result),
  runs: v.array(Run),
  /** Every row that was ever written for the core, oldest first. */
  history: v.array(Core),
});
export type CoreWhole = v.InferOutput<typeof CoreWhole>;

/** A meter as described, and as it is now. */
const MeterWhole = v.strictObject({
  meterId: recordId,
  revisionId: recordId,
  wallMs,
  description: MeterDescription,
  state: MeterState,
});
export type MeterWhole = v.InferOutput<typeof MeterWhole>;

/** A run with everything its page shows. */
const RunWhole = v.strictObject({
  run: Run,
  session: Session,
  kept: v.array(KeptPair),
  events: v.array(RecordEvent),
  results: v.array(Result),
  /** What the kept pairs come to so far: the answer of the run's calculation; null before the first pair. */
  soFar: v.nullable(v.unknown()),
  /** With one meter that is moved: values kept towards the next pair, in order. */
  towardsNext: v.array(KeptValue),
});
export type RunWhole = v.InferOutput<typeof RunWhole>;

/** Who fills a channel of a set-up: a meter (or the keyboard, itself a described meter), its range locked or not. */
const ChannelChoice = v.strictObject({
  channel: v.string(),
  meterId: recordId,
  lockedRange: v.nullable(v.pipe(v.number(), v.safeInteger(), v.minValue(0))),
});
export type ChannelChoice = v.InferOutput<typeof ChannelChoice>;

/**
 * Everything a page can ask, with what goes in and what comes back. The input is checked in main before anything else;
 * replies are checked by the contract suite and in development.
 */
export const requests = {
  /** The whole present, asked once on arrival. */
  'app.present': {
    input: nothing,
    output: v.strictObject({
      version: v.string(),
      dataFolder: v.string(),
      /** A sentence when this Node or host is not one the program was proved on; null otherwise. */
      warning: v.nullable(v.string()),
      nowMs: v.number(),
      wallMs,
      settings: Settings,
      guard: GuardView,
      session: v.nullable(Session),
      run: v.nullable(Run),
      meters: v.array(MeterWhole),
      setup: v.nullable(v.strictObject({ procedure: v.string(), channels: v.array(ChannelChoice) })),
    }),
  },
  'settings.save': { input: v.strictObject({ settings: Settings }), output: Settings },

  'core.list': {
    input: nothing,
    output: v.array(v.strictObject({ core: Core, builds: v.array(Build), results: v.array(Result) })),
  },
  'core.get': { input: v.strictObject({ coreId: recordId }), output: CoreWhole },
  /** Without `coreId` a new core with its build 1, as found; with it a correction, which asks why. */
  'core.save': {
    input: v.strictObject({ coreId: v.optional(recordId), reason, fields: CoreFields }),
    output: v.strictObject({ coreId: recordId }),
  },
  'build.add': {
    input: v.strictObject({ coreId: recordId, fields: BuildFields, windings: v.array(WindingFields) }),
    output: v.strictObject({ buildId: recordId }),
  },
  /** Without `windingId` a further winding; with it a correction. Refused on a build with runs unless only knowledge changes. */
  'winding.save': {
    input: v.strictObject({ buildId: recordId, windingId: v.optional(recordId), reason, fields: WindingFields }),
    output: v.strictObject({ windingId: recordId }),
  },

  'meter.list': { input: nothing, output: v.array(MeterWhole) },
  'meter.save': {
    input: v.strictObject({ meterId: v.optional(recordId), reason, description: MeterDescription }),
    output: v.strictObject({ meterId: recordId }),
  },
  /** Takes a meter off the list; its runs keep its description. */
  'meter.retire': { input: v.strictObject({ meterId: recordId, reason: words('Reason', 200) }), output: nothing },
  /** Ports of this computer; `failed` says why listing failed, which is not the same as none. */
  'port.list': { input: nothing, output: v.strictObject({ ports: v.array(PortInfo), failed: v.nullable(v.string()) }) },
  /** Opens a port with a description not yet saved and pushes every line with how it was read. One trial at a time. */
  'meter.try': {
    input: v.strictObject({ description: MeterDescription }),
    output: v.strictObject({ tryId: v.number() }),
  },
  'meter.try-stop': { input: nothing, output: nothing },

  'session.open': { input: v.strictObject({ fields: SessionFields }), output: Session },
  'session.end': { input: nothing, output: nothing },
  'session.list': { input: v.strictObject({ coreId: v.optional(recordId) }), output: v.array(Session) },

  /** Chooses the procedure and who fills its channels; ratings and links are checked before it is accepted. */
  'bench.set-up': {
    input: v.strictObject({ procedure: v.string(), channels: v.array(ChannelChoice) }),
    output: GuardView,
  },
  /** With one meter that is moved: it is clipped to this channel from now on. */
  'bench.meter-to': { input: v.strictObject({ channel: v.string() }), output: nothing },
  /** One command to the guard. `revision` is the state the person was looking at; an older one is refused as stale. */
  'guard.send': {
    input: v.strictObject({ revision: v.pipe(v.number(), v.safeInteger()), command: GuardCommand }),
    output: GuardView,
  },

  'run.start': { input: nothing, output: Run },
  'run.end': { input: v.strictObject({ runId: recordId }), output: Run },
  'run.get': { input: v.strictObject({ runId: recordId }), output: RunWhole },
  'run.history': {
    input: v.strictObject({
      runId: recordId,
      channel: v.string(),
      fromMs: v.pipe(v.number(), v.finite()),
      toMs: v.pipe(v.number(), v.finite()),
      pixels: v.pipe(v.number(), v.safeInteger(), v.minValue(1), v.maxValue(4096)),
    }),
    output: HistoryColumns,
  },
  'run.note': { input: v.strictObject({ runId: recordId, text: note('Note', 500) }), output: RecordEvent },

  /** A value typed for a channel of the set-up; the text is kept as typed. */
  'reading.type': {
    input: v.strictObject({ channel: v.string(), text: v.pipe(v.string(), v.maxLength(64, 'At most 64 characters.')) }),
    output: v.strictObject({ value: v.nullable(v.number()), unit: v.string(), sentence: v.string() }),
  },
  /**
   * With one meter that is moved: keeps the settled value of the channel it is on. Primary, coil, primary make a pair,
   * with the drift between the two primaries taken out.
   */
  'value.keep': {
    input: v.strictObject({ runId: recordId, coilTurns }),
    output: v.strictObject({ kept: KeptValue, pair: v.nullable(KeptPair) }),
  },
  /** Keeps the settled primary and coil volts of this moment as one pair for the turns. */
  'pair.keep': {
    input: v.strictObject({
      runId: recordId,
      coilTurns,
      swapped: v.boolean(),
    }),
    output: KeptPair,
  },
  'pair.withdraw': {
    input: v.strictObject({ runId: recordId, eventId: recordId, reason: words('Reason', 200) }),
    output: nothing,
  },
  /** Computes the run's result from its kept pairs and keeps it with them. */
  'result.keep': { input: v.strictObject({ runId: recordId }), output: Result },
  /** Puts the turns of a result on a winding, as an estimate that names the result. */
  'result.apply': {
    input: v.strictObject({ resultId: recordId, windingId: recordId }),
    output: v.strictObject({ windingId: recordId }),
  },
  /** Any calculation of the table, for pages that want main's answer. */
  calculate: { input: v.strictObject({ name: v.string(), input: v.unknown() }), output: v.unknown() },
} as const;

export type Requests = typeof requests;
export type RequestName = keyof Requests;
export type RequestInput<N extends RequestName> = v.InferInput<Requests[N]['input']>;
export type RequestValue<N extends RequestName> = v.InferOutput<Requests[N]['output']>;

export const isRequestName = (name: string): name is RequestName => Object.hasOwn(requests, name);
