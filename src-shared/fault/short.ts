import { allWell, asExpected, n, n3, suspect, type FaultReading } from './fault-reading.ts';

/** What is known of a short-circuit test. Everything on the fed side. */
export interface ShortSeen {
  readonly volts: number;
  readonly amps: number;
  readonly watts: number;
  /** R1 + R2 (N1 / N2)²; null where one of them is not known. */
  readonly expectedOhms: number | null;
  /** Fed turns over shorted ones; null when not known. */
  readonly ratio: number | null;
  /** Rated amps of the fed winding, and the volts that it came from; null when nobody knows. */
  readonly ratedAmps: number | null;
  readonly nominalVolts: number | null;
  readonly shunts: 'in' | 'out' | 'none' | 'not-known';
}

/** Leakage that takes more than this part of the volts at rated amps is that of shunts: common practice, no source. */
const shuntPart = 0.12;
/** Less than this too many at the output is the doubt of the ohms of its windings: common practice, no source. */
const jointOhms = 4e-3;

/**
 * Reads a short-circuit test: resistance beyond that of the windings is a joint, reactance beyond that of windings on one
 * limb is shunts. R = P / I², X = √(U² / I² − R²) (short-circuit test: Theraja, A Textbook of Electrical Technology, vol. II,
 * ch. 32). Null where neither can be judged.
 */
export function readShort(seen: ShortSeen): FaultReading | null {
  const { volts, amps, watts, expectedOhms, ratio, ratedAmps, nominalVolts } = seen;
  const ohms = watts / amps ** 2;
  const reactance = Math.sqrt(Math.max(0, (volts / amps) ** 2 - ohms ** 2));
  const part = ratedAmps === null || nominalVolts === null ? null : (reactance * ratedAmps) / nominalVolts;
  if (expectedOhms === null && part === null) return null;
  const isLeaky = part !== null && part > shuntPart && seen.shunts !== 'in';
  const tooMany = expectedOhms === null ? 0 : ohms - expectedOhms;
  const isJoint = ratio === null || tooMany / ratio ** 2 > jointOhms;
  const isOhmic = expectedOhms !== null && tooMany > asExpected * expectedOhms && isJoint;
  const wanted = expectedOhms === null ? '' : ` where the windings have ${n3(expectedOhms)} Ω`;
  const title = `${n3(ohms)} Ω${wanted}, and ${n3(reactance)} Ω of leakage.`;
  if (!isLeaky && !isOhmic) return allWell(title);
  const atOutput = ratio === null ? '' : `, ${n((tooMany / ratio ** 2) * 1000)} mΩ at the output`;
  return suspect(title, [
    isLeaky
      ? {
          code: 'shunts',
          cause: `Magnetic shunts in the window: leakage takes ${n(part * 100)} % of the volts at rated amps.`,
          fits: true,
          decides: 'Look through the window between the windings: packs of sheet stand there.',
        }
      : null,
    isOhmic
      ? {
          code: 'lug',
          cause: `A poor joint, link or lug: ${n(tooMany)} Ω too many${atOutput}.`,
          fits: true,
          decides: 'Millivolts across each joint with the test current in it.',
        }
      : null,
  ]);
}
