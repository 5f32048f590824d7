import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { calculate } from '../../../src-shared/calculation/calculate.ts';
import { excitation } from '../../../src-shared/calculation/excitation/excitation.ts';
import { excitationChart } from '../../../src-shared/report/excitation-chart.ts';
import { heatChart } from '../../../src-shared/report/heat-chart.ts';
import { readAnswer } from '../../../src-shared/report/read-answer.ts';
import { runChart } from '../../../src-shared/report/run-chart.ts';
import type { RunFacts } from '../../../src-shared/report/run-facts.ts';
import { runSheet } from '../../../src-shared/report/run-sheet.ts';
import { coilResult, facts, heatResult, startMs } from './facts-fixture.ts';

fc.configureGlobal({ seed: 20_310_314 });

const views = (spikeAt: number | null = null) => [
  {
    runId: 7,
    channel: 'primary-volts',
    atMs: [0, 1000, 2000, 3000, 4000],
    value: [118.6, 118.7, null, spikeAt === null ? 118.5 : 400, 118.4],
    readings: 5,
    rowsRead: 5,
  },
  { runId: 7, channel: 'coil-volts', atMs: [500, 1500], value: [9.87, 9.88], readings: 2, rowsRead: 2 },
];
const chartOf = (of: RunFacts, spikeAt: number | null = null) =>
  runChart([{ facts: of, views: views(spikeAt) }], { fromMs: 0, toMs: 60_000 });
const made = { programVersion: '0.1.0', madeWallMs: startMs, zone: 'Europe/Paris', noResult: null };
const sheet = (of: RunFacts) => runSheet({ facts: of, charts: [chartOf(of)], ...made });

