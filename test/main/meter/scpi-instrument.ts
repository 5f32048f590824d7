import { openPtyPair, type PtyPair } from './pty-pair.ts';

/** What an instrument on the other end of a lead would be asked, and what it would answer. */
export interface Instrument {
  readonly pair: PtyPair;
  /** Everything it was sent, in order. */
  readonly heard: string[];
  close(): Promise<void>;
}

/**
 * A bench instrument that speaks SCPI over a pseudo terminal: it says who it is (IEEE 488.2, 10.14), takes settings without
 * an answer, and answers READ? with one number in the form NR3 (IEEE 488.2, 8.7.4). `value` null is an overload, which
 * SCPI-99 (vol. 1, 7.2.1) gives as 9.9E37.
 */
export async function scpiInstrument(
  value: () => number | null,
  identity = 'Limelight Works,BM-40,00217,1.04',
): Promise<Instrument> {
  const pair = await openPtyPair();
  const heard: string[] = [];
  let waiting = '';
  const answer = (command: string): string | null => {
    if (command === '*IDN?') return identity;
    if (!command.endsWith('?')) return null;
    if (command !== 'READ?') return '';
    const now = value();
    return now === null ? '+9.90000000E+37' : `${now < 0 ? '-' : '+'}${Math.abs(now).toExponential(6).toUpperCase()}`;
  };
  pair.onSent((bytes) => {
    const lines = (waiting + Buffer.from(bytes).toString('latin1')).split('\n');
    waiting = lines.pop() ?? '';
    for (const line of lines) {
      const command = line.trim();
      if (command === '') continue;
      heard.push(command);
      const reply = answer(command);
      if (reply !== null) void pair.write(`${reply}\r\n`);
    }
  });
  return { pair, heard, close: () => pair.close() };
}
