/** One wire of the person's stock as `secondary` takes it. Lengths in mm. */
export type StockWire = Readonly<Record<string, string | number>>;

/** What the lines come to: the wires, and the first line that cannot be read. */
export interface StockRead {
  readonly wires: readonly StockWire[];
  readonly refusal: string | null;
}

const inch = 25.4;
const number = String.raw`(\d+(?:[.,]\d+)?)`;
const unit = String.raw`\s*(mm|in|"|″)?`;
const value = (text: string | undefined): number => Number((text ?? '').replace(',', '.'));
const inMm = (text: string | undefined, symbol: string | undefined): number =>
  value(text) * (symbol === undefined || symbol === 'mm' ? 1 : inch);

/** Insulation that standard strip has, both sides together, where a line does not say: common practice, no source. */
const stripInsulation = 0.2;

interface Form {
  readonly pattern: RegExp;
  readonly wire: (found: readonly (string | undefined)[], line: string) => StockWire;
}

const over = String.raw`(?:\s*/\s*${number}${unit})?`;
const forms: readonly Form[] = [
  {
    pattern: new RegExp(String.raw`^awg\s*(\d{1,2}|[1-4]/0)${over}$`, 'i'),
    wire: ([, gauge = '', overall, symbol], name) => ({
      name,
      awg: gauge.includes('/') ? gauge : Number(gauge),
      ...(overall === undefined ? { film: 'nema-heavy' } : { overallDiameterMm: inMm(overall, symbol) }),
    }),
  },
  {
    pattern: new RegExp(String.raw`^cable\s*${number}\s*mm[²2]\s*/\s*${number}${unit}$`, 'i'),
    wire: ([, area, overall, symbol], name) => ({
      name,
      kind: 'cable',
      areaMm2: value(area),
      overallDiameterMm: inMm(overall, symbol),
    }),
  },
  {
    pattern: new RegExp(String.raw`^strip\s*${number}\s*[x×]\s*${number}${unit}${over}$`, 'i'),
    wire: ([, width, thickness, symbol, insulation, itsSymbol], name) => ({
      name,
      kind: 'strip',
      stripWidthMm: inMm(width, symbol),
      stripThicknessMm: inMm(thickness, symbol),
      insulationMm: insulation === undefined ? stripInsulation : inMm(insulation, itsSymbol),
    }),
  },
  {
    pattern: new RegExp(String.raw`^${number}${unit}${over}$`, 'i'),
    wire: ([, bare, symbol, overall, itsSymbol], name) => ({
      name,
      diameterMm: inMm(bare, symbol),
      ...(overall === undefined ? { film: 'iec-grade-2' } : { overallDiameterMm: inMm(overall, itsSymbol) }),
    }),
  },
];

/**
 * Reads a stock of wire, one a line: `1.25 mm`, `1.25 / 1.35 mm` (bare / over its film), `AWG 14`,
 * `cable 6 mm² / 4.9 mm`, `strip 8 × 2 mm / 0.2 mm` (what its insulation adds). Empty lines say nothing.
 */
export function readStock(text: string): StockRead {
  const wires: StockWire[] = [];
  for (const line of text.split('\n').map((each) => each.trim())) {
    if (line === '') continue;
    const form = forms.find(({ pattern }) => pattern.test(line));
    const found = form?.pattern.exec(line);
    if (form === undefined || found === null || found === undefined) {
      return {
        wires,
        refusal: `“${line}” is no wire that can be read. Write 1.25 mm, AWG 14, cable 6 mm² / 4.9 mm or strip 8 × 2 mm.`,
      };
    }
    wires.push(form.wire(found, line));
  }
  return { wires, refusal: null };
}
