import type * as v from 'valibot';
import { formatNumber } from '../quantity/format.ts';
import { propagate } from '../quantity/propagate.ts';
import { caution, line, physical, worked, type Caution, type PhysicalResult } from './answer.ts';
import { defineCalculation } from './calculation.ts';
import { group, measured, wholeNumber } from './field.ts';

const input = group({
  windowWidthMm: measured({ label: 'Free width of the window', unit: 'mm', above: 0 }),
  windowHeightMm: measured({ label: 'Free height of the window', unit: 'mm', above: 0 }),
  turns: wholeNumber({ label: 'Turns', atLeast: 1, atMost: 100_000 }),
  fill: measured({
    label: 'Part of the window that wire fills, insulation included',
    help: '0.5 to 0.6 by hand, up to about 0.8 by machine (common practice). Not the copper factor.',
    above: 0,
    atMost: 1,
  }),
});

export interface WidestWireResults {
  /** Overall diameter, insulation included. */
  readonly overallDiameter: PhysicalResult;
  readonly areaPerTurn: PhysicalResult;
}

/** Round wires side by side: in rows one above the other, and in the grooves of the layer below (geometry). */
const squarePacking = Math.PI / 4;
const hexagonalPacking = Math.PI / (2 * Math.sqrt(3));
/** Common practice, no source. */
const byHand = 0.6;
const byMachine = 0.8;

function fillCautions(fill: number): readonly Caution[] {
  if (fill > hexagonalPacking) {
    return [
      caution('fill-impossible', 'No round wire fills more than 0.9069 of a window, even in the tightest packing.'),
    ];
  }
  if (fill > squarePacking) {
    return [
      caution(
        'fill-above-square-packing',
        'Wires in rows one above the other fill at most 0.785: this needs every layer to lie in the grooves of the one below.',
      ),
    ];
  }
  if (fill > byHand) {
    const text = `By hand 0.5 to 0.6 can be reached, by machine about ${byMachine} (common practice).`;
    return [caution('fill-above-hand', text)];
  }
  return [];
}

function run(given: v.InferOutput<typeof input>) {
  const n = (value: number) => formatNumber(value, 6);
  const area = propagate(
    given,
    ({ windowWidthMm, windowHeightMm, fill, turns }) => (windowWidthMm * windowHeightMm * fill) / turns,
  );
  const diameter = propagate(
    given,
    ({ windowWidthMm, windowHeightMm, fill, turns }) =>
      2 * Math.sqrt((windowWidthMm * windowHeightMm * fill) / turns / Math.PI),
  );
  const results: WidestWireResults = {
    overallDiameter: physical('mm', diameter),
    areaPerTurn: physical('mm²', area),
  };
  const { windowWidthMm, windowHeightMm, fill, turns } = given;
  const put = `${n(windowWidthMm.value)} × ${n(windowHeightMm.value)} × ${n(fill.value)} / ${turns}`;
  const working = [
    line('A', 'width × height × fill / N', put, area.value, 'mm²'),
    line('d', '2 sqrt(A / π)', `2 sqrt(${n(area.value)} / π)`, diameter.value, 'mm'),
  ];
  return worked(results, working, fillCautions(fill.value));
}

export const widestWire = defineCalculation({
  name: 'widest-wire',
  title: 'The widest wire for a number of turns',
  version: 1,
  sources: ['Geometry of round wire; fill by hand and by machine: common practice, no source'],
  input,
  example: { windowWidthMm: 22, windowHeightMm: { value: 61, u: 0.3, shape: 'rectangular' }, turns: 26, fill: 0.55 },
  run,
});
