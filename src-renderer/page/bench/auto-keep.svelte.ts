/** Keeps each settled value once, without a key: the next one after the reading has moved. */
export class AutoKeep {
  isOn = $state(false);
  #isArmed = true;

  /** Whether this settled moment is to be kept now. */
  sees(isSettled: boolean): boolean {
    if (!isSettled) this.#isArmed = true;
    if (!this.isOn || !isSettled || !this.#isArmed) return false;
    this.#isArmed = false;
    return true;
  }
}
