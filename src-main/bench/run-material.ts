import * as v from 'valibot';
import { judgeRecorded } from '../../src-shared/record/reading-uncertainty.ts';
import type { MeterDescription } from '../../src-shared/meter/description.ts';
import type { EarlierNoLoad, RunMaterial, SeriesPoint, WantedOutput } from '../../src-shared/procedure/material.ts';
import { procedureById } from '../../src-shared/procedure/table.ts';
import type { Build } from '../../src-shared/record/build.ts';
import { fillerAt, fillersOf } from '../../src-shared/record/channel-filler.ts';
import type { Reading } from '../../src-shared/record/reading.ts';
import { eventKind, RunSetUp, type ChannelFiller, type Run, type RunChannel } from '../../src-shared/record/run.ts';
import { sinceStartMs } from '../../src-shared/record/run-time.ts';
import type { RecordReader } from '../store/read-record.ts';

/** Continuous readings that a result is worked out from: enough for any curve here, and quick. */
const mostOfSeries = 200;

const Earlier = v.object({
  volts: v.unknown(),
  amps: v.unknown(),
  watts: v.optional(v.unknown()),
  primaryOhms: v.optional(v.unknown()),
});

/** Everything that the result of a run is worked out from, as the record holds it; null when its session is not there. */
export function runMaterial(store: RecordReader, run: Run): RunMaterial | null {
  const session = store.sessions.get(run.sessionId);
  const build = store.builds.get(run.buildId);
  if (session === null || build === null) return null;
  const { supply, fedWindingId, ambientCelsius } = session.fields;
  const setUp = setUpOf(store, run);
  const power = powerOf(store, run, setUp);
  const continuous = procedureById(run.procedure)?.continuous ?? [];
  return {
    supply,
    fedWindingId,
    ambientCelsius: ambientCelsius ?? null,
    core: store.cores.get(build.coreId)?.fields ?? null,
    windings: build.windings,
    answers: setUp?.answers ?? {},
    points: store.keptPoints.ofRun(run.runId).filter(({ withdrawn }) => withdrawn === null),
    series: Object.fromEntries(
      run.channels.flatMap((channel, index) =>
        continuous.includes(channel.channel) ? [[channel.channel, seriesOf(store, run, channel, index)]] : [],
      ),
    ),
    ...power,
    responding: Object.fromEntries(
      run.channels.flatMap((one) => {
        const responding = respondingOf(store, one);
        return responding === null ? [] : [[one.channel, responding]];
      }),
    ),
    earlierNoLoad: earlierNoLoad(store, run),
    wanted: wantedOf(store, build),
  };
}

/** What was answered when the run began; null for a run without it. */
export function setUpOf(store: RecordReader, { runId }: Run): RunSetUp | null {
  const [event] = store.events.ofRunAndKind(runId, eventKind.runSetUp);
  const read = v.safeParse(RunSetUp, event?.body);
  return read.success ? read.output : null;
}

/** First power on and last power off within the run, from its start. */
function powerOf(store: RecordReader, run: Run, setUp: RunSetUp | null) {
  const { runId, startedMonoMs } = run;
  const since = (monoMs: number) => sinceStartMs(run, monoMs);
  const stretches = store.events
    .powerOf(runId)
    .filter(({ offAtMs }) => offAtMs === null || offAtMs > startedMonoMs)
    .map(({ onAtMs, offAtMs }) => ({ onAtMs: since(onAtMs), offAtMs }));
  const before = setUp?.poweredAtMs ?? null;
  const ons = [...stretches.map(({ onAtMs }) => onAtMs), ...(before === null ? [] : [since(before)])];
  const offs = stretches.flatMap(({ offAtMs }) => (offAtMs === null ? [] : [since(offAtMs)]));
  const lastOn = Math.max(...ons);
  const lastOff = Math.max(...offs);
  return {
    onAtMs: ons.length === 0 ? null : Math.min(...ons),
    offAtMs: offs.length === 0 || lastOff < lastOn ? null : lastOff,
  };
}

/** How the meters of a channel respond; null when that is not known, or when one took over from another kind. */
function respondingOf(store: RecordReader, channel: RunChannel): 'true-rms' | 'average' | null {
  const kinds = new Set(
    fillersOf(channel).map(({ meterRevisionId }) => store.meters.revision(meterRevisionId)?.description.responding),
  );
  const [only] = kinds;
  return kinds.size === 1 && only !== undefined && only !== 'unknown' ? only : null;
}

function seriesOf(store: RecordReader, run: Run, channel: RunChannel, index: number): readonly SeriesPoint[] {
  const known = new Map(
    fillersOf(channel).map(({ meterRevisionId }) => [
      meterRevisionId,
      store.meters.revision(meterRevisionId)?.description,
    ]),
  );
  return store.readings.spread(run.runId, index, mostOfSeries).flatMap((reading) => {
    const { atMs, value } = reading;
    const filler = fillerAt(channel, atMs);
    const description = known.get(filler.meterRevisionId);
    return value === null ? [] : [{ atMs, value, ...trustIn(description, { ...filler, unit: channel.unit }, reading) }];
  });
}

/** How far the meter's description trusts a written reading. */
function trustIn(
  description: MeterDescription | undefined,
  channel: ChannelFiller & Pick<RunChannel, 'unit'>,
  reading: Reading,
): Pick<SeriesPoint, 'u' | 'shared'> {
  const known = { ...reading, rangeIndex: reading.rangeIndex ?? channel.lockedRange };
  const judged = description === undefined ? null : judgeRecorded(channel.meterId, known, channel, description);
  if (judged?.kind !== 'judged') return { u: null, shared: null };
  return { u: judged.estimate.u, shared: judged.estimate.shared ?? null };
}

/** What the plan that the build was wound by wants of its outputs; empty where it followed none. */
function wantedOf(store: RecordReader, { fields: { planRevisionId } }: Build): readonly WantedOutput[] {
  const version = planRevisionId === undefined ? null : store.plans.version(planRevisionId);
  if (version === null) return [];
  const { outputs, line } = version.fields;
  return outputs.map(({ label, loadVolts, loadAmps, predicted: { noLoadVolts, loadVolts: underLoad } }) => ({
    label,
    loadVolts,
    loadAmps,
    lineVolts: line.volts,
    // Both come from one volts a turn, so the doubt of the drop is that of the loaded volts at most.
    dropVolts: { value: Math.max(0, noLoadVolts.value - underLoad.value), u: underLoad.u },
  }));
}

/** The no-load result that was kept last on the same build, as far as it has watts in it or not. */
function earlierNoLoad(store: RecordReader, { buildId }: Run): EarlierNoLoad | null {
  const kept = store.results.ofBuild(buildId).findLast(({ calculation }) => calculation === 'no-load');
  const read = v.safeParse(Earlier, kept?.input);
  return read.success ? read.output : null;
}
