import type { PortSettings } from '../../src-shared/meter/port-settings.ts';
import type { MeterPort } from './meter-port.ts';

/** The system's serial port, not opened yet. Its library is loaded with the first port, not with every start. */
export const systemPort = async (settings: PortSettings): Promise<MeterPort> =>
  (await import('./meter-port.ts')).serialPort(settings);
