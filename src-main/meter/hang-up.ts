import { stat } from 'node:fs/promises';

/** How often an open port is looked at, in ms. */
const lookEveryMs = 500;

/** What is needed of an open port to see whether its device is still there. */
export interface Watched {
  isOpen(): boolean;
  /** Asks the device for its rate: rejects when there is no device behind the port any more. */
  askRate(): Promise<unknown>;
}

const works = (asked: Promise<unknown>): Promise<boolean> =>
  asked.then(
    () => true,
    () => false,
  );

/**
 * Tells, once, when the device behind an open port is gone. The port library tells it by itself only when it happens to
 * be waiting for data: a lead pulled while data are being read ends in an endless loop of empty reads, without a word.
 * So the device is asked for its rate now and then; where it never could be, its path is looked at instead.
 */
export async function watchForHangUp(port: Watched, path: string, onGone: () => void): Promise<void> {
  const canBeAsked = await works(port.askRate());
  const isThere = () => works(canBeAsked ? port.askRate() : stat(path));
  const look = async () => {
    if (!port.isOpen()) return;
    if (await isThere()) again();
    else if (port.isOpen()) onGone();
  };
  const again = () => {
    setTimeout(() => void look(), lookEveryMs).unref();
  };
  again();
}
