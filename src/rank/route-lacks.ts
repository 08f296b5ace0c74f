import type { RouteAttributes } from '../ingest/attributes.ts';

/** What is wanting of a route that only people can state, in words. */
export function lacksOf(attributes: RouteAttributes, isTreelineOpen: boolean): string[] {
  return [
    attributes.rockClass == null ? 'class' : null,
    isTreelineOpen ? 'treeline' : null,
    attributes.season == null ? 'season' : null,
    attributes.groupSizeLimit == null ? 'party limit' : null,
  ].filter((name) => name !== null);
}
