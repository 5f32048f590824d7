import type { SupplyKind } from '../record/session.ts';
import type { Method, Step } from './procedure.ts';

const coil: Step = {
  id: 'wind',
  text: 'Wind the test coil: whole turns, counted at one window, both leads out on the same side. Write the number on a tag.',
};
const another: Step = {
  id: 'another-coil',
  text: 'Wind another coil of more turns and do it again: a miscounted coil shows itself.',
};

const low: readonly Step[] = [
  {
    id: 'low-source',
    text: 'Choose the highest source voltage that keeps every known winding and the plug at or under the bound in the table.',
  },
  coil,
];

const mains: readonly Step[] = [
  {
    id: 'low-first',
    text: 'Try low voltage first where it is to be had: it finds the turns as well, and more closely.',
  },
  { ...coil, text: `${coil.text} Wire rated for mains, 10 mm or more from any high-voltage winding.` },
  { id: 'lamp', text: 'First power through a series filament lamp: dim is as expected, bright means stop.' },
  { id: 'minute', text: 'Power on for 60 s at most; know before what is to be read.' },
];

const methods: Readonly<Record<Method, readonly Step[]>> = {
  'two-meters': [
    { id: 'ranges', text: 'Lock a range on each meter where the reading lies above 5 % of it.' },
    { id: 'pair', text: 'Power on. When both have settled, keep the pair. Power off.' },
    {
      id: 'swap',
      text: 'Exchange the two meters on the same ranges and keep a second pair: their gains cancel.',
    },
  ],
  'one-meter': [
    { id: 'range', text: 'Lock one range that holds both voltages: on one range the gain of the meter cancels.' },
    {
      id: 'primary-coil-primary',
      text: 'Keep primary, coil, primary, in this order, with power off while the clips are moved: drift of the line drops out.',
    },
  ],
};

/** What to do for the turns of a primary, in order. */
export const testCoilSteps = (supply: SupplyKind, method: Method): readonly Step[] => [
  ...(supply === 'isolated-low-voltage' ? low : mains),
  ...methods[method],
  another,
];
