/** Times as they stand on paper, in the time zone that is passed in (`Europe/Paris`, say). */
export interface TimeWords {
  /** `14 Mar 2031, 09:00:01`. */
  readonly when: (wallMs: number) => string;
  /** `14 Mar 2031`. */
  readonly day: (wallMs: number) => string;
}

/** The words for times in a zone; a zone that is not known falls back to UTC. */
export function timeWords(zone: string): TimeWords {
  const known = isZone(zone) ? zone : 'UTC';
  const day = new Intl.DateTimeFormat('en-GB', { day: 'numeric', month: 'short', year: 'numeric', timeZone: known });
  const clock = new Intl.DateTimeFormat('en-GB', { timeStyle: 'medium', timeZone: known });
  return { when: (wallMs) => `${day.format(wallMs)}, ${clock.format(wallMs)}`, day: (wallMs) => day.format(wallMs) };
}

function isZone(zone: string): boolean {
  try {
    return new Intl.DateTimeFormat('en-GB', { timeZone: zone }).resolvedOptions().timeZone !== '';
  } catch {
    return false;
  }
}

/** A length of time: `4.2 s`, `3 min 20 s`, `2 h 10 min`. */
export function lengthWords(ms: number): string {
  const seconds = Math.max(0, ms) / 1000;
  if (seconds < 59.95) return `${Math.round(seconds * 10) / 10} s`;
  const whole = Math.round(seconds);
  const [hours, minutes, rest] = [Math.floor(whole / 3600), Math.floor(whole / 60) % 60, whole % 60];
  if (hours > 0) return minutes === 0 ? `${hours} h` : `${hours} h ${minutes} min`;
  return rest === 0 ? `${minutes} min` : `${minutes} min ${rest} s`;
}
