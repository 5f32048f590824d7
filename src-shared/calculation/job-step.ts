/** A step of the job, with the calculations that belong to it in the order in which they are needed. */
interface JobStep {
  readonly title: string;
  readonly names: readonly string[];
}

/** Every calculation, by the step of the job in which a person needs it first. */
export const jobSteps: readonly JobStep[] = [
  {
    title: 'Survey',
    names: [
      'core-rating',
      'wire',
      'winding-metal',
      'four-wire-resistance',
      'two-wire-resistance',
      'polarity',
      'winding-volts',
      'insulation-resistance',
    ],
  },
  { title: 'Find the turns', names: ['test-coil', 'meter-uncertainty', 'flux-density'] },
  {
    title: 'Plan',
    names: [
      'secondary',
      'window-fit',
      'widest-wire',
      'rectifier',
      'double-stack',
      'bank',
      'load-performance',
      'rise-at-load',
      'duty',
      'supply-circuit',
      'inrush-and-fuse',
    ],
  },
  {
    title: 'Prove',
    names: [
      'no-load',
      'excitation',
      'power-without-wattmeter',
      'iron-loss-split',
      'short-circuit',
      'equivalent-circuit',
      'loaded-run',
      'heat-run',
      'cooling',
      'temperature-by-resistance',
    ],
  },
  { title: 'Adjust', names: ['adjust-turns', 'joint-gap'] },
  { title: 'Compare', names: ['compare'] },
];
