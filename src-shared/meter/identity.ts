/** Who an instrument says it is: IEEE 488.2-1992, 10.14. `0` stands there for a field that it does not have. */
export interface Identity {
  readonly maker: string;
  readonly model: string;
  readonly serial: string | null;
  readonly firmware: string | null;
}

const longestAnswer = 256;

/**
 * Reads the answer to `*IDN?`: four fields parted by commas. Instruments that repeat the query before it, or have more
 * or fewer fields, are understood as far as they go; null when there is no maker and model.
 */
export function readIdentity(answer: string): Identity | null {
  const fields = answer
    .slice(0, longestAnswer)
    .replace(/^\s*\*IDN\??\s+/i, '')
    .split(',')
    .map((field) => field.trim().replace(/^"(.*)"$/, '$1'));
  const [maker, model, serial, firmware] = fields;
  if (maker === undefined || model === undefined || maker === '' || model === '') return null;
  const orNone = (field: string | undefined) => (field === undefined || field === '' || field === '0' ? null : field);
  return { maker, model, serial: orNone(serial), firmware: orNone(firmware) };
}

/** The answer as a sentence for the person. */
export function identityInWords(answer: string): string {
  const identity = readIdentity(answer);
  if (identity === null) return 'It answers, but does not say who it is.';
  const serial = identity.serial === null ? '' : `, serial number ${identity.serial}`;
  const firmware = identity.firmware === null ? '' : `, firmware ${identity.firmware}`;
  return `It says that it is ${identity.maker} ${identity.model}${serial}${firmware}.`;
}
