import * as v from 'valibot';

const link = v.pipe(v.number(), v.safeInteger(), v.minValue(1));

/** What the bridge of a page says to the program. Every message names the link that it belongs to. */
export const FromBridge = v.variant('kind', [
  v.strictObject({ kind: v.literal('open'), link }),
  v.strictObject({ kind: v.literal('text'), link, text: v.string() }),
  /** How many characters of this link the page has taken in, counted from its opening. */
  v.strictObject({ kind: v.literal('taken'), link, characters: v.pipe(v.number(), v.safeInteger(), v.minValue(0)) }),
  v.strictObject({ kind: v.literal('close'), link }),
]);
export type FromBridge = v.InferOutput<typeof FromBridge>;

/** What the page may ask of the shell's printing. */
export const PaperRequest = v.variant('kind', [
  v.strictObject({ kind: v.literal('print') }),
  v.strictObject({ kind: v.literal('pdf'), name: v.pipe(v.string(), v.maxLength(200)) }),
]);
export type PaperRequest = v.InferOutput<typeof PaperRequest>;

/** Where the page went: to the printer, into a file, or nowhere because the person changed their mind. */
export type Printed =
  { readonly kind: 'printed' } | { readonly kind: 'saved'; readonly file: string } | { readonly kind: 'given-up' };
