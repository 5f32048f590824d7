/** The one thing the hosts want of a clock: to act later. Returns what calls it off. */
export type Later = (ms: number, act: () => void) => () => void;

/** Acts after the given time on the system's own timers; alone it does not keep the program running. */
export const systemLater: Later = (ms, act) => {
  const timer = setTimeout(act, ms);
  timer.unref();
  return () => {
    clearTimeout(timer);
  };
};
