import * as v from 'valibot';

const Seen = v.strictObject({ life: v.string(), sequence: v.pipe(v.number(), v.safeInteger(), v.minValue(0)) });

/** The life of the program that this tab knew, and the last push it saw of it. */
export type Seen = v.InferOutput<typeof Seen>;

/** Where a tab keeps what it saw, so that a reload is told what it missed. */
export interface Memory {
  readonly read: () => Seen | null;
  readonly write: (seen: Seen) => void;
}

const key = 'turnwright.seen';

/** Memory in the tab's session storage; what cannot be read counts as nothing seen. */
export const tabMemory = (storage: Storage): Memory => ({
  read() {
    const text = storage.getItem(key);
    if (text === null) return null;
    try {
      const parsed = v.safeParse(Seen, JSON.parse(text));
      return parsed.success ? parsed.output : null;
    } catch {
      return null;
    }
  },
  write: (seen) => storage.setItem(key, JSON.stringify(seen)),
});
