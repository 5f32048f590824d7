/** A sentence when the program runs on a Node that it was not proved on; null when all is well. */
export function runtimeWarning(versions: {
  readonly node: string;
  readonly electron?: string | undefined;
}): string | null {
  const major = Number(versions.node.split('.')[0]);
  const { electron } = versions;
  const here = electron === undefined ? `This is Node ${versions.node}` : `This Electron carries Node ${versions.node}`;
  const advice = electron === undefined ? 'Use Node 24.' : 'Use the Electron that the program is made with.';
  if (major >= 26) {
    return `${here}: from 26 on, what a meter sends may arrive only when something else happens. ${advice}`;
  }
  return major < 24 ? `${here}: Turnwright is made for Node 24. ${advice}` : null;
}
