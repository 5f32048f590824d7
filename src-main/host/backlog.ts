/** A push as it was numbered. Readings are kept by number only: a page that missed them asks for history instead. */
export interface NumberedPush {
  readonly sequence: number;
  /** The envelope as it crosses. */
  readonly text: string;
  /** How many readings it carries; 0 for everything that may not be lost. */
  readonly readings: number;
}

export interface Backlog {
  add(push: NumberedPush): void;
  /** Every push after the given number, oldest first; null when they are no longer all here, or not of this life. */
  since(sequence: number): readonly NumberedPush[] | null;
}

/**
 * The last pushes, for pages that come back. Holds at most `longest` pushes and `largest` characters; the oldest go
 * first. The numbers that it is given count upwards by one from 1.
 */
export function createBacklog(longest = 32_768, largest = 8_388_608): Backlog {
  let kept: NumberedPush[] = [];
  let gone = 0;
  let characters = 0;
  let latest = 0;
  return {
    add(push) {
      const entry = push.readings > 0 ? { ...push, text: '' } : push;
      kept.push(entry);
      latest = push.sequence;
      characters += entry.text.length;
      while (kept.length - gone > longest || characters > largest) {
        characters -= kept[gone]?.text.length ?? 0;
        gone += 1;
      }
      if (gone > kept.length / 2) {
        kept = kept.slice(gone);
        gone = 0;
      }
    },
    since(sequence) {
      const wanted = latest - sequence;
      if (wanted < 0 || wanted > kept.length - gone) return null;
      return kept.slice(kept.length - wanted);
    },
  };
}
