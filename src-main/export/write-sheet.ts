import { procedureById } from '../../src-shared/procedure/table.ts';
import { excitationChart } from '../../src-shared/report/excitation-chart.ts';
import { exportName } from '../../src-shared/report/export-name.ts';
import { heatChart } from '../../src-shared/report/heat-chart.ts';
import { noResult, type NoResult } from '../../src-shared/report/no-result.ts';
import { runChart } from '../../src-shared/report/run-chart.ts';
import type { RunFacts } from '../../src-shared/report/run-facts.ts';
import { runSheet } from '../../src-shared/report/run-sheet.ts';
import type { SheetMade } from '../../src-shared/report/sheet-page.ts';
import { workOut } from '../bench/run-answer.ts';
import type { MadeFile } from '../jobs/job.ts';
import type { Progress } from '../jobs/progress.ts';
import type { RecordReader } from '../store/read-record.ts';
import { gatherRun } from './gather-run.ts';
import { writeFileInPieces } from './out-file.ts';

/** Points of a curve on paper: more than a printer shows, few enough for a page that opens at once. */
const pixels = 640;

/** Writes the sheet of a run; null when the record has no such run. */
export function writeSheet(
  reader: RecordReader,
  runId: number,
  to: string,
  made: SheetMade,
  progress: Progress,
): MadeFile | null {
  const facts = gatherRun(reader, runId);
  if (facts === null) return null;
  const toMs = Math.max(facts.lastMs, 1000);
  const views = facts.run.channels.flatMap(({ channel }, index) => {
    progress((0.8 * index) / facts.run.channels.length);
    const view = reader.readings.history({ runId, channel, fromMs: 0, toMs, pixels });
    return view.ok && view.value.readings > 0 ? [view.value] : [];
  });
  const own = views.length === 0 ? [] : [runChart([{ facts, views }], { fromMs: 0, toMs })];
  const ofResults = facts.results.flatMap((result) => heatChart(result, facts.run) ?? excitationChart(result) ?? []);
  progress(0.8);
  const page = runSheet({ facts, charts: [...own, ...ofResults], noResult: whyNone(reader, facts), ...made });
  const bytes = writeFileInPieces(to, (write) => {
    write(page);
  });
  progress(1);
  return { name: exportName(facts, 'html'), bytes };
}

/** Why a run has no kept result, worked out from its record; null where it has one, or keeps pairs, which are on the sheet. */
function whyNone(reader: RecordReader, { run, results }: RunFacts): NoResult | null {
  const procedure = procedureById(run.procedure);
  if (results.length > 0 || procedure === undefined || procedure.keeps === 'pairs') return null;
  const { answer, waitingFor } = workOut(reader, run);
  return noResult(procedure.calculation, answer, waitingFor, run.ending !== 'running');
}
