import type { BuildRecord } from '../../src-shared/comparison/build-record.ts';
import type { Core } from '../../src-shared/record/core.ts';
import type { PlanVersion } from '../../src-shared/record/plan.ts';
import type { RecordReader } from '../store/read-record.ts';

/** One build with everything that a comparison reads of it. */
interface GatheredBuild {
  readonly core: Core;
  readonly record: BuildRecord;
  /** The version of a plan that it was wound by; null for none. */
  readonly plan: PlanVersion | null;
}

/** Kind of each meter as its latest description says it, those of runs long ago too; unknown kinds are left out. */
function meterKindsOf(reader: RecordReader, meterIds: ReadonlySet<number>): ReadonlyMap<number, string> {
  const kinds = [...meterIds].flatMap((meterId): [number, string][] => {
    const responding = reader.meters.get(meterId)?.description.responding ?? 'unknown';
    return responding === 'unknown' ? [] : [[meterId, responding]];
  });
  return new Map(kinds);
}

/** What each meter is called by its latest description. */
function meterNamesOf(reader: RecordReader, meterIds: ReadonlySet<number>): ReadonlyMap<number, string> {
  const names = [...meterIds].flatMap((meterId): [number, string][] => {
    const label = reader.meters.get(meterId)?.description.label;
    return label === undefined ? [] : [[meterId, label]];
  });
  return new Map(names);
}

/** What the record has of a build; null when there is none of that number. */
export function gatherBuild(reader: RecordReader, buildId: number): GatheredBuild | null {
  const build = reader.builds.get(buildId);
  const core = build === null ? null : reader.cores.get(build.coreId);
  if (build === null || core === null) return null;
  const runs = reader.runs.ofCore(core.coreId);
  const meters = new Set(runs.flatMap(({ channels }) => channels.map(({ meterId }) => meterId)));
  const { planRevisionId } = build.fields;
  return {
    core,
    plan: planRevisionId === undefined ? null : reader.plans.version(planRevisionId),
    record: {
      build,
      results: reader.results.ofBuild(buildId),
      runs,
      sessions: reader.sessions.list(core.coreId),
      meterKinds: meterKindsOf(reader, meters),
      meterNames: meterNamesOf(reader, meters),
    },
  };
}

/** Something of a build was practised: a run on it, or the core itself is invented. */
export const isPractised = ({ core, record }: GatheredBuild): boolean =>
  core.fields.demonstration !== undefined ||
  record.runs.some(({ buildId, practice }) => practice && buildId === record.build.buildId);
