import * as v from 'valibot';
import { decimalMarks } from './decimal-mark.ts';
import { count, line, ofObject, oneOf } from './field.ts';
import { patternProblem } from './pattern-line.ts';
import { couplings, meterUnits } from './unit.ts';

/** How the bytes of a line become characters. Anything outside is garbage, and the line is dropped and counted. */
export const encodings = ['ascii', 'latin-1', 'utf-8'] as const;
export type Encoding = (typeof encodings)[number];

/** The number, unit and mark of a line as this program reads them by itself. */
const GenericFormat = v.strictObject(
  {
    grammar: v.literal('generic'),
    encoding: oneOf('Encoding', encodings),
    decimal: oneOf('Decimal mark', decimalMarks),
  },
  ofObject('Line format'),
);

/** A pattern of the person's own, with named groups for the parts of a value. */
const PatternFormat = v.strictObject(
  {
    grammar: v.literal('pattern'),
    encoding: oneOf('Encoding', encodings),
    decimal: oneOf('Decimal mark', decimalMarks),
    pattern: v.pipe(
      line('Pattern', 300),
      v.rawCheck(({ dataset, addIssue }) => {
        const problem = dataset.typed ? patternProblem(dataset.value) : null;
        if (problem !== null) addIssue({ message: problem });
      }),
    ),
  },
  ofObject('Line format'),
);

export const LineFormat = v.variant(
  'grammar',
  [GenericFormat, PatternFormat],
  'Line format: the grammar must be generic or pattern.',
);
export type LineFormat = v.InferOutput<typeof LineFormat>;

const unitOrNone = v.nullable(oneOf('Unit', meterUnits));
const couplingOrNone = v.nullable(oneOf('Coupling', couplings));

/** One of several values on a line: its name, where it stands, and what it must be in (null: as the line says). */
export const LineValue = v.strictObject(
  {
    name: line('Name of the value', 40),
    from: v.variant(
      'by',
      [
        v.strictObject({ by: v.literal('position'), position: count('Position', 0, 15) }, ofObject('Place')),
        v.strictObject({ by: v.literal('label'), label: line('Label', 24) }, ofObject('Place')),
      ],
      'Place of the value must be by position or by label.',
    ),
    unit: unitOrNone,
    coupling: couplingOrNone,
  },
  ofObject('Value'),
);
export type LineValue = v.InferOutput<typeof LineValue>;

/** What a number without a unit is in; the meter's own setting must then stay as described. */
export const BareUnit = v.strictObject(
  {
    unit: oneOf('Unit of bare numbers', meterUnits),
    coupling: couplingOrNone,
    /** Bare numbers are in the unit times ten to this power: -3 for a meter that sends millivolts without saying so. */
    powerOfTen: v.optional(oneOf('Power of ten of bare numbers', [-12, -9, -6, -3, 0, 3, 6, 9])),
  },
  ofObject('Unit of bare numbers'),
);
export type BareUnit = v.InferOutput<typeof BareUnit>;
