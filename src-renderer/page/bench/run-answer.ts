import * as v from 'valibot';
import type { InputField, InputShape } from '../../../src-shared/calculation/input-shape.ts';
import { calculations, isCalculationName } from '../../../src-shared/calculation/table.ts';

const number = v.pipe(v.number(), v.finite());
const Physical = v.looseObject({
  value: number,
  u: v.nullable(number),
  unit: v.string(),
  interval95: v.nullable(v.tuple([number, number])),
  budget: v.optional(v.array(v.looseObject({ input: v.string(), share: number }))),
});
type Physical = v.InferOutput<typeof Physical>;

const Answer = v.looseObject({
  ok: v.literal(true),
  name: v.string(),
  results: v.record(v.string(), v.unknown()),
  working: v.array(
    v.looseObject({ symbol: v.string(), formula: v.string(), numbers: v.string(), value: number, unit: v.string() }),
  ),
  cautions: v.array(v.looseObject({ code: v.string(), text: v.string() })),
  sources: v.array(v.string()),
});

/** The answer of any calculation, as far as a page shows it. */
export type Worked = v.InferOutput<typeof Answer>;

const Refused = v.looseObject({
  ok: v.literal(false),
  error: v.looseObject({ message: v.string(), path: v.optional(v.string()) }),
});

/**
 * Reads what the program says a run comes to: the answer, or why there is none; both null before anything was kept.
 * @param calculation - whose answer it is: names the input that a bound refused
 */
export function readAnswer(
  soFar: unknown,
  calculation?: string,
): { readonly answer: Worked | null; readonly refusal: string | null } {
  const answer = v.safeParse(Answer, soFar);
  if (answer.success) return { answer: answer.output, refusal: null };
  const refused = v.safeParse(Refused, soFar);
  if (!refused.success) return { answer: null, refusal: null };
  const { message, path } = refused.output.error;
  const label = calculation === undefined ? null : labelAt(calculation, path ?? '');
  return { answer: null, refusal: label !== null && isOfBound(message) ? `${label}: ${message}` : message };
}

/** What a schema says of a number, which names nothing: `Must be above 0.` */
const isOfBound = (message: string): boolean => message.startsWith('Must ');

/** The label of the input at a path; null when there is none. */
function labelAt(calculation: string, path: string): string | null {
  if (!isCalculationName(calculation)) return null;
  let shape: InputShape = calculations[calculation].inputShape;
  let label: string | null = null;
  for (const key of path.split('.')) {
    if (shape.kind === 'list') {
      shape = shape.of;
      continue;
    }
    const field: InputField | undefined =
      shape.kind === 'group' ? shape.fields.find((one) => one.key === key) : undefined;
    if (field === undefined) break;
    ({ shape, label } = field);
  }
  return label;
}

/** One line of a result: a quantity with its doubt, or a word. */
export type ResultRow =
  | { readonly key: string; readonly label: string; readonly quantity: Physical }
  | { readonly key: string; readonly label: string; readonly word: string };

/** What the results are called at the bench, in the order in which they are shown. */
const labels: Readonly<Record<string, string>> = {
  knee: 'Knee, supply volts',
  finalRise: 'Final rise',
  finalCelsius: 'Final temperature',
  atSwitchOff: 'At switch-off',
  timeConstant: 'Time constant',
  secondsToLimit: 'Time to the limit, from power on',
  startCelsius: 'Temperature at the start',
  hotCelsius: 'Winding, mean',
  rise: 'Rise of the winding',
  watts: 'Watts',
  coreLoss: 'Loss in the iron',
  copperLoss: 'Loss in the copper',
  powerFactor: 'Power factor',
  apparentPower: 'Volts times amps',
  magnetisingCurrent: 'Magnetising current',
  coreLossCurrent: 'Loss current',
  coreLossResistance: 'Loss resistance',
  magnetisingReactance: 'Magnetising reactance',
  openCircuitVolts: 'Volts with no load',
  outputResistance: 'Resistance of the output',
  regulationPercent: 'Regulation',
  impedance: 'Impedance',
  resistance: 'Resistance',
  reactance: 'Leakage reactance',
  equivalentResistance: 'Resistance, both windings',
  equivalentReactance: 'Leakage reactance, both windings',
  equivalentImpedance: 'Impedance, both windings',
  ohms: 'Resistance',
  ohmsAt20: 'At 20 °C',
  thermoVolts: 'Volts of the contacts',
  turnsToAdd: 'Turns to add to the output',
  voltsNow: 'Output as it is, at the planned line',
  voltsAfter: 'Output with them',
  polarity: 'They are',
  howToJoin: 'To join them',
  aidingVolts: 'If they add',
  opposingVolts: 'If they subtract',
  verdict: 'Against the figure',
  timesMinimum: 'Times the figure',
  basis: 'Whose figure',
  steady: 'Steady',
};
const order = ['knee', 'predictions', ...Object.keys(labels)];

