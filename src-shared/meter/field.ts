import * as v from 'valibot';

/** A finite number within bounds; every refusal names the field and says what would be accepted. */
export function amount(field: string, lowest: number, highest: number, unit = '') {
  const accepted = `${field} must be a number from ${lowest} to ${highest}${unit === '' ? '' : ` ${unit}`}.`;
  return v.pipe(v.number(accepted), v.finite(accepted), v.minValue(lowest, accepted), v.maxValue(highest, accepted));
}

/** A whole number within bounds. */
export function count(field: string, lowest: number, highest: number, unit = '') {
  const accepted = `${field} must be a whole number from ${lowest} to ${highest}${unit === '' ? '' : ` ${unit}`}.`;
  return v.pipe(
    v.number(accepted),
    v.safeInteger(accepted),
    v.minValue(lowest, accepted),
    v.maxValue(highest, accepted),
  );
}

/** Text of at least one character that is not a space, trimmed. */
export function line(field: string, longest: number) {
  const accepted = `${field} must be text of 1 to ${longest} characters.`;
  return v.pipe(v.string(accepted), v.trim(), v.minLength(1, accepted), v.maxLength(longest, accepted));
}

/** One of a list. */
export const oneOf = <const T extends readonly (string | number)[]>(field: string, list: T) =>
  v.picklist(list, `${field} must be one of ${list.join(', ')}.`);

/** Yes or no. */
export const flag = (field: string) => v.boolean(`${field} must be true or false.`);

/** What a strict object says of a key that is missing or not known, and of something that is no object. */
export const ofObject =
  (what: string) =>
  (issue: v.BaseIssue<unknown>): string => {
    if (issue.expected === 'never') return `${what} has no field ${issue.received}.`;
    if (issue.expected === 'Object') return `${what} must be a group of fields, not ${issue.received}.`;
    return `${what} needs the field ${issue.expected ?? ''}.`;
  };
