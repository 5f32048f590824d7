import type { Compared } from '../calculation/compare/judge.ts';
import type { Build, Winding } from '../record/build.ts';

/** A sentence in pieces: words, and figures that are written with their doubt. */
export type SentencePart = string | { readonly value: number; readonly u: number; readonly unit: string };

const curve = ', from the curve';

/** What the sentence says in other words, or says already. */
const isSaidElsewhere = ({ quantity }: Compared, all: readonly Compared[]): boolean =>
  quantity.endsWith(': turns') ||
  (quantity.endsWith(curve) &&
    all.some((one) => one.verdict === 'changed' && one.quantity === quantity.slice(0, -curve.length)));

/** `a`, `a and b`, `a, b and c`. */
const listed = <Part>(items: readonly (readonly Part[])[], comma: Part, and: Part): readonly Part[] =>
  items.flatMap((item, index) => (index === 0 ? item : [index === items.length - 1 ? and : comma, ...item]));

const turnsOf = ({ fields: { turns } }: Winding): number | null =>
  turns.kind === 'unknown' ? null : turns.kind === 'counted' ? turns.turns : turns.value;

/** What was done to the windings, as far as the two builds tell; empty when their windings are alike. */
export function windingChanges(before: Build, after: Build): readonly string[] {
  const same = (one: Winding) => after.windings.find((other) => other.fields.label === one.fields.label);
  const wound = after.windings.filter(
    ({ fields }) => fields.role !== 'test-coil' && !before.windings.some((one) => one.fields.label === fields.label),
  );
  return [
    ...before.windings.flatMap((one) => {
      const other = same(one);
      const { label, role } = one.fields;
      if (role === 'test-coil') return [];
      if (other === undefined) return [`${inWords(label)} taken off`];
      const [had, has] = [turnsOf(one), turnsOf(other)];
      if (had === null || has === null) return [];
      const more = Math.round(2 * (has - had)) / 2;
      // Less than half a turn is the same winding, measured again.
      if (more === 0) return [];
      return [
        `${Math.abs(more)} ${more > 0 ? 'more' : 'fewer'} turn${Math.abs(more) === 1 ? '' : 's'} on ${inWords(label)}`,
      ];
    }),
    ...wound.map(({ fields }) => `${inWords(fields.label)} wound on`),
  ];
}

const inWords = (label: string): string => `“${label}”`;

function fellOrRose({ quantity, difference, u }: Compared): readonly SentencePart[] {
  const value = difference?.value ?? 0;
  const name = quantity.charAt(0).toLowerCase() + quantity.slice(1);
  return [
    `the ${name}${name.includes(', ') ? ',' : ''} ${value < 0 ? 'fell' : 'rose'} by `,
    { value: Math.abs(value), u: u ?? 0, unit: difference?.unit ?? '' },
  ];
}

const most = 3;
const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/**
 * What happened between two builds, in words that the person would use and with the numbers in it: what was done, what
 * changed with it, what no meter here can see, and what cannot be compared.
 */
export function comparisonSentence(
  before: Build,
  after: Build,
  quantities: readonly Compared[],
): readonly SentencePart[] {
  // Between two cores nothing was wound on or taken off.
  const done = before.coreId === after.coreId ? windingChanges(before, after) : [];
  const measured = quantities.filter((one) => !isSaidElsewhere(one, quantities));
  const changed = measured.filter(({ verdict }) => verdict === 'changed');
  const unseen = measured.filter(({ verdict }) => verdict === 'no-visible-change');
  const apart = measured.filter(({ verdict, reason }) => verdict === 'not-comparable' && reason !== 'only-in-one');
  const opening =
    done.length === 0
      ? ''
      : `With ${listed(
          done.map((one) => [one]),
          ', ',
          ' and ',
        ).join('')}: `;
  if (changed.length + unseen.length === 0) {
    return [`${capital(opening)}${opening === '' ? 'N' : 'n'}othing was measured on both that can be compared.`];
  }
  const more = changed.length - most;
  const said =
    changed.length === 0
      ? ['nothing that these meters can see has changed']
      : listed<SentencePart>(changed.slice(0, most).map(fellOrRose), ', ', ' and ');
  const rest = [
    ...(more > 0 ? [`${more} more ${more === 1 ? 'quantity' : 'quantities'} changed`] : []),
    ...(unseen.length > 0 ? [`in ${numbered(unseen.length)} these meters can see no change`] : []),
    ...(apart.length > 0 ? [`${numbered(apart.length)} cannot be compared`] : []),
  ];
  const begun: readonly SentencePart[] = opening === '' ? startingLarge(said) : [opening, ...said];
  return [...begun, '.', ...(rest.length === 0 ? [] : [` ${capital(rest.join('; '))}.`])];
}

const numbered = (count: number): string => `${count} ${count === 1 ? 'quantity' : 'quantities'}`;

const startingLarge = ([first, ...rest]: readonly SentencePart[]): readonly SentencePart[] =>
  first === undefined ? [] : [typeof first === 'string' ? capital(first) : first, ...rest];