const words: Readonly<Record<string, string>> = {
  met: 'met',
  'not-met': 'not met',
  unclear: 'unclear',
  'not-applicable': 'tells nothing here',
  aiding: 'adding',
  opposing: 'subtracting',
  true: 'yes',
  false: 'not yet',
};

const placeOf = (key: string): number => (order.includes(key) ? order.indexOf(key) : order.length);

/** The rows of an answer, most telling first. What has no name at the bench is left to the run's own page. */
export function resultRows({ results }: Worked): readonly ResultRow[] {
  return Object.entries(results)
    .sort(([one], [other]) => placeOf(one) - placeOf(other))
    .flatMap(([key, value]): readonly ResultRow[] => {
      if (key === 'predictions') return predictionRows(value);
      const label = labels[key];
      if (label === undefined || value === null) return [];
      const physical = v.safeParse(Physical, value);
      if (physical.success) return [{ key, label, quantity: asMinutes(physical.output) }];
      if (key === 'turnsToAdd') return [{ key, label, word: turnsWord(value, results['worthwhile']) }];
      const word = typeof value === 'string' || typeof value === 'boolean' ? String(value) : null;
      return word === null ? [] : [{ key, label, word: words[word] ?? word }];
    });
}

/** Turns only where the meters can tell that they are wanted. */
const turnsWord = (turns: unknown, worthwhile: unknown): string =>
  worthwhile === true && typeof turns === 'number'
    ? String(turns).replace('-', '−')
    : 'none that these meters can tell';

const Predictions = v.array(v.looseObject({ addedTurns: number, amps: Physical, extrapolated: v.boolean() }));

/** What more turns would draw: a line for each number that was asked for. */
function predictionRows(value: unknown): readonly ResultRow[] {
  const read = v.safeParse(Predictions, value);
  if (!read.success) return [];
  return read.output.map(({ addedTurns, amps, extrapolated }) => ({
    key: `added ${addedTurns}`,
    label: `${addedTurns === 0 ? 'As it is' : `With ${addedTurns} turns more`}${extrapolated ? ', beyond the points' : ''}`,
    quantity: amps,
  }));
}

/** Long times in minutes: nobody counts a time constant in seconds. */
function asMinutes(quantity: Physical): Physical {
  if (quantity.unit !== 's' || Math.abs(quantity.value) < 600) return quantity;
  const { value, u } = quantity;
  return { ...quantity, unit: 'min', value: value / 60, u: u === null ? null : u / 60 };
}

/** Where the doubt of a quantity comes from, in bench words; shares of one kind are added together, largest first. */
export function sharesOf(quantity: Physical): readonly { readonly word: string; readonly share: number }[] {
  const shares = new Map<string, number>();
  for (const { input, share } of quantity.budget ?? []) {
    const word = input.startsWith('shared:') ? 'meters’ gain' : wordOf(input);
    shares.set(word, (shares.get(word) ?? 0) + share);
  }
  return [...shares].map(([word, share]) => ({ word, share })).sort((a, b) => b.share - a.share);
}

/** `points.3.primaryVolts` as `primary volts`, a point that is one reading as `readings`. */
function wordOf(input: string): string {
  const last = input.split('.').findLast((part) => !/^\d+$/.test(part)) ?? input;
  return last === 'points' ? 'readings' : last.replaceAll(/([A-Z])/g, ' $1').toLowerCase();
}
