import { cautionText } from '../interlock/cautions.ts';
import { instantWords } from '../chart/ticks.ts';
import type { MeterDescription } from '../meter/description.ts';
import { assertNever } from '../quantity/assert-never.ts';
import { formatEstimate, formatNumber } from '../quantity/format.ts';
import type { Build, Winding } from '../record/build.ts';
import type { Core } from '../record/core.ts';
import type { Run, RunChannel } from '../record/run.ts';
import { simulatedTimeWords } from '../record/run-time.ts';
import type { Session, Supply } from '../record/session.ts';
import { answerWords } from './channel-words.ts';
import { correctionsOf } from './corrections.ts';
import type { RunFacts } from './run-facts.ts';
import { lengthWords, type TimeWords } from './time-words.ts';

/** One condition: what, and how it was. */
export interface Condition {
  readonly name: string;
  readonly text: string;
}

const supplyWords: Readonly<Record<Supply['kind'], string>> = {
  'isolated-low-voltage': 'isolated low-voltage source',
  'mains-through-lamp': 'mains through a lamp',
  'variable-transformer': 'variable transformer, not isolated',
  'isolating-transformer': 'isolating transformer',
  mains: 'mains',
};

const listed = (parts: readonly (string | null | undefined | false)[]): string =>
  parts.filter((part) => part !== null && part !== undefined && part !== false && part !== '').join(', ');

function supplyText({ kind, volts, hertz, ampsAtMost, earthed, rcd, fuseAmps }: Supply): string {
  const rcdWords = { yes: 'through an RCD/GFCI', no: 'no RCD/GFCI', 'not-known': 'RCD/GFCI not known' }[rcd];
  const earth = { earthed: 'earthed', floating: 'floating', 'not-known': 'earthing not known' }[earthed];
  return listed([
    `${supplyWords[kind]}, up to ${formatNumber(volts)} V`,
    `${hertz} Hz`,
    ampsAtMost !== undefined && `at most ${formatNumber(ampsAtMost)} A`,
    earth,
    rcdWords,
    fuseAmps === undefined ? 'fuse not noted' : `fuse ${formatNumber(fuseAmps)} A`,
  ]);
}

/** The turns of a winding, in words. */
function turnsText({ fields: { turns } }: Winding): string {
  switch (turns.kind) {
    case 'counted':
      return `${formatNumber(turns.turns)} turns, counted`;
    case 'estimated':
      return `${formatEstimate({ value: turns.value, u: turns.u, unit: 'turns' })}, measured`;
    case 'unknown':
      return 'turns not known: treat as lethal';
    default:
      return assertNever(turns);
  }
}

function windingText(winding: Winding, runStartMs: number, isFed: boolean): string {
  const { fields, reason, wallMs } = winding;
  const ohms = fields.ohms;
  const at = fields.ohmsCelsius === undefined ? '' : ` at ${formatNumber(fields.ohmsCelsius)} °C`;
  return listed([
    isFed && 'fed',
    turnsText(winding),
    fields.metal !== 'not-known' && fields.metal,
    fields.bareDiameter !== undefined && `wire ${formatEstimate({ ...fields.bareDiameter, unit: 'mm' })}`,
    ohms !== undefined && `${formatEstimate({ ...ohms, unit: 'Ω' })}${at}`,
    fields.oneEndOnCore === 'yes' && 'one end on the core',
    fields.oneEndOnCore === 'not-looked' && 'end on the core: not looked',
    wallMs > runStartMs && `corrected after the run (${reason ?? 'no reason'})`,
  ]);
}

const jointWords: Readonly<Record<Build['fields']['joint'], string>> = {
  'as-welded': 'joint as welded',
  're-welded': 're-welded',
  clamped: 'clamped',
  interleaved: 'interleaved',
  'not-known': 'joint not known',
};
const shuntWords: Readonly<Record<Build['fields']['shunts'], string>> = {
  in: 'shunts in',
  out: 'shunts out',
  none: 'no shunts',
  'not-known': 'shunts not known',
};

function coreText({ fields }: Core): string {
  const size = (name: string, measured: { value: number; u: number | null } | undefined, unit: string) =>
    measured !== undefined && `${name} ${formatEstimate({ ...measured, unit })}`;
  return listed([
    fields.label,
    fields.origin,
    size('mass', fields.mass, 'kg'),
    size('tongue', fields.tongue, 'mm'),
    size('stack', fields.stack, 'mm'),
  ]);
}

/** What is said of a practised run: that nothing was measured, and how its time went where that is simulated. */
export function practiceText(run: Pick<Run, 'timeFactor'>): string {
  const simulated = simulatedTimeWords(run);
  const time = simulated === null ? '' : ` Its times are ${simulated}.`;
  return `${cautionText('c-prac', {})}${time}`;
}

