import type { PracticeMeter } from '../../src-shared/meter/description.ts';
import { usualPortSettings } from '../../src-shared/meter/port-settings.ts';
import { simulateMeter } from '../../src-shared/meter/practice-meter.ts';
import type { Coupling } from '../../src-shared/meter/unit.ts';
import { seededGenerator } from '../../src-shared/quantity/generator.ts';
import type { Clock } from '../bench/clock.ts';
import type { LinkedMeter } from './link.ts';
import type { MeterPort } from './meter-port.ts';
import { virtualPort } from './virtual-port.ts';

/** What a practice meter is joined to. */
export interface PracticeSource {
  /** The true value at the meter's leads at a time, in the meter's unit. */
  trueValue(atMs: number): number;
  /** Index of the range that it is held on; null while it chooses by itself. */
  lockedRange(): number | null;
  /** What its knob is turned to; null while it is as described. */
  turnedTo(): Coupling | null;
  /** It has switched itself off: it sends nothing until somebody presses a key of it. */
  isQuiet(atMs: number): boolean;
}

/** How a practice meter's lines are read: as those of any meter that sends by itself. */
export const practiceLine = ({ scales, typicalIntervalMs }: PracticeMeter): LinkedMeter => ({
  port: { path: 'practice', ...usualPortSettings },
  talk: { mode: 'listen' },
  format: { grammar: 'generic', encoding: 'ascii', decimal: 'point' },
  values: [],
  bareUnit: null,
  scales,
  typicalIntervalMs,
});

/** A port with a simulated meter behind it, sending a line at every typical interval. The seed makes it err in its way. */
export function practicePort(
  meter: PracticeMeter,
  source: PracticeSource,
  seed: number,
  clock: Pick<Clock, 'monoMs' | 'after'>,
): MeterPort {
  const simulated = simulateMeter(meter, seededGenerator(seed));
  let callOff: (() => void) | null = null;
  return virtualPort({
    opened(deliver) {
      const send = () => {
        const atMs = clock.monoMs();
        callOff = clock.after(meter.typicalIntervalMs, send);
        if (source.isQuiet(atMs)) return;
        const text = simulated.lineFor(
          source.trueValue(atMs),
          atMs,
          source.lockedRange(),
          source.turnedTo() ?? undefined,
        );
        deliver(Buffer.from(`\r\n${text}\r\n`, 'latin1'));
      };
      callOff = clock.after(0, send);
    },
    closed() {
      callOff?.();
    },
  });
}
