import { calculationRows } from './calculation.ts';
import { lineRows } from './line.ts';
import { planRows } from './plan.ts';
import { meterLineRows } from './meter-line.ts';
import { liveRows } from './live-chart.ts';
import type { BenchRow } from './row.ts';
import { runRows } from './runs.ts';
import { startRows } from './start.ts';
import { storeRows } from './store.ts';

/** Everything that is measured, by name; each measures its own baseline in the same run. */
const groups: Readonly<Record<string, () => Promise<readonly BenchRow[]>>> = {
  calculation: calculationRows,
  line: lineRows,
  'meter-line': meterLineRows,
  live: liveRows,
  runs: runRows,
  plan: planRows,
  start: startRows,
  store: storeRows,
};

const figure = (value: number) => value.toLocaleString('en-GB', { maximumSignificantDigits: 4, useGrouping: true });

/** What a row says, one text for each column. */
function columnsOf({ name, value, unit, baseline, ratio, goal, holds }: BenchRow): string[] {
  return [
    name,
    figure(value),
    unit,
    baseline === null ? '' : figure(baseline),
    ratio === null ? '' : ratio.toFixed(2),
    goal === null ? '' : String(goal),
    holds === null ? '' : holds ? 'holds' : 'DOES NOT HOLD',
  ];
}

function table(rows: readonly BenchRow[]): string {
  const lines = [['', 'value', 'unit', 'baseline', 'ratio', 'goal', ''], ...rows.map(columnsOf)];
  const widths = (lines[0] ?? []).map((_, at) => Math.max(...lines.map((line) => line[at]?.length ?? 0)));
  const isText = (at: number) => at === 0 || at === 2 || at === 6;
  const aligned = lines.map((line) =>
    line.map((text, at) => (isText(at) ? text.padEnd(widths[at] ?? 0) : text.padStart(widths[at] ?? 0))).join('  '),
  );
  return aligned.map((line) => line.trimEnd()).join('\n');
}

function chosenGroups(args: readonly string[]): { names: string[]; isJson: boolean } {
  const names = args.filter((word) => word !== '--json' && word !== '--only');
  const unknown = names.find((name) => !Object.hasOwn(groups, name));
  if (unknown !== undefined) {
    console.error(`There is no bench ${unknown}. Known: ${Object.keys(groups).join(', ')}; --json for machines.`);
    process.exit(2);
  }
  return { names: names.length > 0 ? names : Object.keys(groups), isJson: args.includes('--json') };
}

const { names, isJson } = chosenGroups(process.argv.slice(2));
const rows: BenchRow[] = [];
for (const name of names) {
  console.error(`Measuring ${name} ...`);
  rows.push(...((await groups[name]?.()) ?? []));
}
console.log(isJson ? JSON.stringify(rows, null, 2) : table(rows));