describe('a run sheet', () => {
  test('holds conditions, channels, result with working, cautions and who measured, and fetches and runs nothing', () => {
    const page = sheet(facts);
    for (const text of [
      'Turns of the primary, by test coil',
      'Dimmer core B',
      'mains, up to 230 V, 50 Hz',
      'through an RCD/GFCI, fuse 3 A',
      '19.5 °C',
      'Bench meter',
      '1 beyond the range',
      'Result: Primary turns from a test coil',
      'Working',
      'Sources: ',
      'lamp dim',
      'limit 253 V',
      'Measured by Stage workshop on 14 Mar 2031. No approval is claimed.',
      'It cannot switch anything off or make anything dead.',
      'treat as lethal',
      // 09:00 UTC in March is 10:00 in Paris.
      '14 Mar 2031, 10:00:00',
    ]) {
      expect(page).toContain(text);
    }
    expect(page).not.toMatch(/<script|javascript:|\son\w+=|<link|<img|url\(|https?:/i);
    expect(page).not.toMatch(/\bsafe\b/i);
    expect(page).toContain('<svg class="chart"');
  });

  test('says practice at its head, in its title and among its cautions', () => {
    const page = sheet({ ...facts, run: { ...facts.run, practice: true } });
    expect(page.match(/Practice readings. Nothing here has been measured./g)).toHaveLength(2);
    expect(page).toMatch(/<title>[^<]*practice<\/title>/);
  });

  test('says how a run was broken off, and by what', () => {
    const trip = {
      eventId: 3,
      kind: 'trip',
      atMs: 9,
      wallMs: 9,
      word: 'Trip',
      text: 'Primary volts reached 260 V.',
    } as const;
    const tripped = { ...facts, run: { ...facts.run, ending: 'tripped' as const }, happenings: [trip] };
    expect(sheet(tripped)).toMatch(/<b>Tripped.<\/b>[^<]*Primary volts reached 260 V\./);
    expect(sheet({ ...facts, run: { ...facts.run, ending: 'interrupted' } })).toContain(
      'the program stopped in the middle',
    );
  });

  test('tells kept points with what was said beside them, taken back ones too, and what was answered at set-up', () => {
    const keptAt = (channel: string, value: number) => ({
      channel,
      value,
      u: 0.3,
      shape: 'normal' as const,
      dof: null,
      shared: { id: 'meter 1', u: 0.4 },
      unit: 'V',
      readingIds: [1],
      meterId: 1,
      rangeIndex: 0,
      bottomOfRange: false,
    });
    const point = { eventId: 8, atMs: 61_000, values: [keptAt('primary-volts', 118.6)], fields: { 'extra-turns': 12 } };
    const page = sheet({
      ...facts,
      points: [
        { ...point, withdrawn: null },
        { ...point, eventId: 9, withdrawn: 'lead slipped' },
      ],
      answers: { 'core-state': 'cold' },
    });
    // Own part and shared part together: the root of 0.3² + 0.4² is 0.5.
    expect(page.match(/118\.60 ± 0\.50 V/g)).toHaveLength(2);
    expect(page).toMatch(/<tr class="gone">.*taken back: lead slipped/);
    expect(page).toContain('extra turns 12');
    expect(page).toMatch(/Core state<\/th><td>cold/);
  });

  test('says what its readings tell of faults, what fits first and what would decide', () => {
    const decides = 'Count the turns.';
    const page = sheet({
      ...facts,
      faults: [
        {
          title: '4.9 A where 1.4 A was expected.',
          isAsExpected: false,
          suspicions: [
            { code: 'opposed-turns', cause: '12 turns the wrong way.', fits: true, decides },
            { code: 'lug', cause: 'A loose lug.', fits: false, decides },
          ],
        },
        { title: 'No joint between.', isAsExpected: true, suspicions: [] },
      ],
    });
    expect(page).toMatch(/Expected against seen<\/h2><p><b>4\.9 A where 1\.4 A was expected\.<\/b><\/p>/);
    expect(page).toContain('12 turns the wrong way. <span class="small">To decide: Count the turns.</span>');
    expect(page).toContain('Hardly: A loose lug.');
    expect(page).toContain('<b>No joint between.</b> As expected.');
    expect(sheet(facts)).not.toContain('Expected against seen');
  });

  test('escapes every text of the record, wherever it stands', () => {
    const marked = fc.string({ unit: 'grapheme', maxLength: 12 }).map((text) => `<i x='1' y="2">&${text}`);
    fc.assert(
      fc.property(marked, (text) => {
        const dirty: RunFacts = {
          ...facts,
          run: { ...facts.run, channels: facts.run.channels.map((each) => ({ ...each, channel: text, unit: text })) },
          session: { ...facts.session, fields: { ...facts.session.fields, who: text, note: text } },
          core: { ...facts.core, fields: { ...facts.core.fields, label: text, origin: text, note: text } },
          build: {
            ...facts.build,
            fields: { ...facts.build.fields, title: text, note: text },
            windings: facts.build.windings.map((each) => ({ ...each, fields: { ...each.fields, label: text } })),
          },
          meters: facts.meters.map((each) => ({ ...each, label: text, category: text })),
          answers: { [text]: text },
          faults: [
            { title: text, isAsExpected: false, suspicions: [{ code: 'lug', cause: text, fits: true, decides: text }] },
          ],
          points: [{ eventId: 1, atMs: 1, values: [], fields: { [text]: text }, withdrawn: text }],
          happenings: facts.happenings.map((each) => ({ ...each, word: text, text })),
          limits: facts.limits.map((each) => ({ ...each, channel: text })),
          results: [
            {
              ...coilResult,
              calculation: text,
              output: {
                results: { [text]: text, list: [{ [text]: text }], group: { [text]: [text] } },
                working: [{ symbol: text, formula: text, numbers: text, value: 1, unit: text }],
                cautions: [{ code: 'x', text }],
                sources: [text],
              },
            },
          ],
          checks: [
            {
              sessionId: 3,
              runId: 7,
              checkId: text,
              mark: 'passed-over',
              who: text,
              reason: text,
              wallMs: 1,
              monoMs: 1,
            },
          ],
          signOff: { sessionId: 3, who: text, wallMs: 1, contentHash: 'a'.repeat(64) },
        };
        const view = { ...views()[0], runId: 7, channel: text, atMs: [0], value: [1], readings: 1, rowsRead: 1 };
        const page = runSheet({
          facts: dirty,
          charts: [runChart([{ facts: dirty, views: [view] }], { fromMs: 0, toMs: 10 })],
          noResult: { title: text, fit: { kind: 'none', title: text, text }, sentence: text },
          programVersion: text,
          madeWallMs: startMs,
          zone: text,
        });
        expect(page).not.toMatch(/<i[ >]/);
        expect(page).not.toContain(`'1'`);
      }),
      { numRuns: 40 },
    );
  });

  test('draws a spike of one reading, and breaks the line at a gap', () => {
    const svgOf = (spikeAt: number | null) => runSheet({ facts, charts: [chartOf(facts, spikeAt)], ...made });
    const path = /<path class="curve ink" stroke-dasharray="none" d="([^"]*)"/;
    const heights = (page: string) =>
      [...(path.exec(page)?.[1] ?? '').matchAll(/[ML][\d.]+ ([\d.]+)/g)].map(([, y]) => Number(y));
    expect(path.exec(svgOf(null))?.[1]?.match(/M/g)).toHaveLength(2);
    const [first = 0, , spike = 0] = heights(svgOf(3000));
    expect(first - spike).toBeGreaterThan(100);
  });
});

