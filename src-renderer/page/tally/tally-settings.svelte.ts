import * as v from 'valibot';
import type { Keeping } from '../../state/keeping.ts';

export const hearings = ['silent', 'tick', 'spoken'] as const;
export type Hearing = (typeof hearings)[number];

const Kept = v.strictObject({ hearing: v.picklist(hearings), footKey: v.nullable(v.string()) });
const key = 'tally-settings';

/** How this bench counts: what is heard at a turn, and the key that a foot switch types. Kept in the page. */
export class TallySettings {
  hearing = $state<Hearing>('tick');
  footKey = $state<string | null>(null);
  /** The next key that is pressed is the foot switch’s. */
  isLearning = $state(false);
  readonly #keeping: Keeping;

  constructor(keeping: Keeping) {
    this.#keeping = keeping;
    const kept = v.safeParse(Kept, keeping.read(key));
    if (!kept.success) return;
    this.hearing = kept.output.hearing;
    this.footKey = kept.output.footKey;
  }

  hear(hearing: Hearing): void {
    this.hearing = hearing;
    this.#keep();
  }

  /** Takes a key as the foot switch’s; Escape leaves it as it was. */
  learn(pressed: string): void {
    this.isLearning = false;
    if (pressed === 'Escape') return;
    this.footKey = pressed;
    this.#keep();
  }

  #keep(): void {
    const { hearing, footKey } = this;
    this.#keeping.write(key, { hearing, footKey });
  }
}
