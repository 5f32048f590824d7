import type { RequestInput } from '../../../src-shared/contract/request.ts';
import { typedNumber } from './typed-number.ts';

type CheckInput = RequestInput<'meter.check'>;
type Refusals = Partial<Record<'shown' | 'range' | 'label' | 'value' | 'giveOrTake' | 'other', string>>;

/** No range or meter chosen, as a select holds it. */
export const noneChosen = -1;

/** A check of a meter against something known, as it stands in the form. */
export class CheckForm {
  from = $state<'heard' | 'typed'>('heard');
  shown = $state('');
  rangeIndex = $state(noneChosen);
  against = $state<'source' | 'meter'>('source');
  label = $state('');
  value = $state('');
  giveOrTake = $state('');
  otherMeterId = $state(noneChosen);
  refusals = $state.raw<Refusals>({});

  /** The check to be made, or null with every refusal at its box. */
  read(meterId: number): CheckInput | null {
    const refusals: Refusals = {};
    const number = (key: 'shown' | 'value' | 'giveOrTake', text: string): number => {
      const parsed = typedNumber(text);
      if (!Number.isFinite(parsed)) refusals[key] = 'Type a number, such as 10 or 9,98.';
      return parsed;
    };
    const typed = this.from === 'heard' ? null : { value: number('shown', this.shown), rangeIndex: this.rangeIndex };
    if (typed !== null && typed.rangeIndex === noneChosen) refusals.range = 'Choose the range that it was read on.';
    const reference = this.#reference(refusals, number);
    this.refusals = refusals;
    return Object.keys(refusals).length === 0 ? { meterId, typed, reference } : null;
  }

  #reference(
    refusals: Refusals,
    number: (key: 'value' | 'giveOrTake', text: string) => number,
  ): CheckInput['reference'] {
    if (this.against === 'meter') {
      if (this.otherMeterId === noneChosen) refusals.other = 'Choose the other meter.';
      return { kind: 'meter', meterId: this.otherMeterId };
    }
    if (this.label.trim() === '') refusals.label = 'Say what the source is.';
    return {
      kind: 'source',
      label: this.label.trim(),
      value: number('value', this.value),
      giveOrTake: this.giveOrTake.trim() === '' ? null : number('giveOrTake', this.giveOrTake),
    };
  }
}
