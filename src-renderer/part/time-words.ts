/** A length of time as people say it: `1:12`, `1:02:10`; whole seconds, never negative. */
export function clockLength(ms: number): string {
  const seconds = Math.max(0, Math.round(ms / 1000));
  const [hours, minutes, rest] = [Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60, seconds % 60];
  const two = (n: number) => String(n).padStart(2, '0');
  return hours > 0 ? `${hours}:${two(minutes)}:${two(rest)}` : `${minutes}:${two(rest)}`;
}

/** A length of time in words: `4 s`, `3 min`, `2 h 10 min`. */
export function duration(ms: number): string {
  const seconds = Math.max(0, Math.round(ms / 1000));
  if (seconds < 60) return `${seconds} s`;
  const minutes = Math.floor(seconds / 60);
  if (minutes < 60) return `${minutes} min`;
  const rest = minutes % 60;
  return rest === 0 ? `${minutes / 60} h` : `${Math.floor(minutes / 60)} h ${rest} min`;
}

const time = new Intl.DateTimeFormat('en-GB', { hour: '2-digit', minute: '2-digit' });
const day = new Intl.DateTimeFormat('en-GB', { day: 'numeric', month: 'short' });
const dayAndYear = new Intl.DateTimeFormat('en-GB', { day: 'numeric', month: 'short', year: 'numeric' });

/** The time of day, `14:01`. */
export const clockTime = (wallMs: number): string => time.format(wallMs);

/** A date without its year, `25 Nov`. */
export const shortDate = (wallMs: number): string => day.format(wallMs);

/** A date with its year, `25 Nov 2026`. */
export const fullDate = (wallMs: number): string => dayAndYear.format(wallMs);

/** The day where the person is, `2026-11-25`. */
export function isoDay(wallMs: number): string {
  const day = new Date(wallMs);
  const two = (n: number) => String(n).padStart(2, '0');
  return `${day.getFullYear()}-${two(day.getMonth() + 1)}-${two(day.getDate())}`;
}
