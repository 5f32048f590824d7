/** What a person says beside the readings: at set-up for a whole run, or with each kept point. */
export type Answers = Readonly<Record<string, number | string>>;

interface FieldAbout {
  readonly id: string;
  readonly label: string;
  readonly hint?: string;
  /** Must be answered before the set-up, or the point, is taken. */
  readonly required: boolean;
  /** Asked with a point only where somebody reads this channel; always where it is left out. */
  readonly ofChannel?: string;
}

/** One such question. */
export type Field =
  | (FieldAbout & {
      readonly kind: 'number';
      /** Empty for counts. */
      readonly unit: string;
      readonly whole?: true;
      readonly atLeast: number;
      readonly atMost: number;
      /** What the form starts with, where the bench knows it. */
      readonly preset?: 'ambient' | 'primary-turns';
    })
  | (FieldAbout & {
      readonly kind: 'choice';
      readonly options: readonly { readonly value: string; readonly label: string }[];
    })
  | (FieldAbout & { readonly kind: 'text'; readonly longest: number })
  /** A winding of the build on the bench, by its number. */
  | (FieldAbout & { readonly kind: 'winding' });

/** Yes or no, answered on purpose: neither is taken for granted. */
export const yesOrNo = (id: string, label: string, hint?: string): Field => ({
  id,
  label,
  required: true,
  kind: 'choice',
  options: [
    { value: 'yes', label: 'Yes' },
    { value: 'no', label: 'No' },
  ],
  ...(hint === undefined ? {} : { hint }),
});

/** Those of the fields that are asked while these channels are filled. */
export const askedWith = (fields: readonly Field[], filled: ReadonlySet<string>): readonly Field[] =>
  fields.filter(({ ofChannel }) => ofChannel === undefined || filled.has(ofChannel));

/** What is wrong with answers to these fields: the field and a sentence; null when they will do. */
export function wrongAnswer(
  fields: readonly Field[],
  answers: Answers,
): { readonly field: string; readonly sentence: string } | null {
  const strange = Object.keys(answers).find((id) => !fields.some((field) => field.id === id));
  if (strange !== undefined) return { field: strange, sentence: `"${strange}" is not asked here.` };
  for (const field of fields) {
    const sentence = wrong(field, answers[field.id]);
    if (sentence !== null) return { field: field.id, sentence };
  }
  return null;
}

function wrong(field: Field, answer: number | string | undefined): string | null {
  const { label } = field;
  if (answer === undefined) return field.required ? `${label}: answer it first.` : null;
  switch (field.kind) {
    case 'number':
      if (typeof answer !== 'number' || !Number.isFinite(answer)) return `${label}: type a number.`;
      if (field.whole === true && !Number.isInteger(answer)) return `${label}: type a whole number.`;
      return answer >= field.atLeast && answer <= field.atMost
        ? null
        : `${label} must be from ${field.atLeast} to ${field.atMost}${field.unit === '' ? '' : ` ${field.unit}`}.`;
    case 'choice':
      return field.options.some(({ value }) => value === answer) ? null : `${label}: choose one of the list.`;
    case 'text':
      return typeof answer === 'string' && answer.trim() !== '' && answer.length <= field.longest
        ? null
        : `${label}: from 1 to ${field.longest} characters.`;
    case 'winding':
      return typeof answer === 'number' && Number.isInteger(answer) && answer > 0
        ? null
        : `${label}: choose a winding.`;
  }
}

/** The number that was answered; null when none was. */
export function numberOf(answers: Answers, id: string): number | null {
  const answer = answers[id];
  return typeof answer === 'number' ? answer : null;
}

/** The word that was answered; null when none was. */
export function wordOf(answers: Answers, id: string): string | null {
  const answer = answers[id];
  return typeof answer === 'string' ? answer : null;
}
