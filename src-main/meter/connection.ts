import type { Encoding } from '../../src-shared/meter/line-format.ts';
import type { DropReason, GuardCounts } from '../../src-shared/meter/line-guard.ts';
import type { LinkReason } from '../../src-shared/meter/link-status.ts';
import type { Clock } from '../bench/clock.ts';
import { createLineChain } from './line-chain.ts';
import type { MeterPort } from './meter-port.ts';
import { permissionAdvice } from './port-advice.ts';
import { openFailure } from './open-failure.ts';

export interface ConnectionOptions {
  /** A new port, not opened. */
  readonly newPort: () => MeterPort | Promise<MeterPort>;
  readonly path: string;
  readonly lines: { readonly dtr: boolean; readonly rts: boolean };
  readonly encoding: Encoding;
  /** `mid-line`: the meter sends unasked, and the first line may be half. `flushed`: what was waiting is thrown away. */
  readonly begins: 'mid-line' | 'flushed';
  readonly clock: Pick<Clock, 'after'>;
  readonly onLine: (text: string) => void;
  readonly onDropped: (why: DropReason, text: string) => void;
  /** The port is gone; nothing comes after it. */
  readonly onLost: () => void;
}

/** An open port with its own guard and line parser. */
export interface Connection {
  /** Sends text; rejects when the port is not open any more. */
  send(text: string): Promise<void>;
  /** Resolves when the port is free; nothing is heard from it after the call. */
  close(): Promise<void>;
  counts(): GuardCounts;
}

export type Opened =
  | { readonly kind: 'open'; readonly connection: Connection }
  | {
      readonly kind: 'failed';
      readonly why: LinkReason;
      /** The system's own words where they are not understood, or what to do on this system; else empty. */
      readonly detail: string;
      /** When trying again cannot collide with this attempt, which may still be hanging in the system. */
      readonly settled: Promise<void>;
    };

const openWithinMs = 5000;

const asError = (thrown: unknown): Error => (thrown instanceof Error ? thrown : new Error(String(thrown)));
const ignored = (): void => undefined;

/** Opens the port, giving up the wait after a while: then the late port is closed as soon as it does open. */
function openInTime(port: MeterPort, after: Clock['after']): Promise<'open' | { late: Promise<void> }> {
  return new Promise((resolve, reject) => {
    const opening = port.open();
    const callOff = after(openWithinMs, () => {
      const late = opening.then(() => port.close(), ignored).catch(ignored);
      resolve({ late });
    });
    opening.then(
      () => {
        callOff();
        resolve('open');
      },
      (error: unknown) => {
        callOff();
        reject(asError(error));
      },
    );
  });
}

/**
 * Opens one connection. The port, its guard and its parser belong to this connection alone and are thrown away with it.
 * Handshake lines are set where there are any; a port without them (a pseudo terminal) is used as it is.
 */
export async function openConnection(options: ConnectionOptions): Promise<Opened> {
  let isOver = false;
  /** Whoever opened it has it: until then the answer tells what became of it. */
  let isHandedOver = false;
  const chain = createLineChain({
    encoding: options.encoding,
    joinsMidLine: options.begins === 'mid-line',
    onLine: (text) => {
      if (!isOver) options.onLine(text);
    },
    onDropped: (why, text) => {
      if (!isOver) options.onDropped(why, text);
    },
  });
  try {
    const port = await options.newPort();
    const hear = () => {
      port.onData((bytes) => {
        chain.push(bytes);
      });
    };
    port.onLost(() => {
      if (isOver) return;
      chain.end();
      isOver = true;
      if (isHandedOver) options.onLost();
    });
    if (options.begins === 'mid-line') hear();
    const opened = await openInTime(port, options.clock.after);
    if (opened !== 'open') {
      isOver = true;
      return { kind: 'failed', why: 'open-timeout', detail: '', settled: opened.late };
    }
    await port.setLines(options.lines).catch(ignored);
    if (options.begins === 'flushed') {
      await port.flush().catch(ignored);
      hear();
    }
    const connection: Connection = {
      send: (text) => port.write(text),
      close: async () => {
        isOver = true;
        await port.close().catch(ignored);
      },
      counts: () => chain.counts(),
    };
    if (isOver) return { kind: 'failed', why: 'port-lost', detail: '', settled: Promise.resolve() };
    isHandedOver = true;
    return { kind: 'open', connection };
  } catch (thrown) {
    const error = asError(thrown);
    const why = await openFailure(options.path, error, process.platform);
    const detail = why === 'permission' ? await permissionAdvice(options.path, process.platform) : '';
    return {
      kind: 'failed',
      why,
      detail: why === 'open-failed' ? error.message : detail,
      settled: Promise.resolve(),
    };
  }
}
