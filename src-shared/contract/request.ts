import * as v from 'valibot';
import { MeterDescription } from '../meter/description.ts';
import { CheckReference } from '../meter/meter-check.ts';
import { Sample } from '../meter/sample.ts';
import { GuardCommand } from '../interlock/command.ts';
import { FoundRow } from '../practice/lesson/found.ts';
import { LessonName, LessonsView } from '../practice/lesson/lessons-view.ts';
import { HiddenWinding, PracticeControls, PracticeNow } from '../practice/controls.ts';
import { Build, BuildFields, WindingFields } from '../record/build.ts';
import { Core, CoreFields } from '../record/core.ts';
import { between, note, recordId, wallMs, words } from '../record/field.ts';
import { Need, NeedFields } from '../record/need.ts';
import { PlanFields, Tally } from '../record/plan.ts';
import { HistoryColumns } from '../record/reading.ts';
import { Answers, KeptPair, KeptPoint, KeptValue, RecordEvent, Result, Run } from '../record/run.ts';
import { Session, SessionFields } from '../record/session.ts';
import { Settings } from '../record/settings.ts';
import { NearestReading, RunFacts } from '../report/run-facts.ts';
import { ChannelChoice } from './channel-choice.ts';
import { CoreWhole } from './core-view.ts';
import { Delivered, ExportAsked, ExportView } from './export-view.ts';
import { GuardView } from './guard-view.ts';
import { MeterWhole, PortInfo } from './meter-view.ts';
import { PlanWhole } from './plan-view.ts';
import { RunWhole } from './run-view.ts';

