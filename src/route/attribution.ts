import type { Route } from './describe-route.ts';

/** What was measured on tiles: a route, or a recorded day, which keeps the words alone. */
type Measured = Pick<Route, 'sources'> | { readonly attribution?: readonly string[] };

/**
 * The words that the tiles under routes and recorded days ask for, each once, in the order given. They stand on
 * whatever is made from these: `test/attribution.test.ts` goes over all of it.
 */
export function attributionOf(measured: readonly Measured[]): string[] {
  // What an earlier version stored names no words: routes until they are measured again, days for good.
  const wordsOf = (one: Measured): readonly string[] =>
    'sources' in one ? one.sources.flatMap(({ attribution }) => attribution ?? []) : (one.attribution ?? []);
  return [...new Set(measured.flatMap(wordsOf))];
}

/** A tile's name: never its folder. */
const fileName = (path: string): string => path.split(/[\\/]/).at(-1) ?? path;

/** The tiles under a route as they are told: file names, never folders; lengths in metres to a tenth. */
export function sourcesView({ sources }: Pick<Route, 'sources'>) {
  const tenth = (value: number): number => Math.round(value * 10) / 10;
  return sources.map(({ path, version, share, stretches, postingM, dateMs, attribution }) => ({
    tile: fileName(path),
    postingM: postingM === undefined ? null : tenth(postingM),
    date: dateMs == null ? null : new Date(dateMs).toISOString().slice(0, 10),
    version: version ?? null,
    share: Math.round(share * 1e4) / 1e4,
    spansM: (stretches ?? []).map(([from, to]) => [tenth(from), tenth(to)] as const),
    attribution: attribution ?? [],
  }));
}
