import type { Supply } from '../../../src-shared/record/session.ts';

/** Kinds of supply that are refused, whatever their volts. */
type RefusedSupply = 'electronic' | 'dimmer';
export type SupplyChoice = Supply['kind'] | RefusedSupply;

interface SupplyOption {
  readonly value: SupplyChoice;
  readonly label: string;
  readonly hint: string;
}

/** What can feed the bench, the calmest first. */
export const supplyOptions: readonly SupplyOption[] = [
  {
    value: 'isolated-low-voltage',
    label: 'Isolated low-voltage source, 50 or 60 Hz: try this first',
    hint:
      'Calmer, and the more accurate one: at 5 to 30 % of its volts the primary’s own drop and distorted current, ' +
      'which bias the ratio at mains, nearly vanish.',
  },
  {
    value: 'mains-through-lamp',
    label: 'Mains through a series lamp',
    hint: 'For the first power after any change. Dim is as expected; bright and steady means stop.',
  },
  {
    value: 'variable-transformer',
    label: 'Variable transformer',
    hint: 'Does not isolate: its output is joined to the mains at every setting.',
  },
  {
    value: 'isolating-transformer',
    label: 'Isolating transformer, 1:1',
    hint: 'For this alone. An RCD/GFCI sees nothing behind it.',
  },
  { value: 'mains', label: 'Mains', hint: 'Only when nothing calmer is to be had.' },
  { value: 'electronic', label: 'Electronic supply for halogen or LED lamps', hint: 'Not accepted.' },
  { value: 'dimmer', label: 'Dimmer', hint: 'Not accepted.' },
];

const refusals: Readonly<Record<RefusedSupply, string>> = {
  electronic:
    'An electronic supply gives about 30 kHz or direct current, not a 50/60 Hz sine: no reading of it tells turns. ' +
    'Take an isolated transformer of wire and iron.',
  dimmer:
    'A dimmer cuts the wave and may pass direct current: the core saturates and the ratio is wrong. ' +
    'Take a lower voltage from a transformer instead.',
};

const isRefusedSupply = (choice: SupplyChoice): choice is RefusedSupply =>
  choice === 'electronic' || choice === 'dimmer';

/** Why a kind of supply is not accepted; null when it is. */
export const supplyRefusal = (choice: SupplyChoice): string | null =>
  isRefusedSupply(choice) ? refusals[choice] : null;

const words: Readonly<Record<Supply['kind'], string>> = {
  'isolated-low-voltage': 'isolated low-voltage source',
  'mains-through-lamp': 'mains through a lamp',
  'variable-transformer': 'variable transformer, not isolated',
  'isolating-transformer': 'isolating transformer',
  mains: 'mains',
};

/** A supply in one line: `isolated low-voltage source, 24 V, 50 Hz`. */
export const supplyLine = (supply: Supply): string => `${words[supply.kind]}, ${supply.volts} V, ${supply.hertz} Hz`;