const nothing = v.strictObject({});
const coilTurns = v.pipe(
  v.number('Coil turns must be a whole number.'),
  v.safeInteger('Coil turns must be whole: both leads leave on the same side.'),
  v.minValue(1, 'Coil turns must be at least 1.'),
  v.maxValue(10_000, 'Coil turns must be at most 10000.'),
);
const reason = v.optional(words('Reason', 200));

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
      /** The last run of the open session, ended or not; null before the first. */
      lastRun: v.nullable(Run),
      meters: v.array(MeterWhole),
      setup: v.nullable(v.strictObject({ procedure: v.string(), channels: v.array(ChannelChoice), answers: Answers })),
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

  'need.list': { input: nothing, output: v.array(Need) },
  /** Without `needId` a new need; with it a correction, which asks why. */
  'need.save': {
    input: v.strictObject({ needId: v.optional(recordId), reason, fields: NeedFields }),
    output: v.strictObject({ needId: recordId }),
  },
  /** Takes a need off the list; plans made for it keep it. */
  'need.retire': { input: v.strictObject({ needId: recordId, reason: words('Reason', 200) }), output: nothing },

  /** The plans of all builds of a core, in the order in which they were made. */
  'plan.list': { input: v.strictObject({ coreId: recordId }), output: v.array(PlanWhole) },
  'plan.get': { input: v.strictObject({ planId: recordId }), output: PlanWhole },
  /** Without `planId` a new plan; with it its next version. No version is ever changed. */
  'plan.save': {
    input: v.strictObject({ planId: v.optional(recordId), buildId: recordId, reason, fields: PlanFields }),
    output: v.strictObject({ planId: recordId, revisionId: recordId }),
  },
  /** How far the winding of each output of a plan has come; outputs without a mark are left out. */
  'tally.get': { input: v.strictObject({ planId: recordId }), output: v.array(Tally) },
  /** The new total of an output. Every mark is kept; the newest is the count. */
  'tally.mark': {
    input: v.strictObject({
      planId: recordId,
      output: words('Output', 20),
      turns: between(0, 100_000, 'Turns'),
      /** When it was pressed, where that was before it could be sent; left out it was now. */
      pressedWallMs: v.optional(wallMs),
    }),
    output: Tally,
  },

  'meter.list': { input: nothing, output: v.array(MeterWhole) },
  'meter.save': {
    input: v.strictObject({ meterId: v.optional(recordId), reason, description: MeterDescription }),
    output: v.strictObject({ meterId: recordId }),
  },
  /** Takes a meter off the list; its runs keep its description. */
  'meter.retire': { input: v.strictObject({ meterId: recordId, reason: words('Reason', 200) }), output: nothing },
  /**
   * Compares a meter with something known and keeps that with its description: what it shows now, or what is typed for it
   * on a range, against a known source or another meter.
   */
  'meter.check': {
    input: v.strictObject({
      meterId: recordId,
      /** Null: as heard now. */
      typed: v.nullable(
        v.strictObject({
          value: v.pipe(v.number('Type what it shows.'), v.finite('Type what it shows.')),
          rangeIndex: v.pipe(v.number(), v.safeInteger(), v.minValue(0)),
        }),
      ),
      reference: CheckReference,
    }),
    output: MeterDescription,
  },
  /** Ports of this computer; `failed` says why listing failed, which is not the same as none. */
  'port.list': { input: nothing, output: v.strictObject({ ports: v.array(PortInfo), failed: v.nullable(v.string()) }) },
  /** Opens a port with a description not yet saved and pushes every line with how it was read. One trial at a time. */
  'meter.try': {
    input: v.strictObject({ description: MeterDescription }),
    output: v.strictObject({ tryId: v.number() }),
  },
  /** Plays a kept sample of lines through a description, and pushes them as a trial does. */
  'meter.replay': {
    input: v.strictObject({ description: MeterDescription, sample: Sample }),
    output: v.strictObject({ tryId: v.number() }),
  },
  /** Listens to a port at the usual settings and pushes what it hears and how sure that is. Sends nothing. */
  'port.find': {
    input: v.strictObject({ path: words('Port', 400) }),
    output: v.strictObject({ findId: v.number() }),
  },
  /** Ends the trial, replay or search; its port is free afterwards. */
  'meter.try-stop': { input: nothing, output: nothing },

  /** Puts the demonstration cores on the shelf and the practice pair on the list, each unless it is there already. */
  'practice.lay-out': {
    input: nothing,
    output: v.strictObject({ coreIds: v.array(recordId), meterIds: v.array(recordId) }),
  },
  /** The two practice meters are exchanged at the clips, or back: each reads what the other read. */
  'practice.exchange': { input: v.strictObject({ exchanged: v.boolean() }), output: nothing },

  /** Puts simulated meters for amps, watts, ohms and temperature on the list, each unless it is there already. */
  'practice.more-meters': { input: nothing, output: v.strictObject({ meterIds: v.array(recordId) }) },
  /** How the practice bench is set (knob, load, temporary turns, fault), and what goes on there. */
  'practice.get': { input: nothing, output: PracticeNow },
  'practice.set': { input: v.strictObject({ controls: PracticeControls }), output: PracticeNow },
  /** Hides a fault in the practice bench, drawn by lot; choosing a fault takes it away again. */
  'practice.hide': { input: nothing, output: PracticeNow },
  /** Tells what is hidden, here and in the record of every run in which it lay. */
  'practice.tell': { input: nothing, output: PracticeNow },
  /** Takes out what was hidden, told or not. */
  'practice.mend': { input: nothing, output: PracticeNow },
  /** Presses a key of every practice meter: those that had gone quiet send again. */
  'practice.press': { input: nothing, output: PracticeNow },
  /** What is hidden behind a demonstration core. Refused for a real one. */
  'practice.hidden': { input: v.strictObject({ coreId: recordId }), output: v.array(HiddenWinding) },

  /** How the lessons of the practice bench stand, by what the record and the guard say. */
  'lesson.list': { input: nothing, output: LessonsView },
  /** A lesson is begun (anew, too), left or taken up again; or two builds were looked at beside each other. */
  'lesson.mark': {
    input: v.strictObject({ lessonId: LessonName, act: v.picklist(['begun', 'left', 'taken-up', 'compared']) }),
    output: LessonsView,
  },
  /** What was found in a lesson beside the hidden truth. Refused before its last step is done. */
  'lesson.found': { input: v.strictObject({ lessonId: LessonName }), output: v.array(FoundRow) },

  /** A session on a demonstration core is practice, for good. */
  'session.open': { input: v.strictObject({ fields: SessionFields }), output: Session },
  'session.end': { input: nothing, output: nothing },
  /** Puts right what was said of a session, with the reason; refused once it is signed off, and its supply with power on. */
  'session.correct': {
    input: v.strictObject({ sessionId: recordId, reason: words('Reason', 200), fields: SessionFields }),
    output: Session,
  },
  'session.list': { input: v.strictObject({ coreId: v.optional(recordId) }), output: v.array(Session) },

  /**
   * Chooses the procedure, who fills its channels and what it asks; ratings and links are checked before it is accepted.
   * With a run open the same may be given again, and further meters with it.
   */
  'bench.set-up': {
    input: v.strictObject({
      procedure: v.string(),
      channels: v.array(ChannelChoice),
      /** What the procedure asks at set-up; left out, nothing is answered. */
      answers: v.optional(Answers),
    }),
    output: GuardView,
  },
  /** The set-up that stands, once more: the person says that its meters are as described, and they are rated again. */
  'bench.set-up-again': { input: nothing, output: GuardView },
  /**
   * In the middle of a run: another reader of a channel, or one for a channel that had none. With power on only where
   * nobody has to touch the circuit.
   */
  'bench.take-over': {
    input: v.strictObject({ reader: ChannelChoice, reason: words('Reason', 200) }),
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
  /** Everything that is told of a run beside its readings: what its page and its sheet are made from. */
  'run.facts': { input: v.strictObject({ runId: recordId }), output: RunFacts },
  /** The reading of each channel that lies nearest to an instant, in ms since the start of the run. */
  'run.at': {
    input: v.strictObject({ runId: recordId, atMs: v.pipe(v.number(), v.finite()) }),
    output: v.array(NearestReading),
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
  /**
   * Keeps the settled values of the procedure's channels at this moment as one point, with its own fields. With one meter
   * that is moved: the value of the channel it is on, and the point when every channel has one.
   */
  'point.keep': {
    input: v.strictObject({ runId: recordId, fields: Answers }),
    output: v.strictObject({ kept: v.array(KeptValue), point: v.nullable(KeptPoint) }),
  },
  'point.withdraw': {
    input: v.strictObject({ runId: recordId, eventId: recordId, reason: words('Reason', 200) }),
    output: nothing,
  },
  /** Computes the run's result from what it kept and keeps it with that; what follows besides is kept too. */
  'result.keep': { input: v.strictObject({ runId: recordId }), output: Result },
  /** Puts a fact of a winding on it: the turns of a result, as an estimate that names it, or the ohms with their temperature. */
  'result.apply': {
    input: v.strictObject({ resultId: recordId, windingId: recordId }),
    output: v.strictObject({ windingId: recordId }),
  },
  /** Makes a file, beside everything else: how far it is comes as pushes. `busy` when many are under way. */
  'export.start': { input: v.strictObject({ asked: ExportAsked }), output: ExportView },
  /** Calls an export off, or gives up one that is ready. Does nothing when it has ended. */
  'export.cancel': { input: v.strictObject({ exportId: recordId }), output: nothing },
  /** Hands over an export that is ready, once: where to says the host. */
  'export.fetch': { input: v.strictObject({ exportId: recordId }), output: Delivered },
  /** Any calculation of the table, for pages that want main's answer. */
  calculate: { input: v.strictObject({ name: v.string(), input: v.unknown() }), output: v.unknown() },
} as const;

export type Requests = typeof requests;
export type RequestName = keyof Requests;
export type RequestInput<N extends RequestName> = v.InferInput<Requests[N]['input']>;
export type RequestValue<N extends RequestName> = v.InferOutput<Requests[N]['output']>;

export const isRequestName = (name: string): name is RequestName => Object.hasOwn(requests, name);
