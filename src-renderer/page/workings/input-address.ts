/** An input in an address may be no longer than this: what a message or a bookmark still takes. */
const longest = 4000;

/** The input of a calculation as a part of an address; null when it is too long for one. */
export function inputInAddress(input: unknown): string | null {
  const bytes = new TextEncoder().encode(JSON.stringify(input));
  if (bytes.length > (longest * 3) / 4) return null;
  const code = btoa(String.fromCharCode(...bytes));
  return code.replaceAll('+', '-').replaceAll('/', '_').replace(/=+$/, '');
}

/** The input that stands in an address; undefined when none can be read from it. */
export function inputFromAddress(code: string): unknown {
  if (code.length > longest || !/^[\w-]+$/.test(code)) return undefined;
  try {
    const bytes = Uint8Array.from(atob(code.replaceAll('-', '+').replaceAll('_', '/')), (one) => one.charCodeAt(0));
    return JSON.parse(new TextDecoder('utf-8', { fatal: true }).decode(bytes));
  } catch {
    return undefined;
  }
}
