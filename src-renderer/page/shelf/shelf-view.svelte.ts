import * as v from 'valibot';
import { missingKinds } from '../../../src-shared/ranking/missing.ts';
import type { Keeping } from '../../state/keeping.ts';

const Kept = v.strictObject({
  needId: v.nullable(v.number()),
  missing: v.nullable(v.picklist(missingKinds)),
  onlyDoing: v.boolean(),
});
type Kept = v.InferOutput<typeof Kept>;

const under = 'shelf';

/** How the shelf is looked at: for which need, and what is sifted out. Remembered over reloads. */
export class ShelfView {
  /** What was typed to find a core; forgotten with the page. */
  typed = $state('');
  readonly #keeping: Keeping;
  #kept = $state.raw<Kept>({ needId: null, missing: null, onlyDoing: false });

  constructor(keeping: Keeping) {
    this.#keeping = keeping;
    const parsed = v.safeParse(Kept, keeping.read(under));
    if (parsed.success) this.#kept = parsed.output;
  }

  /** The need that the shelf is ranked for; null for none. */
  get needId(): number | null {
    return this.#kept.needId;
  }

  /** Only cores of which this is missing; null for all. */
  get missing(): Kept['missing'] {
    return this.#kept.missing;
  }

  /** Only cores that do it, or may. */
  get onlyDoing(): boolean {
    return this.#kept.onlyDoing;
  }

  look(changes: Partial<Kept>): void {
    this.#kept = { ...this.#kept, ...changes };
    this.#keeping.write(under, this.#kept);
  }
}
