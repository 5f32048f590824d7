import type { Clock } from '../bench/clock.ts';
import type { MeterPort } from './meter-port.ts';
import { virtualPort } from './virtual-port.ts';

/** A piece of what once came from a port: its bytes, and how long after the opening they came. */
export interface RecordedPiece {
  readonly afterMs: number;
  readonly bytes: Uint8Array;
}

/** A port that plays a recording at its own times, once; then it stays open and silent, as the meter did. */
export function replayPort(recording: readonly RecordedPiece[], clock: Pick<Clock, 'monoMs' | 'after'>): MeterPort {
  let callOff: (() => void) | null = null;
  return virtualPort({
    opened(deliver) {
      const openedMs = clock.monoMs();
      const play = (index: number) => {
        const piece = recording[index];
        if (piece === undefined) return;
        callOff = clock.after(Math.max(0, openedMs + piece.afterMs - clock.monoMs()), () => {
          deliver(piece.bytes);
          play(index + 1);
        });
      };
      play(0);
    },
    closed() {
      callOff?.();
    },
  });
}
