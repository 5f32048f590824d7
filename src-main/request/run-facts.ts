import { done, failed } from '../../src-shared/contract/failure.ts';
import { gatherRun, readingsAt } from '../export/gather-run.ts';
import type { Services } from '../host/service.ts';
import type { RecordReader } from '../store/read-record.ts';

const missing = (runId: number) => failed('not-found', `There is no run ${runId} in the record.`, { path: 'runId' });

/** Answers what is told of a run, finished or not, beside its readings. */
export const runFactsServices = (reader: RecordReader): Pick<Services, 'run.facts' | 'run.at'> => ({
  'run.facts': ({ runId }) => {
    const facts = gatherRun(reader, runId);
    return facts === null ? missing(runId) : done(facts);
  },
  'run.at': ({ runId, atMs }) => {
    const readings = readingsAt(reader, runId, atMs);
    return readings === null ? missing(runId) : done(readings);
  },
});
