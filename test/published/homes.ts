/** Where a published check is at home. */
export type Home =
  /** A calculation of the table, by name. */
  | { readonly calculation: string }
  /** A table of data, by its file. */
  | { readonly data: string }
  /** Propagation, coverage, Student's t and Monte Carlo under src-shared/quantity. */
  | { readonly quantity: string }
  /** A library that the calculations stand on. */
  | { readonly library: string }
  /** Another part of the program, whose own tests hold it. */
  | { readonly module: string }
  /** No home, and why. */
  | { readonly none: string };

const equivalentCircuit: Home = { calculation: 'equivalent-circuit' };
const loadPerformance: Home = { calculation: 'load-performance' };
const meterLines: Home = { module: 'src-shared/meter' };

/** Every entry of the published checks. */
export const homes: Readonly<Record<string, Home>> = {
  'AWG-01': { data: 'src-shared/quantity/awg.ts' },
  'AWG-02': { calculation: 'wire' },
  'AWG-03': { data: 'src-shared/calculation/film-nema.ts' },
  'CU-01': { data: 'src-shared/calculation/conductor.ts' },
  'CU-02': { data: 'src-shared/calculation/conductor.ts' },
  'CU-03': { calculation: 'temperature-by-resistance' },
  'CU-04': { calculation: 'temperature-by-resistance' },
  'CU-05': { calculation: 'temperature-by-resistance' },
  'CU-06': { calculation: 'temperature-by-resistance' },
  'CU-07': { none: 'no calculation takes stray loss apart; its I²R part is checked on the resistance factor' },
  'MW-01': { data: 'src-shared/calculation/film-iec.ts' },
  'MW-02': { data: 'src-shared/calculation/film-iec.ts' },
  'MW-03': { data: 'src-shared/calculation/film-iec.ts' },
  'MW-04': { data: 'src-shared/calculation/film-nema.ts' },
  'TH-01': { calculation: 'heat-run' },
  'TH-02': { none: 'from memory and unconfirmed: the program offers no limits of IEC 61558-1' },
  'TH-03': { none: 'from memory and unconfirmed: the program offers no limits of IEC 61558-1' },
  'TH-04': {
    none: 'limits of average rise for power transformers; the program takes the limit that the person states',
  },
  'EMF-00': { calculation: 'flux-density' },
  'EMF-02': { calculation: 'flux-density' },
  'EMF-03': { calculation: 'flux-density' },
  'EMF-04': { calculation: 'flux-density' },
  'EMF-05': { calculation: 'flux-density' },
  'EMF-06': { calculation: 'flux-density' },
  'EMF-07': { calculation: 'flux-density' },
  'EMF-08': { calculation: 'flux-density' },
  'EMF-09': { calculation: 'no-load' },
  'EMF-10': { calculation: 'no-load' },
  'EMF-11': { calculation: 'iron-loss-split' },
  'EMF-12': { calculation: 'iron-loss-split' },
  'EMF-13': { calculation: 'winding-volts' },
  'EMF-14': { calculation: 'winding-volts' },
  'OCSC-01': equivalentCircuit,
  'OCSC-03': equivalentCircuit,
  'OCSC-04': equivalentCircuit,
  'OCSC-05': loadPerformance,
  'OCSC-06': equivalentCircuit,
  'OCSC-07': equivalentCircuit,
  'OCSC-09': equivalentCircuit,
  'OCSC-10': equivalentCircuit,
  'OCSC-11': equivalentCircuit,
  'OCSC-12': equivalentCircuit,
  'OCSC-13': equivalentCircuit,
  'OCSC-15': equivalentCircuit,
  'WF-01': { calculation: 'no-load' },
  'WF-02': { none: 'the IEEE form is not offered; it agrees with the IEC one to second order' },
  'KN-01': { calculation: 'excitation' },
  'HR-02': { calculation: 'heat-run' },
  'HR-03': { calculation: 'heat-run' },
  'HR-04': { calculation: 'duty' },
  'HR-05': { calculation: 'duty' },
  'HR-06': { calculation: 'duty' },
  'HR-07': { calculation: 'heat-run' },
  'HR-08': { calculation: 'cooling' },
  'NIST-MISRA1A': { calculation: 'heat-run' },
  'NIST-NOINT1': { library: 'ml-matrix' },
  'NIST-NOINT2': { library: 'ml-matrix' },
  'NIST-NORRIS': { library: 'ml-matrix' },
  'NIST-PONTIUS': { library: 'ml-matrix' },
  'GUM-H1': { quantity: 'coverage' },
  'GUM-H3': { quantity: 'propagate' },
  'GUM-441': { quantity: 'propagate' },
  'GUM-515': { calculation: 'meter-uncertainty' },
  'GUM-437': { quantity: 'estimate' },
  'GUM-DIST': { quantity: 'estimate' },
  'EA-S9': { quantity: 'coverage' },
  'EA-S3': { quantity: 'propagate' },
  'EA-S12': { quantity: 'coverage' },
  'J101-LOSS': { quantity: 'monte-carlo' },
  'T-TAB': { quantity: 'student-t' },
  'SCPI-01': meterLines,
  'SCPI-02': meterLines,
  'SCPI-03': meterLines,
  'GEO-01': { calculation: 'widest-wire' },
  'GEO-02': { none: 'from memory: a copper factor, which is not the fill with insulation that the program asks for' },
  'GEO-03': { data: 'src-shared/calculation/iron.ts' },
  'GEO-04': { calculation: 'core-rating' },
  'SAFE-01': { calculation: 'supply-circuit' },
  'SAFE-02': { calculation: 'winding-volts' },
  'SAFE-03': { none: 'no calculation of discharge times: the program tells people to treat capacitors as charged' },
  'SAFE-04': { module: 'src-shared/interlock' },
  'SAFE-05': {
    none: 'from memory: insulation-resistance takes the figure that the person chose, and says whose it is',
  },
  'RECT-01': { calculation: 'rectifier' },
};
