/**
 * A transformer with no load, followed through time: an account of the same bench that shares nothing with the calculation.
 * Per turn, the core takes F(φ) ampere-turns for its flux, and for its loss g dφ/dt (eddy currents) and a part that only
 * follows the sign of dφ/dt (hysteresis).
 */
export interface SaturatingCore {
  /** Net iron, m². */
  readonly area: number;
  /** Ampere-turns that magnetise, at so many tesla. */
  readonly magnetising: (tesla: number) => number;
  /** Ampere-turns of loss per induced volt per turn. */
  readonly eddy: number;
  /** Ampere-turns of loss, whatever the flux. */
  readonly hysteresis: number;
}

/** A winding on its supply. */
export interface Feed {
  readonly turns: number;
  readonly ohms: number;
  /** In series with the supply, before the meters. */
  readonly sourceOhms: number;
  readonly hertz: number;
}

/** What meters at the terminals would read, and what nobody can. */
export interface Seen {
  readonly volts: number;
  readonly averageVolts: number;
  readonly amps: number;
  readonly watts: number;
  readonly peakTesla: number;
}

const steps = 500;
/** Width of the change of sign of the hysteresis, in volts per turn. */
const turnover = 0.02;

/** Induced volts per turn at an instant: v = (Rs + R) i + N e, with N i = F(φ) + g e + h tanh(e / w), by Newton's rule. */
function inducedAt(core: SaturatingCore, { turns, ohms, sourceOhms }: Feed, source: number, flux: number): number {
  const resistance = (ohms + sourceOhms) / turns;
  const still = core.magnetising(flux / core.area);
  let e = (source - resistance * still) / turns;
  for (let k = 0; k < 50; k += 1) {
    const swing = Math.tanh(e / turnover);
    const off = resistance * (still + core.eddy * e + core.hysteresis * swing) + turns * e - source;
    const slope = resistance * (core.eddy + (core.hysteresis / turnover) * (1 - swing ** 2)) + turns;
    const next = e - off / slope;
    if (Math.abs(next - e) < 1e-13) return next;
    e = next;
  }
  return e;
}

/** Where a function crosses zero, by the rule of two points. */
function crossing(f: (x: number) => number, first: number, second: number): number {
  let [a, b] = [first, second];
  let [fa, fb] = [f(a), f(b)];
  for (let k = 0; k < 60 && Math.abs(b - a) > 1e-10 * Math.abs(b) && fb !== fa; k += 1) {
    const next = b - (fb * (b - a)) / (fb - fa);
    [a, fa] = [b, fb];
    b = next;
    fb = f(b);
  }
  return b;
}

/** The steady state on a sine of so many r.m.s. source volts: half a period after another, everything is reversed. */
function atSourceVolts(core: SaturatingCore, feed: Feed, sourceVolts: number): Seen {
  const omega = 2 * Math.PI * feed.hertz;
  const h = 1 / (2 * feed.hertz * steps);
  const source = (t: number) => Math.SQRT2 * sourceVolts * Math.sin(omega * t);
  const e = (t: number, flux: number) => inducedAt(core, feed, source(t), flux);
  const half = (start: number, see: (t: number, flux: number) => void) => {
    let flux = start;
    for (let k = 0; k < steps; k += 1) {
      const t = k * h;
      see(t, flux);
      const a = e(t, flux);
      const b = e(t + h / 2, flux + (h / 2) * a);
      const c = e(t + h / 2, flux + (h / 2) * b);
      const d = e(t + h, flux + h * c);
      flux += (h / 6) * (a + 2 * b + 2 * c + d);
    }
    return flux;
  };
  const peak = (Math.SQRT2 * sourceVolts) / (omega * feed.turns);
  const start = crossing((flux) => flux + half(flux, () => undefined), -peak, -0.9 * peak);
  const sum = { v2: 0, v: 0, i2: 0, p: 0, flux: 0 };
  half(start, (t, flux) => {
    const induced = e(t, flux);
    const loss = core.eddy * induced + core.hysteresis * Math.tanh(induced / turnover);
    const i = (core.magnetising(flux / core.area) + loss) / feed.turns;
    const v = source(t) - feed.sourceOhms * i;
    sum.v2 += v * v;
    sum.v += Math.abs(v);
    sum.i2 += i * i;
    sum.p += v * i;
    sum.flux = Math.max(sum.flux, Math.abs(flux));
  });
  const formFactor = Math.PI / (2 * Math.SQRT2);
  return {
    volts: Math.sqrt(sum.v2 / steps),
    averageVolts: (formFactor * sum.v) / steps,
    amps: Math.sqrt(sum.i2 / steps),
    watts: sum.p / steps,
    peakTesla: sum.flux / core.area,
  };
}

/** The same with the source turned up until the voltmeter at the terminals reads so much. */
export function atTerminalVolts(core: SaturatingCore, feed: Feed, volts: number): Seen {
  if (feed.sourceOhms === 0) return atSourceVolts(core, feed, volts);
  const source = crossing((each) => atSourceVolts(core, feed, each).volts - volts, volts, 1.1 * volts);
  return atSourceVolts(core, feed, source);
}

const odd = (tesla: number, knee: number, power: number) => Math.sign(tesla) * Math.abs(tesla / knee) ** power;

/** Cores whose curves bend in different ways, all with their knee near 1.4 T. */
export const cores: Readonly<Record<string, SaturatingCore>> = {
  appliance: {
    area: 2450e-6,
    magnetising: (b) => 26 * b + 85 * odd(b, 1.42, 9),
    eddy: 22,
    hysteresis: 24,
  },
  sharp: {
    area: 2450e-6,
    magnetising: (b) => 30 * b + 60 * odd(b, 1.45, 13),
    eddy: 15,
    hysteresis: 14,
  },
  gapped: {
    area: 2450e-6,
    magnetising: (b) => 95 * b + 70 * odd(b, 1.4, 7),
    eddy: 30,
    hysteresis: 30,
  },
};
