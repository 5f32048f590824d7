import * as v from 'valibot';

/** What a number may be. `above` and `below` are not reached, `atLeast` and `atMost` may be. */
export interface Bounds {
  readonly above?: number;
  readonly below?: number;
  readonly atLeast?: number;
  readonly atMost?: number;
}

/** One named field of a group, as a form shows it. */
export interface InputField {
  readonly key: string;
  readonly label: string;
  readonly help: string | null;
  readonly required: boolean;
  /** What is taken when the field is left out; null when nothing is. */
  readonly preset: number | string | boolean | null;
  readonly shape: InputShape;
}

/** The shape of an input as data: forms and JSON Schema are made from it. */
export type InputShape =
  | {
      readonly kind: 'measured';
      readonly unit: string | null;
      readonly bounds: Bounds;
      /** The bare size of a round wire: a form takes a gauge in its place. */
      readonly isWireSize?: true;
    }
  | {
      readonly kind: 'number';
      readonly unit: string | null;
      readonly whole: boolean;
      readonly bounds: Bounds;
      /** The number is a place, counted from 0, in the list of this key in the same group. */
      readonly indexOf?: string;
    }
  | {
      readonly kind: 'choice';
      readonly choices: readonly (string | number)[];
      /** How a choice is said where its own word, with spaces for hyphens, is not good enough. */
      readonly words?: Readonly<Record<string, string>>;
    }
  | { readonly kind: 'flag' }
  | { readonly kind: 'text' }
  | { readonly kind: 'list'; readonly of: InputShape; readonly atLeast: number; readonly atMost: number }
  | {
      readonly kind: 'group';
      readonly fields: readonly InputField[];
      /** Only asked with this choice in the field of that key beside it. */
      readonly onlyWith?: { readonly key: string; readonly choice: string };
    }
  /** One of several shapes: a gauge is a number or a name. */
  | { readonly kind: 'either'; readonly of: readonly InputShape[] };

/** How a choice is said to a person. */
export function choiceWord(words: Readonly<Record<string, string>> | undefined, choice: string): string {
  const said = words?.[choice];
  if (said !== undefined) return said;
  if (choice.length === 1) return choice;
  const spaced = choice.replaceAll('-', ' ');
  return spaced.charAt(0).toUpperCase() + spaced.slice(1);
}

const isShape = (thing: unknown): thing is InputShape => typeof thing === 'object' && thing !== null && 'kind' in thing;

/** The shape that a schema built from `field.ts` carries; a schema without one is a bug of whoever wrote it. */
export function shapeOf(schema: v.GenericSchema): InputShape {
  const { shape } = v.getMetadata(schema);
  if (!isShape(shape)) throw new Error(`This ${schema.type} schema was not built from field.ts.`);
  return shape;
}
