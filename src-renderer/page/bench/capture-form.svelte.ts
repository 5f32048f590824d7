import { parseNumber } from '../../../src-shared/quantity/parse-number.ts';

/** The coil on the bench, as the person says it. */
export class CaptureForm {
  coilTurns = $state('');
  swapped = $state(false);
  refusal = $state<string | undefined>(undefined);

  /** Whole turns, or null with why not at the field; the text stays. */
  readTurns(): number | null {
    const parsed = parseNumber(this.coilTurns);
    if (!parsed.ok) {
      this.refusal = 'Type how many turns the coil has, counted at one window.';
      return null;
    }
    if (!Number.isInteger(parsed.value)) {
      this.refusal = 'Coil turns must be whole: both leads leave on the same side. A half turn links half the flux.';
      return null;
    }
    if (parsed.value < 1 || parsed.value > 10_000) {
      this.refusal = 'Coil turns must be from 1 to 10000.';
      return null;
    }
    this.refusal = undefined;
    return parsed.value;
  }
}
