/** How bytes stand on a wire: rate in baud, and what frames each byte. */
export interface Framing {
  readonly baudRate: number;
  readonly dataBits: 7 | 8;
  readonly parity: 'none' | 'even' | 'odd';
}

/** The moments (s) at which the level changes, starting from idle (high), for bytes sent one after the other. */
function edges(bytes: Uint8Array, { baudRate, dataBits, parity }: Framing): number[] {
  const changes: number[] = [];
  let at = 0;
  let level = 1;
  const put = (bit: number) => {
    if (bit !== level) changes.push(at);
    level = bit;
    at += 1 / baudRate;
  };
  for (const byte of bytes) {
    const bits = Array.from({ length: dataBits }, (_, index) => (byte >> index) & 1);
    const ones = bits.filter((bit) => bit === 1).length;
    put(0);
    bits.forEach(put);
    if (parity !== 'none') put(parity === 'even' ? ones % 2 : 1 - (ones % 2));
    put(1);
  }
  return changes;
}

/**
 * What a receiver with eight data bits and no parity makes of bytes sent with another framing: it waits for a start bit,
 * samples the middle of each bit, and throws a byte away whose stop bit is low, as the port driver is told to.
 */
export function receive(bytes: Uint8Array, sent: Framing, baudRate: number): Uint8Array {
  const changes = edges(bytes, sent);
  const levelAt = (at: number): number => {
    let [low, high] = [0, changes.length];
    while (low < high) {
      const middle = (low + high) >> 1;
      if ((changes[middle] ?? 0) <= at) low = middle + 1;
      else high = middle;
    }
    return low % 2 === 0 ? 1 : 0;
  };
  const received: number[] = [];
  for (let at = -Infinity; ;) {
    const start = changes.find((change, index) => index % 2 === 0 && change >= at);
    if (start === undefined) return Uint8Array.from(received);
    const middle = (bit: number): number => start + (bit + 0.5) / baudRate;
    if (levelAt(middle(9)) === 1) {
      received.push(
        Array.from({ length: 8 }, (_, bit) => levelAt(middle(bit + 1)) << bit).reduce((one, other) => one | other),
      );
    }
    at = start + 9.5 / baudRate;
  }
}
