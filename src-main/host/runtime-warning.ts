/** A sentence when the program runs on a Node that it was not proved on; null when all is well. */
export function runtimeWarning(versions: { readonly node: string }): string | null {
  const major = Number(versions.node.split('.')[0]);
  if (major >= 26) {
    return (
      `This is Node ${versions.node}: from 26 on, what a meter sends may arrive only when something else happens. ` +
      `Use Node 24.`
    );
  }
  return major < 24 ? `This is Node ${versions.node}: Turnwright is made for Node 24. Use that.` : null;
}
