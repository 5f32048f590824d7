/** Where the page keeps things of its own over reloads, by key. Losing them loses no record. */
export interface Keeping {
  /** What was kept, as JSON reads it; null when there is nothing, or nothing that can be read. */
  readonly read: (key: string) => unknown;
  /** Keeps a thing; null forgets it. */
  readonly write: (key: string, thing: unknown) => void;
}

const prefix = 'turnwright.';

/** Keeping in a browser's storage; where that is full or not allowed, nothing is kept. */
export const browserKeeping = (storage: () => Storage): Keeping => ({
  read(key) {
    try {
      const text = storage().getItem(prefix + key);
      const thing: unknown = text === null ? null : JSON.parse(text);
      return thing;
    } catch {
      return null;
    }
  },
  write(key, thing) {
    try {
      if (thing === null) storage().removeItem(prefix + key);
      else storage().setItem(prefix + key, JSON.stringify(thing));
    } catch {
      return;
    }
  },
});
