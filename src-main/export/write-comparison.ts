import { comparisonOf } from '../../src-shared/comparison/comparison.ts';
import { comparedCurves } from '../../src-shared/comparison/curves.ts';
import { comparisonSheet } from '../../src-shared/report/comparison-sheet.ts';
import { predictedRows } from '../../src-shared/comparison/predicted.ts';
import { planFollowed, toldOf } from '../../src-shared/comparison/trust.ts';
import { fileName } from '../../src-shared/report/export-name.ts';
import type { SheetMade } from '../../src-shared/report/sheet-page.ts';
import type { MadeFile } from '../jobs/job.ts';
import type { Progress } from '../jobs/progress.ts';
import type { RecordReader } from '../store/read-record.ts';
import { gatherBuild, isPractised } from './gather-comparison.ts';
import { writeFileInPieces } from './out-file.ts';

/** Writes the sheet that holds two builds against each other; null when the record has not both. */
export function writeComparison(
  reader: RecordReader,
  asked: { readonly before: number; readonly after: number },
  to: string,
  made: SheetMade,
  progress: Progress,
): MadeFile | null {
  const [before, after] = [gatherBuild(reader, asked.before), gatherBuild(reader, asked.after)];
  if (before === null || after === null) return null;
  progress(0.3);
  const names = [`Build ${before.record.build.number}`, `Build ${after.record.build.number}`] as const;
  const practice = isPractised(before) || isPractised(after);
  const comparison = comparisonOf(before.record, after.record);
  const curves = comparedCurves(before.record, after.record, names);
  const predicted = predictedRows(before.record, after.record, after.plan);
  const page = comparisonSheet({
    before: { core: before.core, build: before.record.build },
    after: { core: after.core, build: after.record.build },
    comparison,
    curves,
    predicted,
    told: toldOf(before.record, after.record, comparison, curves, predicted),
    plan: after.plan === null ? null : planFollowed(after.plan),
    practice,
    system: reader.settings.get().units,
    ...made,
  });
  progress(0.9);
  const bytes = writeFileInPieces(to, (write) => {
    write(page);
  });
  progress(1);
  const parts = [after.core.fields.label, 'builds', names[0].slice(6), names[1].slice(6), practice ? 'practice' : ''];
  return { name: fileName(parts, 'html'), bytes };
}