/** How the run ended and how long it took, in a sentence. */
export function endingText({ run, happenings, lastMs }: Pick<RunFacts, 'run' | 'happenings' | 'lastMs'>): string {
  const trips = happenings.filter(({ kind }) => kind === 'trip').map(({ text }) => text);
  const why = trips.length > 0 ? ` ${trips.join(' ')}` : '';
  const simulated = simulatedTimeWords(run);
  const length = `${lengthWords(lastMs)}${simulated === null ? '' : ` of ${simulated}`}`;
  switch (run.ending) {
    case 'running':
      return `Still running, ${length} so far.${why}`;
    case 'ended':
      return `Ended after ${length}.${why}`;
    case 'tripped':
      return `Ended after a trip; the last reading is of ${length} after the start.${why === '' ? ' A limit was crossed.' : why}`;
    case 'interrupted':
      return `Interrupted: the program stopped in the middle of it. The last reading is of ${length} after the start.${why}`;
    default:
      return assertNever(run.ending);
  }
}

/** Under what conditions a run was made. */
export function conditionsOf(facts: RunFacts, times: TimeWords): readonly Condition[] {
  const { run, session, core, build } = facts;
  const { fields } = session;
  const simulated = simulatedTimeWords(run);
  return [
    { name: 'Core', text: coreText(core) },
    {
      name: `Build ${build.number}`,
      text: listed([build.fields.title, jointWords[build.fields.joint], shuntWords[build.fields.shunts]]),
    },
    ...build.windings.map((winding) => ({
      name: winding.fields.label,
      text: windingText(winding, run.startedWallMs, winding.windingId === fields.fedWindingId),
    })),
    { name: 'Supply', text: supplyText(fields.supply) },
    {
      name: 'Ambient',
      text: fields.ambientCelsius === undefined ? 'not noted' : `${formatNumber(fields.ambientCelsius)} °C`,
    },
    ...Object.entries(facts.answers).map(([id, answer]) => answerWords(run.procedure, id, answer)),
    { name: 'Measured by', text: fields.who },
    ...(simulated === null ? [] : [{ name: 'Time', text: simulated }]),
    ...correctionsOf(facts.saidOfSession, supplyText, build.windings).map(({ wallMs, reason, text }) => ({
      name: 'Corrected',
      text: `${times.when(wallMs)}: ${text}. Why: ${reason}`,
    })),
    { name: 'Started', text: times.when(run.startedWallMs) },
    { name: 'Ended', text: run.endedWallMs === null ? 'still running' : times.when(run.endedWallMs) },
    ...notesOf(session, build, core),
  ];
}

const notesOf = (session: Session, build: Build, core: Core): readonly Condition[] =>
  [
    { name: 'Note on the session', text: session.fields.note ?? '' },
    { name: 'Note on the build', text: build.fields.note ?? '' },
    { name: 'Note on the core', text: core.fields.note ?? '' },
  ].filter(({ text }) => text !== '');

const comesBy: Readonly<Record<MeterDescription['kind'], string>> = {
  serial: 'sends its readings',
  keyboard: 'read by eye and typed',
  practice: 'practice: nothing was measured',
};

type Filler = Pick<RunChannel, 'lockedRange' | 'passes'> & { readonly byEye?: true | undefined };

/** What filled a channel, in words: the meter, how it responds, its rating, and the range that was locked. */
function meterText(meter: MeterDescription, { lockedRange, passes, byEye }: Filler): string {
  const range = lockedRange === null ? undefined : meter.ranges[lockedRange];
  const responding = { 'true-rms': 'true rms', average: 'average responding', unknown: 'responding not known' };
  return listed([
    meter.label,
    byEye === true ? 'read by eye and typed' : comesBy[meter.kind],
    responding[meter.responding],
    range === undefined
      ? 'range chosen by the meter'
      : `range locked at ${formatNumber(range.top)} ${range.unit}, ± (${formatNumber(range.percentOfReading)} % + ${formatNumber(range.digits)} digits)`,
    passes !== undefined && `wire ${passes} times through the clamp`,
    meter.category ?? (meter.maxVolts === null ? 'rating not known' : `rated ${formatNumber(meter.maxVolts)} V`),
  ]);
}

/** Who filled a channel of a run, in order: from its start, and from when whoever took it over. */
export function readerTexts(
  { run, meters, takers }: Pick<RunFacts, 'run' | 'meters' | 'takers'>,
  index: number,
): readonly string[] {
  const [channel, first] = [run.channels[index], meters[index]];
  if (channel === undefined) return [];
  const later = (channel.takenOver ?? []).flatMap((filler, nth) => {
    const meter = takers[index]?.[nth];
    return meter === undefined ? [] : [`from ${instantWords(filler.fromMs, 1000)}: ${meterText(meter, filler)}`];
  });
  return [...(first === undefined ? [] : [meterText(first, channel)]), ...later];
}
