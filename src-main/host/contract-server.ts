import * as v from 'valibot';
import { ToPage } from '../../src-shared/contract/envelope.ts';
import type { Push } from '../../src-shared/contract/push.ts';
import { createBacklog, type NumberedPush } from './backlog.ts';
import type { Connection, Visit } from './connection.ts';
import { createReadingsFlow } from './readings-flow.ts';
import { routesOf } from './route.ts';
import type { RequestTable, ServicesOf, Subscribe } from './service.ts';
import type { Later } from './timers.ts';
import { openVisit, visitLimits, type OpenVisit, type VisitLimits } from './visit.ts';

export interface ContractServerOptions<T extends RequestTable> {
  readonly table: T;
  readonly services: ServicesOf<T>;
  readonly subscribe: Subscribe;
  /** Names this life of the program; another one after every start. */
  readonly life: string;
  readonly later: Later;
  /** Where bugs are written, stack and all; nothing of it crosses to a page. */
  readonly log: (line: string) => void;
  /** Holds every reply and push against its schema before it goes: in tests and in development. */
  readonly checkReplies: boolean;
  readonly limits?: Partial<VisitLimits>;
}

export interface ContractServer {
  accept(connection: Connection): Visit;
  /** Hears and sends nothing more; the carrier ends the connections. */
  close(): void;
}

const readingsIn = (push: Push) =>
  push.kind === 'readings' ? push.columns.reduce((count, columns) => count + columns.atMs.length, 0) : 0;

/**
 * Carries the contract over any number of connections: numbers pushes, keeps the last ones for pages that come back,
 * gathers live readings, and answers requests. Knows nothing of sockets or windows.
 */
export function createContractServer<T extends RequestTable>(options: ContractServerOptions<T>): ContractServer {
  const { life, later, log, checkReplies } = options;
  const backlog = createBacklog();
  const visits = new Set<OpenVisit>();
  let sequence = 0;
  let bugs = 0;

  function blame(what: string, cause: unknown) {
    bugs += 1;
    const reference = `${life.slice(0, 8)}-${bugs}`;
    log(`${reference}: ${what}: ${cause instanceof Error ? (cause.stack ?? cause.message) : String(cause)}`);
    return reference;
  }

  function publish(push: Push) {
    const text = JSON.stringify({ kind: 'push', sequence: sequence + 1, push } satisfies ToPage);
    sequence += 1;
    if (checkReplies) {
      const read = v.safeParse(ToPage, JSON.parse(text));
      if (!read.success) blame(`The push ${push.kind} does not fit`, v.summarize(read.issues));
    }
    const numbered: NumberedPush = { sequence, text, readings: readingsIn(push) };
    backlog.add(numbered);
    for (const visit of visits) visit.tell(numbered);
  }

  const flow = createReadingsFlow((columns) => {
    publish({ kind: 'readings', columns });
  }, later);

  const leave = options.subscribe((push) => {
    if (push.kind === 'readings') {
      flow.add(push.columns);
      return;
    }
    // The readings of a run are shown before it is shown as ended.
    if (push.kind === 'run') flow.flush();
    publish(push);
  });

  const routes = routesOf(options.table, options.services);
  const limits = { ...visitLimits, ...options.limits };
  const hall = { life, backlog, routes, later, limits, checkReplies, blame, latest: () => sequence };
  return {
    accept(connection) {
      const visit = openVisit(connection, hall);
      visits.add(visit);
      return {
        message(text) {
          visit.message(text);
        },
        closed() {
          visits.delete(visit);
          visit.closed();
        },
      };
    },
    close() {
      leave();
      flow.close();
      for (const visit of visits) visit.closed();
      visits.clear();
    },
  };
}
