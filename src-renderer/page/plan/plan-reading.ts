import { besideTheWindings, planKeys, type OutputKey, type PlanKey, type PlanNumbers } from './plan-asked.ts';
import type { PlanForm } from './plan-form.svelte.ts';
import type { PlanChoices } from './plan-question.ts';
import type { Leakage } from './plan-record.ts';
import type { OutputAsked } from './planned.ts';
import { readStock } from './stock-lines.ts';

/** Everything that can be read of a form, and what is wrong with the rest. */
export interface FormReading {
  readonly numbers: PlanNumbers;
  readonly refusals: Readonly<Partial<Record<PlanKey, string>>>;
  readonly outputs: readonly OutputAsked[];
  /** Of each output. */
  readonly outputRefusals: readonly Readonly<Partial<Record<OutputKey, string>>>[];
  readonly choices: PlanChoices;
  readonly stockRefusal: string | null;
}

const everyKind = ['round', 'cable', 'strip'] as const;

/** Reads the form; `leakage` is what the record says of it. */
export function formReading(form: PlanForm, leakage: Leakage | null): FormReading {
  const { numbers, refusals } = form.read;
  const outputs = form.outputs.map((output) => {
    const read = output.read(form.system);
    const { key, label, feeds, over50, chosen, readTaps: taps } = output;
    const isUnread = Object.keys(read.refusals).length > 0;
    const asked: OutputAsked = { key, label, numbers: read.numbers, feeds, over50, chosen, isUnread, taps };
    return { asked, refusals: read.refusals };
  });
  const stock = readStock(form.stock);
  const { hertz, sizes, mostStrands } = form;
  return {
    numbers,
    refusals,
    outputs: outputs.map(({ asked }) => asked),
    outputRefusals: outputs.map((each) => each.refusals),
    choices: {
      ...{ hertz, mostStrands, leakage },
      isUnread: planKeys.some((key) => refusals[key] !== undefined && !besideTheWindings.includes(key)),
      stock: sizes === 'stock' ? stock.wires : null,
      standard: sizes === 'stock' ? 'both' : sizes,
      kinds: everyKind.filter((kind) => form[kind]),
    },
    stockRefusal: stock.refusal,
  };
}
