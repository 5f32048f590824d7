import { describe, expect, test } from 'vitest';
import { comparisonOf } from '../../../src-shared/comparison/comparison.ts';
import { comparedCurves } from '../../../src-shared/comparison/curves.ts';
import { toldOf } from '../../../src-shared/comparison/trust.ts';
import type { BuildRecord } from '../../../src-shared/comparison/build-record.ts';
import { comparisonSheet, type ComparisonSheetParts } from '../../../src-shared/report/comparison-sheet.ts';
import { record, sweep } from '../comparison/given.ts';
import { stiffBench } from '../practice/given.ts';
import { facts, startMs } from './facts-fixture.ts';

const swept = (number: number, turns: number, amps: number, bench = stiffBench): BuildRecord => {
  const given = record({ number, turns, amps });
  const result = { ...sweep(bench, turns), resultId: 100 + number, buildId: number };
  return { ...given, results: [...given.results, result] };
};
const more = { ...stiffBench, added: { turns: 20, ohms20: 0.1, opposed: false } };
const before = swept(2, 320, 0.712);
const after = swept(3, 340, 0.381, more);

const comparison = comparisonOf(before, after);
const curves = comparedCurves(before, after, ['Build 2', 'Build 3']);

const sheet = (parts: Partial<ComparisonSheetParts> = {}) =>
  comparisonSheet({
    before: { core: facts.core, build: before.build },
    after: { core: facts.core, build: after.build },
    comparison,
    curves,
    predicted: [],
    told: toldOf(before, after, comparison, curves, []),
    plan: 'Wound by version 2 of the plan “Foam cutter supply”',
    practice: false,
    system: 'metric',
    programVersion: '0.1.0',
    madeWallMs: startMs,
    zone: 'Europe/Paris',
    ...parts,
  });

describe('the sheet of a comparison', () => {
  test('says what happened, every quantity, the conditions and the curves, and fetches and runs nothing', () => {
    const page = sheet();
    for (const text of [
      'Build 2 beside build 3',
      '20 more turns on “Primary”',
      '<b>changed</b>',
      'no change seen',
      'A change would show from',
      'How they were tested',
      '<li>20 more turns on “Primary”</li><li>Wound by version 2 of the plan “Foam cutter supply”</li>',
      'measured by Rowan, ',
      'Points: all 7 of build 2 on it, all 7 of build 3 on it.',
      'One curve for both',
      '<svg class="chart"',
      'It cannot switch anything off or make anything dead.',
      '14 Mar 2031, 10:00:00',
    ]) {
      expect(page).toContain(text);
    }
    expect(page).toMatch(
      /No-load current, A<\/th><td class="n">0\.7120 ± 0\.0059<\/td><td class="n">0\.3810 ± 0\.0046/,
    );
    expect(page).not.toMatch(/<script|javascript:|\son\w+=|<link|<img|url\(|https?:/i);
    expect(page).not.toMatch(/\bsafe\b|Practice\. /i);
  });

  test('calls nothing alike that nobody noted', () => {
    const wordOf = (name: string) =>
      new RegExp(`<th scope="row">${name}</th>(?:<td>[^<]*</td>){2}<td>([^<]*)</td>`).exec(sheet())?.[1];
    expect([wordOf('Heat run lasted'), wordOf('Frequency')]).toEqual(['not known', 'alike']);
  });

  test('marks what was practised, names both cores of two, and puts what was planned beside what was measured', () => {
    const page = sheet({
      practice: true,
      after: {
        core: { ...facts.core, coreId: 9, fields: { ...facts.core.fields, label: 'Core <C>' } },
        build: after.build,
      },
      predicted: [
        {
          name: 'Volts without load',
          predicted: { value: 25.6, u: 0.3, unit: 'V' },
          interval: [25, 26.2],
          outcome: { value: 25.4, u: 0.2, unit: 'V' },
          kind: 'as-predicted',
          verdict: 'within the predicted interval',
          from: 'version 2 of the plan',
        },
        {
          name: 'Length of a strand',
          predicted: { value: 10, u: 0, unit: 'm' },
          interval: [10, 10],
          outcome: null,
          kind: 'not-measured',
          verdict: 'not measured',
          from: 'version 2 of the plan',
        },
      ],
      system: 'us',
    });
    expect(page).toContain('<p class="practice">Practice. ');
    expect(page).toContain('<h1>Dimmer core B, build 2 beside Core &lt;C&gt;, build 3</h1>');
    expect(page).toMatch(
      /Volts without load, V<br><span class="small">by version 2 of the plan<\/span><\/th><td class="n">25\.60 ± 0\.30<br><span class="small">25 to 26\.2<\/span><\/td><td class="n">25\.40 ± 0\.20<\/td><td>within the predicted/,
    );
    // 10 m are 32.8084 ft (international foot of 0.3048 m, 1959).
    expect(page).toMatch(/Length of a strand, ft<br>.*?<td class="n">32\.8084<br>.*?<td class="n">not measured/);
  });
});
