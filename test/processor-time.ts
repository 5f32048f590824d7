/** The processor time of this thread so far, in ms: unlike a clock's, it is not lengthened by what else a machine does. */
export function processorMs(): number {
  const { user, system } = process.threadCpuUsage();
  return (user + system) / 1000;
}
