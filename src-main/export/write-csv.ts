import { exportName } from '../../src-shared/report/export-name.ts';
import { byteOrderMark, readingsCsv } from '../../src-shared/report/readings-csv.ts';
import type { MadeFile } from '../jobs/job.ts';
import type { Progress } from '../jobs/progress.ts';
import type { RecordReader } from '../store/read-record.ts';
import { gatherRun } from './gather-run.ts';
import { writeFileInPieces } from './out-file.ts';

const tellEvery = 2000;

/** Writes every reading of a run as comma-separated values; null when the record has no such run. */
export function writeCsv(reader: RecordReader, runId: number, to: string, progress: Progress): MadeFile | null {
  const facts = gatherRun(reader, runId);
  if (facts === null) return null;
  const all = facts.counts.reduce((sum, { readings }) => sum + readings, 0);
  const { head, line } = readingsCsv(facts);
  const bytes = writeFileInPieces(to, (write) => {
    write(byteOrderMark + head);
    let done = 0;
    for (const reading of reader.readings.ofRun(runId)) {
      write(line(reading));
      done += 1;
      if (done % tellEvery === 0) progress(done / all);
    }
  });
  progress(1);
  return { name: exportName(facts, 'csv'), bytes };
}
