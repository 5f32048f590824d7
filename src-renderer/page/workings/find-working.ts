import { jobSteps } from '../../../src-shared/calculation/job-step.ts';
import type { InputShape } from '../../../src-shared/calculation/input-shape.ts';
import { resultWords } from '../../../src-shared/calculation/result-words.ts';
import type { ResultWords } from '../../../src-shared/calculation/words/word.ts';
import { calculations, isCalculationName, type CalculationName } from '../../../src-shared/calculation/table.ts';
import { plainText } from '../../part/plain-text.ts';

interface Step {
  readonly title: string;
  readonly names: readonly CalculationName[];
}

/** All calculations by the step of the job; one that no step names stands at the end. */
function allSteps(): readonly Step[] {
  const placed = jobSteps.map(({ title, names }) => ({ title, names: names.filter(isCalculationName) }));
  const known = new Set<string>(placed.flatMap(({ names }) => names));
  const others = Object.keys(calculations)
    .filter(isCalculationName)
    .filter((name) => !known.has(name));
  return [...placed, { title: 'Others', names: others }].filter(({ names }) => names.length > 0);
}

function labelsOf(shape: InputShape): readonly string[] {
  if (shape.kind === 'list') return labelsOf(shape.of);
  if (shape.kind !== 'group') return [];
  return shape.fields.flatMap((field) => [field.label, ...labelsOf(field.shape)]);
}

function resultLabels(words: ResultWords | undefined): readonly string[] {
  return Object.values(words ?? {}).flatMap(({ label, of }) => [label, ...resultLabels(of)]);
}

/** Everything that is said of a calculation on its page. */
const said = Object.fromEntries(
  Object.values(calculations).map(({ name, title, inputShape }) => [
    name,
    plainText([name, title, ...labelsOf(inputShape), ...resultLabels(resultWords[name])].join(' ')),
  ]),
);

/** The steps with the calculations in which every word that was typed is said: titles, fields or results. */
export function findWorkings(typed: string): readonly Step[] {
  const words = plainText(typed).split(/\s+/);
  return allSteps()
    .map(({ title, names }) => ({
      title,
      names: names.filter((name) =>
        words.every((word) => plainText(title).includes(word) || said[name]?.includes(word)),
      ),
    }))
    .filter(({ names }) => names.length > 0);
}
