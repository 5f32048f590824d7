import { expect, it } from 'vitest';
import { systemClock } from '../../../src-main/bench/clock.ts';
import { serialPort } from '../../../src-main/meter/meter-port.ts';
import { tryMeter } from '../../../src-main/meter/try-line.ts';
import type { LinkState } from '../../../src-shared/meter/link-status.ts';
import { serialMeter } from '../../shared/meter/describe.ts';
import { openPtyPair } from './pty-pair.ts';
import { until } from './until.ts';
import { settingsFor, watchOpenings } from './wires.ts';

it('hands on every line of a meter on trial with how it was read or why not', async () => {
  const pair = await openPtyPair();
  const lines: [string, string][] = [];
  const states: LinkState[] = [];
  const watch = watchOpenings();
  const trial = tryMeter({
    newPort: (settings) => watch.over(serialPort(settings)),
    meter: serialMeter({ port: settingsFor(pair.programEnd) }),
    clock: systemClock,
    onLine: ({ text }, sentence) => lines.push([text, sentence]),
    onStatus: ({ state }) => states.push(state),
  });
  await until(() => watch.opened === 1, 'the opening');
  await pair.write('6 V\n118.60 V AC\n-OL\n1,234 V\n\x80\x81\n12.34 mV\n1 V; 2 A\n');
  await until(() => lines.length === 7, 'all lines');
  await trial.stop();
  await pair.close();
  expect(Object.fromEntries(lines)).toEqual({
    '6 V': 'The end of a line that had begun before the port was open, or the beginning of one that was cut off.',
    '118.60 V AC': '118.60 V ac',
    '-OL': 'overload below',
    '1,234 V': 'A comma stands inside the number. If it is a decimal comma, set the decimal mark to comma.',
    '\\x80\\x81': 'Bytes that are no text. Is this the rate of the meter, and its encoding?',
    '12.34 mV': '0.01234 V',
    '1 V; 2 A': 'There is more than one value on it. Describe which value is which.',
  });
  expect(states).toEqual(['connecting', 'answering']);
});
