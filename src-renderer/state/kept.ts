/** Things that outlive the component that shows them, by key: a half-filled form is still there on return. */
export class Kept<T> {
  readonly #things = new Map<string, T>();

  /** The thing of this key; made when there is none yet. */
  take(key: string, make: () => T): T {
    const known = this.#things.get(key);
    if (known !== undefined) return known;
    const made = make();
    this.#things.set(key, made);
    return made;
  }

  drop(key: string): void {
    this.#things.delete(key);
  }
}
