import type { LastProof, ProofPoint, ProofStep } from '../../../src-shared/interlock/proof.ts';
import { pointWords } from '../../../src-shared/interlock/proof-steps.ts';
import { assertNever } from '../../../src-shared/quantity/assert-never.ts';

const couplingWords = { ac: ', a.c.', dc: ', d.c.', both: '' } as const;

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

const where = (point: ProofPoint): string =>
  point.kind === 'winding' ? `${point.label}, end to end` : capital(pointWords(point));

/** One step of a proof: `Line to neutral, a.c.`. */
export const stepWords = ({ point, coupling }: ProofStep): string => `${where(point)}${couplingWords[coupling]}`;

/** What a proof proved, in one line of the list of checks. */
export function proofLine({ kind }: LastProof): string {
  switch (kind) {
    case 'meter':
      return 'Circuit proved dead by meter';
    case 'indicator':
      return 'Circuit proved dead by two-pole indicator';
    case 'plug-out-low-volts':
      return 'Own plug seen out; low volts only';
    case 'between-points':
      return 'Plug out, clipped meter fell; touch no metal';
    default:
      return assertNever(kind);
  }
}
