import { staleMarks } from '../../src-shared/record/plan-stale.ts';
import { buildSheet } from '../../src-shared/report/build-sheet/build-sheet.ts';
import { fileName } from '../../src-shared/report/export-name.ts';
import type { SheetMade } from '../../src-shared/report/sheet-page.ts';
import type { MadeFile } from '../jobs/job.ts';
import type { Progress } from '../jobs/progress.ts';
import { groundOf } from '../store/plan-ground.ts';
import type { RecordReader } from '../store/read-record.ts';
import { writeFileInPieces } from './out-file.ts';

/** Writes the sheet to build a version of a plan by, the newest unless one is named; null when the record has none such. */
export function writeBuildSheet(
  reader: RecordReader,
  { planId, revisionId }: { readonly planId: number; readonly revisionId?: number | undefined },
  to: string,
  made: SheetMade,
  progress: Progress,
): MadeFile | null {
  const plan = reader.plans.get(planId);
  const versions = plan?.versions ?? [];
  const version = revisionId === undefined ? versions.at(-1) : versions.find((one) => one.revisionId === revisionId);
  const build = plan === null ? null : reader.builds.get(plan.buildId);
  const core = build === null ? null : reader.cores.get(build.coreId);
  if (version === undefined || build === null || core === null) return null;
  progress(0.3);
  const { needId, title } = version.fields;
  const practice = core.fields.demonstration !== undefined;
  const page = buildSheet({
    core,
    build,
    version,
    versions: versions.length,
    stale: staleMarks(version.fields, groundOf(reader, build.buildId)),
    need: needId === undefined ? null : (reader.needs.get(needId)?.fields.label ?? null),
    practice,
    system: reader.settings.get().units,
    ...made,
  });
  progress(0.9);
  const bytes = writeFileInPieces(to, (write) => {
    write(page);
  });
  progress(1);
  const parts = [core.fields.label, title, 'build-sheet', `version-${version.number}`, practice ? 'practice' : ''];
  return { name: fileName(parts, 'html'), bytes };
}
