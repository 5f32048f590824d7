import type { BenchFacts } from '../interlock/bench.ts';
import type { ProcedureChannel } from './procedure.ts';

/** The fed winding stands at the supply's volts, whatever its turns. */
const fedVolts = ({ supply }: BenchFacts): number => supply.volts;

/** The secondary that stands highest; null as soon as one of them is not known, or there is none. */
export function secondaryVolts({ windings }: BenchFacts): number | null {
  const found = windings.filter(({ role }) => role === 'secondary').map(({ volts }) => volts);
  return found.reduce<number | null>(
    (highest, volts) => (highest === null || volts === null ? null : Math.max(highest, volts)),
    found.length === 0 ? null : 0,
  );
}

const none = (): number => 0;

type Rest = Partial<Pick<ProcedureChannel, 'required' | 'cadence' | 'quantity' | 'on' | 'volts' | 'coupling'>>;

const channel = (
  id: string,
  label: string,
  kind: ProcedureChannel['kind'],
  unit: ProcedureChannel['unit'],
  rest: Rest = {},
): ProcedureChannel => ({
  id,
  label,
  kind,
  unit,
  coupling: null,
  quantity: label.toLowerCase(),
  required: false,
  cadence: 'repeated',
  on: null,
  volts: none,
  ...rest,
});

/** Volts of an alternating circuit. */
export const acVolts = (id: string, label: string, rest: Rest = {}): ProcedureChannel =>
  channel(id, label, 'energised-volts', 'V', { coupling: 'ac', on: 'fed', volts: fedVolts, ...rest });

/** Amps of an alternating circuit, by a meter in the line or a clamp round it. */
export const acAmps = (id: string, label: string, rest: Rest = {}): ProcedureChannel =>
  channel(id, label, 'energised-amps', 'A', { coupling: 'ac', on: 'fed', volts: fedVolts, ...rest });

/** The fed winding's own volts: at its terminals, behind the ammeter. Its fall shows that the feed is gone. */
export const primaryVolts = acVolts('primary-volts', 'Primary volts', { required: true });
export const lineAmps = acAmps('line-amps', 'Line amps', { required: true });
export const watts = channel('watts', 'Watts', 'watts', 'W', { on: 'fed', volts: fedVolts });
export const averageVolts = acVolts('average-volts', 'Primary volts, average-responding', {
  quantity: 'primary volts',
});
export const lineHertz = channel('line-hertz', 'Line hertz', 'hertz', 'Hz', {
  cadence: 'once',
  on: 'fed',
  volts: fedVolts,
});
export const coreCelsius = channel('core-temperature', 'Core temperature', 'temperature', '°C');
/** A bead on a winding is only behind two layers of film: rated as if it were joined to it. */
export const windingCelsius = channel('winding-temperature', 'Winding temperature', 'temperature', '°C', {
  on: 'fed',
});
export const lugCelsius = channel('lug-temperature', 'Lug temperature', 'temperature', '°C');
export const ambient = channel('ambient', 'Ambient', 'ambient', '°C');

/** An output with next to nothing on it: a voltmeter is no load. */
export const openVolts = acVolts('secondary-volts', 'Secondary volts', { on: 'secondary', volts: secondaryVolts });

/** Never joined to a powered circuit: read on what was proved dead. */
export const directVolts = channel('winding-volts', 'Volts inside the current clips', 'resistance', 'V', {
  coupling: 'dc',
});
export const directAmps = channel('test-amps', 'Direct current', 'resistance', 'A', { coupling: 'dc' });
export const ohms = channel('winding-ohms', 'Ohms by two wires', 'resistance', 'Ω');
export const insulation = channel('insulation-ohms', 'Insulation after one minute', 'insulation', 'Ω', {
  required: true,
});
/** From the core to the pin of its earth, before power. */
export const earthOhms = channel('earth-ohms', 'Core to the earth pin', 'resistance', 'Ω');
export const coolingOhms = channel('cooling-ohms', 'Ohms of the cooling winding', 'cooling-resistance', 'Ω');
