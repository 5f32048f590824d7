/** A message of the program as a plain object, not yet checked; undefined when it is none. */
export function parseMessage(text: unknown): unknown {
  if (typeof text !== 'string') return undefined;
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
