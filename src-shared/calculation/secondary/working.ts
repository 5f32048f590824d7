import { formatNumber } from '../../quantity/format.ts';
import { line, type PhysicalResult, type WorkingLine } from '../answer.ts';
import type { SecondaryChoice } from './choice.ts';
import type { SecondaryInput } from './input.ts';

interface Shown {
  readonly voltsPerTurn: PhysicalResult;
  readonly turnsWithoutDrop: PhysicalResult;
  readonly choices: readonly SecondaryChoice[];
}

/** The first choice by hand. */
export function workingOf(given: SecondaryInput, results: Shown): readonly WorkingLine[] {
  const n = (value: number) => formatNumber(value, 6);
  const { primaryTurns, primaryVolts, loadVolts, loadAmps } = given;
  const perTurn = results.voltsPerTurn.value;
  const start = [
    line('v', 'U1 / N1', `${n(primaryVolts.value)} / ${n(primaryTurns.value)}`, perTurn, 'V/turn'),
    line('N0', 'U2 / v', `${n(loadVolts.value)} / ${n(perTurn)}`, results.turnsWithoutDrop.value, 'turns'),
  ];
  const first = results.choices[0];
  if (first === undefined) return start;
  const ohmsOf = given.terminationOhms.value > 0 ? 'R2 F + Rj + R1 (N2/N1)²' : 'R2 F + R1 (N2/N1)²';
  const { turns, noLoadVolts, drop, loadedVolts, ohms, meanTurn, strands, areaMm2, lengthToCut, copperLoss } = first;
  return [
    ...start,
    line('U20', 'N2 v', `${turns} × ${n(perTurn)}`, noLoadVolts.value, 'V'),
    line(
      'J',
      'I2 / (strands × A)',
      `${n(loadAmps.value)} / (${strands} × ${n(areaMm2)})`,
      first.currentDensity.value,
      'A/mm²',
    ),
    line(
      'l',
      'N2 × mean turn + leads',
      `${turns} × ${n(meanTurn.value)} mm + ${n(given.leadsMm)} mm`,
      lengthToCut.value,
      'm',
    ),
    line(
      'R2',
      'ρ l / (strands × A), warm',
      `${n(lengthToCut.value)} m / (${strands} × ${n(areaMm2)} mm²)`,
      ohms.value,
      'Ω',
    ),
    line('ΔU', `I2 (${ohmsOf}), by phasors`, `${n(loadAmps.value)} A, F = ${n(first.acFactor)}`, drop.value, 'V'),
    line('U2', 'U20 − ΔU', `${n(noLoadVolts.value)} − ${n(drop.value)}`, loadedVolts.value, 'V'),
    line(
      'P',
      `I2² (${ohmsOf})`,
      `${n(loadAmps.value)}² × ${n(copperLoss.value / loadAmps.value ** 2)}`,
      copperLoss.value,
      'W',
    ),
  ];
}
