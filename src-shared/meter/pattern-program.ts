import { assertNever } from '../quantity/assert-never.ts';
import type { CharSet } from './char-set.ts';
import type { PatternNode } from './pattern-syntax.ts';

/** One step of a compiled pattern. `split` prefers `first`. `slot` notes the place in the line: 2n begins group n, 2n+1 ends it. */
export type Step =
  | { readonly kind: 'take'; readonly set: CharSet }
  | { readonly kind: 'start' }
  | { readonly kind: 'end' }
  | { readonly kind: 'split'; first: number; second: number }
  | { readonly kind: 'jump'; to: number }
  | { readonly kind: 'slot'; readonly slot: number }
  | { readonly kind: 'found' };

export interface Program {
  readonly steps: readonly Step[];
  /** Group names in the order of their slots. */
  readonly names: readonly string[];
}

/** Bounds the work on a line: characters times steps. */
const mostSteps = 500;

/** Lays a pattern out as steps (Thompson 1968, with slots for groups); undefined when there would be too many. */
export function compile(node: PatternNode, names: readonly string[]): Program | undefined {
  const steps: Step[] = [];
  const split = (): Extract<Step, { kind: 'split' }> => {
    const step: Extract<Step, { kind: 'split' }> = { kind: 'split', first: 0, second: 0 };
    steps.push(step);
    return step;
  };
  const jump = (to = 0): Extract<Step, { kind: 'jump' }> => {
    const step: Extract<Step, { kind: 'jump' }> = { kind: 'jump', to };
    steps.push(step);
    return step;
  };
  /** Goes into what comes next, or past it, in the order of preference. */
  const branch = (isGreedy: boolean): ((past: number) => void) => {
    const step = split();
    const into = steps.length;
    return (past) => {
      step.first = isGreedy ? into : past;
      step.second = isGreedy ? past : into;
    };
  };

  const emitRepeat = ({ of, least, most, isGreedy }: Extract<PatternNode, { kind: 'repeat' }>): void => {
    for (let time = 0; time < least; time += 1) emit(of);
    if (most === Infinity) {
      const top = steps.length;
      const setPast = branch(isGreedy);
      emit(of);
      jump(top);
      setPast(steps.length);
      return;
    }
    const settings: ((past: number) => void)[] = [];
    for (let time = least; time < most; time += 1) {
      settings.push(branch(isGreedy));
      emit(of);
    }
    for (const setPast of settings) setPast(steps.length);
  };

  const emitChoice = (parts: readonly PatternNode[]): void => {
    const exits: Extract<Step, { kind: 'jump' }>[] = [];
    parts.forEach((part, index) => {
      if (index === parts.length - 1) {
        emit(part);
        return;
      }
      const setPast = branch(true);
      emit(part);
      exits.push(jump());
      setPast(steps.length);
    });
    for (const exit of exits) exit.to = steps.length;
  };

  const emit = (part: PatternNode): void => {
    if (steps.length > mostSteps) return;
    switch (part.kind) {
      case 'set':
        steps.push({ kind: 'take', set: part.set });
        return;
      case 'start':
      case 'end':
        steps.push({ kind: part.kind });
        return;
      case 'sequence':
        part.parts.forEach(emit);
        return;
      case 'choice':
        emitChoice(part.parts);
        return;
      case 'group': {
        const slot = 2 * names.indexOf(part.name);
        steps.push({ kind: 'slot', slot });
        emit(part.of);
        steps.push({ kind: 'slot', slot: slot + 1 });
        return;
      }
      case 'repeat':
        emitRepeat(part);
        return;
      default:
        assertNever(part);
    }
  };

  emit(node);
  steps.push({ kind: 'found' });
  return steps.length > mostSteps ? undefined : { steps, names };
}
