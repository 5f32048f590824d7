const endings: Readonly<Record<string, string>> = { one: 'st', two: 'nd', few: 'rd', other: 'th' };
const rules = new Intl.PluralRules('en', { type: 'ordinal' });

const ordinal = (count: number): string => `${count}${endings[rules.select(count)] ?? 'th'}`;

/** Items of a list as a person counts them, from 1: `the 2nd point`, `the 1st, 2nd and 6th points`. `indices` count from 0. */
export function placeWords(what: string, indices: readonly number[]): string {
  const places = indices.map((index) => ordinal(index + 1));
  const last = places.at(-1) ?? '';
  const words = places.length > 1 ? `${places.slice(0, -1).join(', ')} and ${last}` : last;
  return `the ${words} ${what}${places.length > 1 ? 's' : ''}`;
}
