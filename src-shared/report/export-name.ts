import type { RunFacts } from './run-facts.ts';

/** Letters and figures of ASCII alone, so that every system takes it as part of a file's name. */
const plain = (text: string): string =>
  text
    .normalize('NFKD')
    .toLowerCase()
    .replaceAll(/[^a-z0-9]+/g, '-')
    .slice(0, 40)
    .replaceAll(/^-+|-+$/g, '');

/** A name of such parts, empty ones left out: `dimmer-core-b-builds-1-2.html`. */
export const fileName = (parts: readonly string[], ending: string): string =>
  `${parts
    .map(plain)
    .filter((part) => part !== '')
    .join('-')}.${ending}`;

/** The name of a file made of a run: `dimmer-core-b-test-coil-run-7.csv`. A practice run says so. */
export function exportName({ run, core }: Pick<RunFacts, 'run' | 'core'>, ending: string): string {
  return fileName([core.fields.label, run.procedure, `run-${run.runId}`, run.practice ? 'practice' : ''], ending);
}
