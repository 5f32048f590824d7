import { done } from '../../src-shared/contract/failure.ts';
import type { ExportDesk } from '../export/export-desk.ts';
import type { Services } from '../host/service.ts';

/** Answers about files that are made of the record. */
export const exportServices = (
  desk: ExportDesk,
): Pick<Services, 'export.start' | 'export.cancel' | 'export.fetch'> => ({
  'export.start': ({ asked }) => desk.start(asked),
  'export.cancel': ({ exportId }) => {
    desk.cancel(exportId);
    return done({});
  },
  'export.fetch': ({ exportId }) => desk.fetch(exportId),
});
