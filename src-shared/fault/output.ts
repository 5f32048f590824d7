import { allWell, asExpected, n, n3, suspect, type FaultReading, type Suspicion } from './fault-reading.ts';

/** What is known of an output under load. */
export interface LoadedSeen {
  /** Volts lost for each amp, from the loaded points, at unchanged line volts. */
  readonly ohms: number;
  /** Resistance of the output winding, and of the fed one; null when not measured. */
  readonly secondaryOhms: number | null;
  readonly primaryOhms: number | null;
  /** Output turns over fed turns; null when not known. */
  readonly ratio: number | null;
  readonly shunts: 'in' | 'out' | 'none' | 'not-known';
  /** From the millivolts across a lug; null when they were not read. */
  readonly lugOhms: number | null;
  /** How much hotter a lug is than the winding, in K; null when it was not read. */
  readonly lugKelvin: number | null;
  /** Line volts with least and most load, and what lies before the transformer by them; null when they were not read. */
  readonly line: { readonly from: number; readonly to: number; readonly ohms: number } | null;
  /** Part of the sag that goes with the square of the amps; null when the points cannot tell. */
  readonly bend: number | null;
}

/** A line that falls by more with the load is soft: common practice, no source. */
const softFall = 0.03;
/** A lug of more than this, or hotter than its winding by so much, is loose: common practice, no source. */
const looseOhms = 4e-3;
const looseKelvin = 15;
/** A sag that bends by this much is no resistance, and by less than the other no reactance: own simulation. */
const bent = { surely: 0.2, hardly: 0.08 };

/**
 * Reads the resistance of an output against what its windings alone have: R2 + R1 (N2 / N1)², and what was read beside it.
 * Null where nothing is known.
 */
export function readLoaded(seen: LoadedSeen): FaultReading | null {
  const { ohms, secondaryOhms, primaryOhms, ratio, line } = seen;
  const expected =
    secondaryOhms === null || primaryOhms === null || ratio === null ? null : secondaryOhms + primaryOhms * ratio ** 2;
  const apart = [softLine(line), looseLug(seen)].filter((one) => one !== null);
  if (expected === null) {
    return apart.length === 0
      ? null
      : suspect(`${n(ohms)} Ω at the output; the windings were not all measured.`, apart);
  }
  const title = `${n3(ohms)} Ω at the output where the windings have ${n3(expected)} Ω.`;
  if (ohms <= expected * (1 + asExpected) || ohms - expected <= looseOhms)
    return apart.length === 0 ? allWell(title) : suspect(title, apart);
  const loose = looseLug(seen);
  return suspect(title, [
    shunted(seen),
    loose ?? poorLug(seen, ohms - expected),
    softLine(line),
    line === null
      ? {
          code: 'house-sag',
          cause: 'The sag of the house wiring: keep the line volts with each point.',
          fits: true,
          decides: 'Line volts with each point.',
        }
      : null,
  ]);
}

function shunted({ shunts, bend }: LoadedSeen): Suspicion | null {
  const isNoted = shunts === 'none' || shunts === 'out';
  const isBent = bend !== null && bend >= bent.surely;
  if (isNoted && !isBent) return null;
  const how = isBent ? `; ${n(bend * 100)} % of the sag goes with the square of the amps` : '';
  return {
    code: 'shunts',
    cause: `Magnetic shunts in the window: the output sags and a short is limited${how}.`,
    fits: bend === null || bend > bent.hardly,
    decides: 'A short-circuit test with watts: shunts are reactance, joints are resistance.',
  };
}

/** A lug whose own readings say that it is loose; null when they do not, or there are none. */
function looseLug({ lugOhms, lugKelvin }: LoadedSeen): Suspicion | null {
  const isOhmic = lugOhms !== null && lugOhms > looseOhms;
  const isHot = lugKelvin !== null && lugKelvin > looseKelvin;
  if (!isOhmic && !isHot) return null;
  const figures = [
    ...(lugOhms === null ? [] : [`${n(lugOhms * 1000)} mΩ across it`]),
    ...(lugKelvin !== null && isHot ? [`${n(lugKelvin)} K over the winding`] : []),
  ].join(', ');
  return {
    code: 'lug',
    cause: `A loose lug: ${figures}.`,
    fits: true,
    decides: 'Power off, proved dead: tighten it, and read the millivolts again.',
  };
}

/** Ohms that are too many, where the lugs' own readings do not say whose they are. */
function poorLug({ lugOhms, bend }: LoadedSeen, tooMany: number): Suspicion {
  const clears = lugOhms !== null || (bend !== null && bend >= bent.surely);
  return {
    code: 'lug',
    cause: `A poor joint or lug: ${n(tooMany * 1000)} mΩ too many. Read the millivolts across each under load.`,
    fits: !clears,
    decides: 'Millivolts across each lug under load.',
  };
}

function softLine(line: LoadedSeen['line']): Suspicion | null {
  if (line === null || line.to > (1 - softFall) * line.from) return null;
  return {
    code: 'soft-supply',
    cause: `A soft supply: the line fell from ${n3(line.from)} to ${n3(line.to)} V, ${n(line.ohms)} Ω before the transformer.`,
    fits: true,
    decides: 'The same load on another outlet, without the drum or the small isolating transformer.',
  };
}
