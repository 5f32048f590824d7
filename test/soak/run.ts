import { parseArgs } from 'node:util';
import { coverage } from './coverage.ts';
import { falseChangesSoak } from './false-changes.ts';
import { killsSoak } from './kills.ts';
import { meterSoak } from './meter-fuzz.ts';
import { pagesSoak } from './pages.ts';
import { practiceBenches } from './practice-benches.ts';
import { practiceFaultsSoak } from './practice-faults.ts';
import type { Soak } from './soak.ts';

/** Everything that is run long and at random. */
const soaks: readonly Soak[] = [
  coverage,
  falseChangesSoak,
  killsSoak,
  meterSoak,
  pagesSoak,
  practiceBenches,
  practiceFaultsSoak,
];

function readArguments() {
  try {
    return parseArgs({
      options: { short: { type: 'boolean' }, seed: { type: 'string' }, only: { type: 'string', multiple: true } },
    }).values;
  } catch (error) {
    console.error(error instanceof Error ? error.message : String(error));
    process.exit(2);
  }
}

const values = readArguments();
const isShort = values.short ?? false;
const seed = values.seed === undefined ? Math.floor(Math.random() * 2 ** 31) : Number(values.seed);
const names = soaks.map(({ name }) => name);
const unknown = (values.only ?? []).find((name) => !names.includes(name));
if (!Number.isSafeInteger(seed) || unknown !== undefined) {
  console.error(
    unknown === undefined
      ? `--seed must be a whole number; ${values.seed ?? ''} is not.`
      : `There is no soak ${unknown}. Known: ${names.join(', ')}.`,
  );
  process.exit(2);
}

const again = (only: string) => `npm run soak --${isShort ? ' --short' : ''} --seed ${seed} --only ${only}`;
console.log(`Seed ${seed}. To repeat one: ${again('NAME')}`);
let failed = 0;
const chosen = soaks.filter(({ name }) => values.only === undefined || values.only.includes(name));
for (const { name, run } of chosen) {
  const from = performance.now();
  const took = () => `${((performance.now() - from) / 1000).toFixed(1)} s`;
  try {
    const did = await run({ seed, isShort });
    console.log(`passed  ${name}: ${did} (${took()})`);
  } catch (error) {
    failed += 1;
    console.log(`FAILED  ${name} after ${took()}: ${error instanceof Error ? (error.stack ?? '') : String(error)}`);
    console.log(`        again: ${again(name)}`);
  }
}
console.log(`${chosen.length - failed} passed, ${failed} failed`);
// A soak that failed may have left something open.
process.exit(failed > 0 ? 1 : 0);
