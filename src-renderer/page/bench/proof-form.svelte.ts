import type { GuardCommand } from '../../../src-shared/interlock/command.ts';
import { parseIn } from '../../part/read-quantity.ts';
import type { Meter } from './setup-form.svelte.ts';

type Instrument = Extract<GuardCommand, { kind: 'proof-started' }>['instrument'];
type Key = 'meter' | 'acRange' | 'dcRange' | 'knownAc' | 'knownDc' | 'label' | 'maxVolts';

/** Volt ranges of a meter for one kind, with their place in its description, highest first. */
export const rangesFor = (meter: Meter | undefined, coupling: 'ac' | 'dc') =>
  (meter?.description.ranges ?? [])
    .map((range, index) => ({ range, index }))
    .filter(({ range }) => range.unit === 'V' && range.coupling === coupling)
    .sort((a, b) => b.range.top - a.range.top);

/** What a proof of dead is made with, as it stands in the form. */
export class ProofForm {
  instrument = $state<'meter' | 'indicator'>('meter');
  meterId = $state(0);
  acRange = $state(-1);
  dcRange = $state(-1);
  knownAc = $state('');
  knownDc = $state('');
  label = $state('');
  maxVolts = $state('');
  refusals = $state.raw<Partial<Record<Key, string>>>({});

  readonly #meters: readonly Meter[];

  constructor(meters: readonly Meter[], mainsVolts: number) {
    this.#meters = meters;
    this.choose(meters[0]);
    this.knownAc = String(mainsVolts);
  }

  choose(meter: Meter | undefined): void {
    this.meterId = meter?.meterId ?? 0;
    this.acRange = rangesFor(meter, 'ac')[0]?.index ?? -1;
    this.dcRange = rangesFor(meter, 'dc')[0]?.index ?? -1;
  }

  /** The instrument, or null with every refusal at its field. */
  read(): Instrument | null {
    const refusals: Partial<Record<Key, string>> = {};
    const volts = (key: Key, text: string): number => {
      const parsed = parseIn(text, 'V');
      if (parsed.ok && parsed.value > 0) return parsed.value;
      refusals[key] = 'Type volts above zero, such as 230.';
      return 0;
    };
    const instrument = this.instrument === 'meter' ? this.#meter(volts, refusals) : this.#indicator(volts, refusals);
    this.refusals = refusals;
    return Object.keys(refusals).length === 0 ? instrument : null;
  }

  #meter(volts: (key: Key, text: string) => number, refusals: Partial<Record<Key, string>>): Instrument {
    if (this.meterId === 0) refusals.meter = 'Choose the meter.';
    if (this.acRange < 0) refusals.acRange = this.#noRange('ac');
    if (this.dcRange < 0) refusals.dcRange = this.#noRange('dc');
    return {
      kind: 'meter',
      meterId: this.meterId,
      acRange: this.acRange,
      dcRange: this.dcRange,
      knownAcVolts: volts('knownAc', this.knownAc),
      knownDcVolts: volts('knownDc', this.knownDc),
    };
  }

  /** What to do about a range that is not chosen: choose it, or describe the meter's ranges first. */
  #noRange(coupling: 'ac' | 'dc'): string {
    const kind = coupling === 'ac' ? 'a.c.' : 'd.c.';
    const meter = this.#meters.find(({ meterId }) => meterId === this.meterId);
    return meter === undefined || rangesFor(meter, coupling).length > 0
      ? `Choose the range that you lock for ${kind}`
      : `No ${kind} volt range of ${meter.description.label} is described. Add it under Meters, or take another meter.`;
  }

  #indicator(volts: (key: Key, text: string) => number, refusals: Partial<Record<Key, string>>): Instrument {
    if (this.label.trim() === '') refusals.label = 'Say which indicator it is.';
    const maxVolts = this.maxVolts.trim() === '' ? null : volts('maxVolts', this.maxVolts);
    return { kind: 'indicator', label: this.label.trim(), maxVolts };
  }
}
