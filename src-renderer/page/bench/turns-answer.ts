import * as v from 'valibot';

const number = v.pipe(v.number(), v.finite());
const Physical = v.looseObject({
  value: number,
  u: v.nullable(number),
  unit: v.string(),
  dof: v.nullable(number),
  interval95: v.nullable(v.tuple([number, number])),
  budget: v.optional(v.array(v.looseObject({ input: v.string(), share: number }))),
});

const Answer = v.looseObject({
  ok: v.literal(true),
  results: v.looseObject({
    primaryTurns: Physical,
    voltsPerTurn: Physical,
    nearestWholeTurns: v.optional(number),
    worstResidual: v.nullable(number),
    miscountSuspected: v.nullable(number),
    suggestedCoilTurns: v.nullable(number),
    dropAllowance: v.nullable(Physical),
  }),
  working: v.array(
    v.looseObject({ symbol: v.string(), formula: v.string(), numbers: v.string(), value: number, unit: v.string() }),
  ),
  cautions: v.array(v.looseObject({ code: v.string(), text: v.string() })),
  sources: v.array(v.string()),
});

/** The turns that kept pairs come to, with working, cautions and sources. */
export type TurnsAnswer = v.InferOutput<typeof Answer>;

const Refused = v.looseObject({ ok: v.literal(false), error: v.looseObject({ message: v.string() }) });

/** Reads what the program says the pairs come to: the answer, why there is none, or null before the first pair. */
export function readTurns(soFar: unknown): { readonly answer: TurnsAnswer | null; readonly refusal: string | null } {
  const answer = v.safeParse(Answer, soFar);
  if (answer.success) return { answer: answer.output, refusal: null };
  const refused = v.safeParse(Refused, soFar);
  return { answer: null, refusal: refused.success ? refused.output.error.message : null };
}

/** Where the doubt of a result comes from, in bench words; shares of one kind are added together, largest first. */
export function doubtShares(answer: TurnsAnswer): readonly { readonly word: string; readonly share: number }[] {
  const shares = new Map<string, number>();
  for (const { input, share } of answer.results.primaryTurns.budget ?? []) {
    const word = doubtWord(input);
    shares.set(word, (shares.get(word) ?? 0) + share);
  }
  return [...shares].map(([word, share]) => ({ word, share })).sort((a, b) => b.share - a.share);
}

function doubtWord(input: string): string {
  if (input.startsWith('shared:')) return 'meters’ gain';
  if (input.endsWith('coilVolts')) return 'coil volts';
  if (input.includes('primaryVolts')) return 'primary volts';
  if (input.includes('scatter')) return 'scatter';
  return input;
}

const suggestionReasons = new Set([
  'gain-dominates',
  'primary-reading-dominates',
  'more-turns-than-the-primary',
  'no-uncertainty-stated',
]);

/** How many coil turns would pin one turn, or why none would. */
export function suggestionWords({ results, cautions }: TurnsAnswer): string {
  const { suggestedCoilTurns: turns } = results;
  if (turns !== null) return `A coil of ${turns} ${turns === 1 ? 'pass' : 'passes'} would pin it to one turn.`;
  const why = cautions.find(({ code }) => suggestionReasons.has(code));
  return why?.text ?? 'How many coil turns would pin one turn cannot be told.';
}

/** What the answer says of the primary's own drop: one-sided, beyond the uncertainty. */
export function dropWords({ results, cautions }: TurnsAnswer): string {
  const said = cautions.find(({ code }) => code.startsWith('primary-drop'));
  if (said !== undefined) return said.text;
  return results.dropAllowance?.value === 0 ? 'The primary’s own drop is corrected.' : '';
}

/** What is said of the meters beside the answer itself: two kinds in one ratio; null when there is nothing. */
export const metersRemark = ({ cautions }: TurnsAnswer): string | null =>
  cautions.find(({ code }) => code === 'mixed-meter-kinds')?.text ?? null;

/** Cautions that have no other place on the page. */
export const otherCautions = ({ cautions }: TurnsAnswer) =>
  cautions.filter(({ code }) => !suggestionReasons.has(code) && !code.startsWith('primary-drop'));
