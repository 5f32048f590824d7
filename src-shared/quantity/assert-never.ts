/** Closes a union: a case that was forgotten is a compile error, and a value that cannot be is a bug at run time. */
export function assertNever(value: never): never {
  throw new Error(`Not a known case: ${JSON.stringify(value)}`);
}
