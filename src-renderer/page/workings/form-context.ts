import { createContext } from 'svelte';
import type { FormNode, Leaf } from './form-node.svelte.ts';
import type { WorkingForm } from './working-form.svelte.ts';

/** What every field of a form works with. */
interface FormContext {
  readonly form: WorkingForm;
  /** What is wrong at a field, a list or a group; undefined when nothing is. */
  readonly problemOf: (node: FormNode) => string | undefined;
  /** Opens what is known of a value's doubt; `column` holds the same value of every row. */
  readonly openDoubt: (leaf: Leaf, words: string, column: readonly Leaf[]) => void;
  /** Says something for who does not see it. */
  readonly say: (words: string) => void;
}

export const [useForm, provideForm] = createContext<FormContext>();