describe('a chart of a kept result', () => {
  test('of a heat run has the points, the fit, its band, where it settles and when the limit comes', () => {
    const chart = heatChart(heatResult, {});
    expect(chart?.curves.map(({ id }) => id)).toEqual(['fit', 'points']);
    expect(chart?.levels.map(({ kind }) => kind)).toEqual(['value', 'limit']);
    expect(chart?.levels[0]?.word).toMatch(/^settles at [\d.]+ ± [\d.]+ °C$/);
    expect(chart?.marks[0]?.word).toMatch(/^limit after [\d.]+ ± [\d.]+ min$/);
    const [band] = chart?.bands ?? [];
    const fit = chart?.curves[0];
    expect(band?.x).toEqual(fit?.x);
    fit?.y.forEach((value, index) => {
      expect(band?.low[index]).toBeLessThan(value ?? NaN);
      expect(band?.high[index]).toBeGreaterThan(value ?? NaN);
    });
    // At the far end the band is what the calculation says of the final value, within the decay that is left.
    const final = readAnswer(heatResult).lines.find(({ name }) => name === 'Where it would end')?.quantity;
    const last = (band?.x.length ?? 0) - 1;
    expect(fit?.y[last]).toBeCloseTo(final?.value ?? NaN, -1);
    expect(heatChart(coilResult, {})).toBeNull();
  });

  test('of an excitation has its curve, its points and the knee where the calculation found it', () => {
    const result = {
      ...coilResult,
      calculation: 'excitation',
      input: excitation.example,
      output: calculate('excitation', excitation.example),
    };
    const chart = excitationChart(result);
    expect(chart?.curves.map(({ id, form }) => [id, form])).toEqual([
      ['curve', 'line'],
      ['points', 'points'],
    ]);
    const [curve, points] = chart?.curves ?? [];
    expect(points?.x.length).toBeGreaterThan(2);
    expect(curve?.x).toEqual(curve?.x.toSorted((one, other) => one - other));
    const [level] = chart?.levels ?? [];
    const [mark] = chart?.marks ?? [];
    expect(level?.word).toMatch(/^knee at [\d.]+ ± [\d.]+ V on \d+ turns$/);
    // The mark stands where the curve passes the level.
    const at = curve?.x.findIndex((x) => x >= (mark?.x ?? NaN)) ?? -1;
    expect(curve?.y[at - 1]).toBeLessThanOrEqual(level?.value ?? NaN);
    expect(curve?.y[at]).toBeGreaterThanOrEqual(level?.value ?? NaN);
    expect(excitationChart({ ...result, output: {} })).toBeNull();
  });

  test('of an excitation shows a point that does not fall on it', () => {
    const quantity = (value: number, unit: string) => ({ value, u: value / 100, unit, dof: null, interval95: null });
    const point = (ampereTurns: number, voltsPerTurn: number) => ({
      ampereTurns: quantity(ampereTurns, 'A'),
      voltsPerTurn: quantity(voltsPerTurn, 'V/turn'),
    });
    const chart = excitationChart({
      ...coilResult,
      calculation: 'excitation',
      input: { primaryTurns: 120, points: [{ volts: 60, amps: 0.5, turns: 60 }] },
      output: { results: { curve: [point(30, 0.9), point(90, 1.1)], knee: quantity(120, 'V'), offCurve: [0] } },
    });
    // 60 V on 60 turns is 1 V a turn; 0.5 A times 60 is 30 ampere-turns. The knee lies half way between the points.
    expect(chart?.curves[2]).toMatchObject({ id: 'off', x: [30], y: [1] });
    expect(chart?.marks[0]?.x).toBeCloseTo(60, 9);
  });
});

test('several runs lie over each other with their starts at one place, told apart by dash and name', () => {
  const other = { facts: { ...facts, run: { ...facts.run, runId: 9 } }, views: views() };
  const chart = runChart([{ facts, views: views() }, other], { fromMs: 0, toMs: 10 });
  expect(chart.curves.map(({ label }) => label)).toEqual([
    'Primary volts, run 7',
    'Test-coil volts, run 7',
    'Primary volts, run 9',
    'Test-coil volts, run 9',
  ]);
  expect(chart.curves[0]?.dash).not.toBe(chart.curves[2]?.dash);
});

test('any kept output is shown line by line, whatever calculation it came from', () => {
  const view = readAnswer(coilResult);
  expect(view.title).toBe('Primary turns from a test coil');
  expect(view.lines[0]).toMatchObject({
    name: 'Turns of the primary',
    text: expect.stringMatching(/^[\d.]+ ± [\d.]+ turns$/),
  });
  expect(view.working.length).toBeGreaterThan(0);
  const heat = readAnswer(heatResult).lines;
  expect(heat.map(({ name }) => name).slice(0, 2)).toEqual(['Where it would end', 'Rise at the end']);
  expect(heat).toContainEqual({ name: 'How the fit ended', text: 'Settled', quantity: null });
  expect(readAnswer({ ...coilResult, calculation: 'gone', output: 'nonsense' })).toMatchObject({
    title: 'Gone',
    lines: [],
  });
});
