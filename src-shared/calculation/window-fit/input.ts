import type * as v from 'valibot';
import { refuse, type Refusal } from '../answer.ts';
import { group, measured, optional, plainNumber, wholeNumber } from '../field.ts';

const mm = { unit: 'mm', atMost: 10_000 } as const;

/** The free room for a winding: of one window, since each of two windows takes every turn once. */
export const roomFields = {
  windowWidthMm: measured({ label: 'Free width of the window, away from the limb', above: 0, ...mm }),
  windowHeightMm: measured({ label: 'Free height of the window, along the limb', above: 0, ...mm }),
  clearanceMm: optional(measured({ label: 'Clearance kept outside the last layer', atLeast: 0, ...mm }), 0),
  baseMm: optional(measured({ label: 'Former or insulation under the first layer', atLeast: 0, ...mm }), 0),
  marginMm: optional(measured({ label: 'Margin at each end of every layer', atLeast: 0, ...mm }), 0),
  interlayerMm: optional(measured({ label: 'Insulation between layers', atLeast: 0, ...mm }), 0),
  spacing: optional(
    plainNumber({ label: 'Room that a turn takes over its own width', help: '1: wound tight.', atLeast: 1, atMost: 2 }),
    1,
  ),
  innerMm: optional(
    measured({ label: 'Between the limb and the free room', help: 'A winding underneath, say.', atLeast: 0, ...mm }),
    0,
  ),
};

export const windowFitInput = group({
  ...roomFields,
  turns: wholeNumber({ label: 'Turns', atLeast: 1, atMost: 100_000 }),
  overallDiameterMm: optional(
    measured({ label: 'Wire or cable over its insulation', help: 'Or give strip.', above: 0, ...mm }),
  ),
  stripWidthMm: optional(measured({ label: 'Strip over its insulation, along the limb', above: 0, ...mm })),
  stripThicknessMm: optional(measured({ label: 'Strip over its insulation, away from the limb', above: 0, ...mm })),
  strands: optional(wholeNumber({ label: 'Strands in hand', atLeast: 1, atMost: 100 }), 1),
  strandsDeep: optional(
    wholeNumber({
      label: 'Strands of a turn one above the other',
      help: 'Divides the strands.',
      atLeast: 1,
      atMost: 20,
    }),
    1,
  ),
  tongueMm: optional(measured({ label: 'Tongue width', above: 0, ...mm })),
  stackMm: optional(measured({ label: 'Stack height', above: 0, ...mm })),
});
export type WindowFitInput = v.InferOutput<typeof windowFitInput>;

/** What goes together and what does not. */
export function refusedTogether(given: WindowFitInput): Refusal | null {
  const { overallDiameterMm, stripWidthMm, stripThicknessMm, strands, strandsDeep, tongueMm, stackMm } = given;
  const isStrip = stripWidthMm !== undefined || stripThicknessMm !== undefined;
  if (overallDiameterMm !== undefined && isStrip) {
    return refuse('conflict', 'Give either the diameter of a wire or the two sides of a strip.', 'overallDiameterMm');
  }
  if (overallDiameterMm === undefined && !isStrip) {
    return refuse(
      'missing-key',
      'Give the overall diameter of the wire, or width and thickness of a strip.',
      'overallDiameterMm',
    );
  }
  if (isStrip && stripWidthMm === undefined) return refuse('missing-key', 'A strip needs its width.', 'stripWidthMm');
  if (isStrip && stripThicknessMm === undefined) {
    return refuse('missing-key', 'A strip needs its thickness.', 'stripThicknessMm');
  }
  if (strands % strandsDeep !== 0) {
    return refuse('conflict', `${strands} strands do not lie evenly in ${strandsDeep} rows.`, 'strandsDeep');
  }
  if (tongueMm !== undefined && stackMm === undefined) {
    return refuse('missing-key', 'The length of a turn needs tongue and stack.', 'stackMm');
  }
  if (stackMm !== undefined && tongueMm === undefined) {
    return refuse('missing-key', 'The length of a turn needs tongue and stack.', 'tongueMm');
  }
  return null;
}
