/** Edit distance: letters to add, drop, change or swap with a neighbour (optimal string alignment). */
function distance(a: string, b: string): number {
  let [twoBack, previous]: [number[], number[]] = [[], Array.from({ length: b.length + 1 }, (_, j) => j)];
  for (let i = 1; i <= a.length; i += 1) {
    const current = [i];
    for (let j = 1; j <= b.length; j += 1) {
      const change = (previous[j - 1] ?? 0) + (a[i - 1] === b[j - 1] ? 0 : 1);
      let least = Math.min(change, (previous[j] ?? 0) + 1, (current[j - 1] ?? 0) + 1);
      if (a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) least = Math.min(least, (twoBack[j - 2] ?? Infinity) + 1);
      current.push(least);
    }
    [twoBack, previous] = [previous, current];
  }
  return previous[b.length] ?? 0;
}

/** The known name that is written most like `name`, without regard to capitals; '' when nothing is known. */
export function nearestName(name: string, known: readonly string[]): string {
  // A long name that is not ours needs no exact distance, and its cost would grow with the square.
  const asked = name.slice(0, 60).toLowerCase();
  let nearest = { name: '', away: Infinity };
  for (const candidate of known) {
    const away = distance(asked, candidate.toLowerCase());
    if (away < nearest.away) nearest = { name: candidate, away };
  }
  return nearest.name;
}
