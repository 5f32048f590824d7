import { formatNumber } from '../../quantity/format.ts';
import { takeApart } from '../../quantity/sources.ts';
import { line, type WorkingLine } from '../answer.ts';
import { electromotiveFraction, linkedTurns, primaryVolts, turnsByReading, type Bench } from './bench.ts';
import { meanTurns, turnsBy, type Observation } from './observation.ts';

const n = (value: number) => formatNumber(value, 6);

/** The count as a person would do it by hand: each reading, each exchanged pair, the mean, the volts per turn. */
export function working(bench: Bench, observations: readonly Observation[], voltsPerTurn: number): WorkingLine[] {
  const { values } = takeApart(bench);
  const lines = values.readings.map((reading, index) => {
    const volts = primaryVolts(reading);
    const linked = linkedTurns(values, reading);
    const fraction = values.drop === null ? null : electromotiveFraction(values.drop, volts);
    return line(
      `N[${index}]`,
      fraction === null ? 'n V1 / Vc' : 'n |V1 - I0 (R1 + jX1)| / Vc',
      `${n(linked)} × ${n(volts)}${fraction === null ? '' : ` × ${n(fraction)}`} / ${n(reading.coilVolts)}`,
      turnsByReading(values, reading),
      'turns',
    );
  });
  const by = (each: Observation) => turnsBy(values, each);
  for (const each of observations) {
    if (each.readings.length < 2) continue;
    const [a, b] = each.readings.map((index) => lines[index]?.value ?? NaN);
    lines.push(
      line(
        `N[${each.readings.join(', ')}]`,
        'sqrt(N straight × N exchanged)',
        `sqrt(${n(a ?? NaN)} × ${n(b ?? NaN)})`,
        by(each),
        'turns',
      ),
    );
  }
  const turns = meanTurns(values, observations);
  if (observations.length > 1) {
    const terms = observations.map((each) => `${n(by(each))}^${formatNumber(each.weight, 3)}`);
    lines.push(line('N', 'weighted geometric mean of N[i], weights as 1 / u²', terms.join(' × '), turns, 'turns'));
  }
  const shared = voltsPerTurn * turns;
  lines.push(line('v', 'V1 / N', `${n(shared)} / ${n(turns)}`, voltsPerTurn, 'V/turn'));
  return lines;
}
