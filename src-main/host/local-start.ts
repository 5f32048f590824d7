import { enableCompileCache } from 'node:module';
import { join } from 'node:path';

// Compiling was nearly half of a start: what an earlier start compiled is taken up again. It lies beside the built code
// and goes with it at the next build; where nothing can be written there, a start only takes longer.
enableCompileCache(join(import.meta.dirname, 'compiled'));
const { startLocalProgram } = await import('./local-program.ts');
await startLocalProgram(join(import.meta.dirname, '..', 'renderer'));
