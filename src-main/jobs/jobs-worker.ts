import { parentPort } from 'node:worker_threads';
import { carryOut } from './carry-out.ts';
import type { Order, Report } from './job.ts';
import { progressOf } from './progress.ts';

// The entry of the jobs worker: whatever can take longer than 50 ms, one job at a time, beside the program that records.
const port = parentPort;
if (port === null) throw new Error('This file is started as a worker.');

const report = (what: Report) => {
  port.postMessage(what);
};

port.on('message', ({ flag, ...order }: Order) => {
  const tell = (share: number) => {
    report({ kind: 'progress', share });
  };
  const outcome = carryOut(
    order,
    progressOf(flag, tell, () => performance.now()),
  );
  report({ kind: 'ended', outcome });
});
