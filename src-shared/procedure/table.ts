import type { Procedure } from './procedure.ts';
import { testCoil } from './test-coil.ts';

/** Every procedure, in the order of the job. */
export const procedures: readonly Procedure[] = [testCoil];

/** The procedure with this id; undefined when there is none. */
export const procedureById = (id: string): Procedure | undefined => procedures.find((procedure) => procedure.id === id);
