import type { Ask, SerialMeter } from '../../../src-shared/meter/description.ts';
import type { TalkBoxes } from './meter-boxes.ts';
import { boxed, typedMs } from './typed-number.ts';

/** How a meter is brought to send, as it stands in the form. */
export class TalkForm {
  mode = $state<SerialMeter['talk']['mode']>('listen');
  query = $state('READ?');
  intervalSeconds = $state('0.5');
  timeoutSeconds = $state('2');
  /** One command a line, sent once after opening. */
  opening = $state('*IDN?');
  lineEnd = $state<Ask['lineEnd']>('lf');

  take(talk: SerialMeter['talk']): void {
    this.mode = talk.mode;
    if (talk.mode === 'listen') return;
    this.query = talk.query;
    this.intervalSeconds = boxed(talk.intervalMs / 1000);
    this.timeoutSeconds = boxed(talk.timeoutMs / 1000);
    this.opening = talk.opening.join('\n');
    this.lineEnd = talk.lineEnd;
  }

  snapshot(): TalkBoxes {
    const { mode, query, intervalSeconds, timeoutSeconds, opening, lineEnd } = this;
    return { mode, query, intervalSeconds, timeoutSeconds, opening, lineEnd };
  }

  restore(boxes: TalkBoxes): void {
    Object.assign(this, boxes);
  }

  /** As the description has it; what cannot be read is refused there. */
  gather(): object {
    if (this.mode === 'listen') return { mode: 'listen' };
    const opening = this.opening.split('\n').map((command) => command.trim());
    return {
      mode: 'ask',
      query: this.query.trim(),
      intervalMs: typedMs(this.intervalSeconds),
      timeoutMs: typedMs(this.timeoutSeconds),
      opening: opening.filter((command) => command !== ''),
      lineEnd: this.lineEnd,
    };
  }
}
