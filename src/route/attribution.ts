import type { Route } from './describe-route.ts';

/** The words that the tiles under routes ask for, each once, in the order of the routes. */
export function attributionOf(routes: readonly Pick<Route, 'sources'>[]): string[] {
  // A route that an earlier version stored names no words until it is measured again.
  return [
    ...new Set(routes.flatMap(({ sources }) => sources.flatMap(({ attribution }) => attribution ?? []))),
  ];
}

/** The tiles under a route as they are told: file names, never folders; stretches in metres to a tenth. */
export function sourcesView({ sources }: Pick<Route, 'sources'>) {
  const tenth = (value: number): number => Math.round(value * 10) / 10;
  return sources.map(({ path, version, share, stretches, attribution }) => ({
    tile: path.split(/[\\/]/).at(-1) ?? path,
    version: version ?? null,
    share: Math.round(share * 1e4) / 1e4,
    spansM: (stretches ?? []).map(([from, to]) => [tenth(from), tenth(to)]),
    attribution: attribution ?? [],
  }));
}
