import type { PlanFields } from '../../../src-shared/record/plan.ts';
import type { UnitSystem } from '../../../src-shared/quantity/unit.ts';
import { readQuantity } from '../../part/read-quantity.ts';
import { Boxes, type BoxesRead } from './boxes.svelte.ts';
import { outputAsked, outputKeys, tapAsked, type OutputKey, type OutputNumbers } from './plan-asked.ts';

/** What an output feeds. Half-wave is there to be refused with its reason. */
export type Feeds = 'ac' | 'bridge' | 'centre-tap' | 'half-wave';
const everyFeed: readonly Feeds[] = ['ac', 'bridge', 'centre-tap', 'half-wave'];

type Texts = PlanFields['asked']['whole'];
export const textIn = (texts: Texts, key: string): string => {
  const found = texts[key];
  return typeof found === 'string' ? found : '';
};
const tapsAtMost = 6;

/** One output as it stands in the form: the person's own texts. */
export class OutputForm {
  /** Stays the same while versions come and go; the tally counts by it. */
  readonly key: string;
  label = $state('');
  readonly #boxes = new Boxes(outputAsked, outputKeys, { loadVolts: '', loadAmps: '', powerFactor: '', room: '' });
  feeds = $state<Feeds>('ac');
  /** The choice looked at, as `strands × wire`; '' for the first. */
  chosen = $state('');
  /** The person's own word, for this build. */
  over50 = $state(false);
  taps = $state<{ label: string; volts: string }[]>([]);

  constructor(key: string, label: string, numbers: OutputNumbers = {}) {
    this.key = key;
    this.label = label;
    this.put({ powerFactor: 1, ...numbers });
  }

  /** The person's own texts, by box. */
  get texts(): Record<OutputKey, string> {
    return this.#boxes.texts;
  }

  read(system: UnitSystem): BoxesRead<OutputKey> {
    return this.#boxes.read(system);
  }

  /** Puts figures into boxes, in metric units. */
  put(numbers: OutputNumbers): void {
    this.#boxes.put(numbers, 'metric');
  }

  turnTo(system: UnitSystem, from: UnitSystem): void {
    this.#boxes.turnTo(system, from);
  }

  addTap(): void {
    if (this.taps.length < tapsAtMost) this.taps.push({ label: `Tap ${this.taps.length + 1}`, volts: '' });
  }

  /** The taps whose volts can be read, and what is wrong with the others, by their place. */
  get readTaps(): readonly {
    readonly label: string;
    readonly volts: number | null;
    readonly refusal: string | null;
  }[] {
    return this.taps.map(({ label, volts }) => {
      const read = readQuantity(volts, tapAsked, 'metric');
      return {
        label,
        volts: read.kind === 'value' ? read.value : null,
        refusal: read.kind === 'refused' ? read.message : null,
      };
    });
  }

  snapshot(): Texts {
    const taps: Record<string, string> = {};
    for (const [at, { label, volts }] of this.taps.entries()) {
      taps[`tap.${at}.label`] = label;
      taps[`tap.${at}.volts`] = volts;
    }
    const { key, label, feeds, chosen, over50 } = this;
    return { key, label, feeds, chosen, over50, ...this.texts, ...taps };
  }

  /** The output that a snapshot was made of. */
  static from(texts: Texts, fallbackKey: string): OutputForm {
    const output = new OutputForm(textIn(texts, 'key') || fallbackKey, textIn(texts, 'label'));
    for (const key of outputKeys) output.texts[key] = textIn(texts, key);
    output.feeds = everyFeed.find((each) => each === texts['feeds']) ?? 'ac';
    output.chosen = textIn(texts, 'chosen');
    output.over50 = texts['over50'] === true;
    for (let at = 0; typeof texts[`tap.${at}.volts`] === 'string' && at < tapsAtMost; at += 1) {
      output.taps.push({ label: textIn(texts, `tap.${at}.label`), volts: textIn(texts, `tap.${at}.volts`) });
    }
    return output;
  }
}
