import type { RouteAttributes } from '../ingest/attributes.ts';
import type { Track } from '../ingest/track.ts';
import { describeRoute, MEASURING_NOTES, type Route } from '../route/describe-route.ts';
import { drape } from '../terrain/drape.ts';
import type { Ground } from './engine.ts';

/** The line as it was drawn, without a way back that measuring added. */
function drawnLine({ line, notes }: Route): Route['line'] {
  return notes.some(({ code }) => code === 'way-back-assumed') ? line.slice(0, line.length / 2) : line;
}

/** Measures a stored route again from its line: with other attributes, or on other ground. */
export async function remeasured(route: Route, attributes: RouteAttributes, ground: Ground): Promise<Route> {
  const track: Track = {
    name: route.name,
    segments: drawnLine(route).map((points) =>
      points.map(([lonDeg, latDeg]) => ({ lonDeg, latDeg, elevationM: null, timeMs: null })),
    ),
    waypoints: route.waypoints,
    attributes: null,
    notes: route.notes.filter(({ code }) => !MEASURING_NOTES.has(code)),
  };
  const again = describeRoute(await drape(track, ground.surface), ground.design, { attributes });
  // The heights of the file are not kept, what they climbed is; older routes have no such figure.
  return { ...again, measures: { ...again.measures, recorded: route.measures.recorded ?? null } };
}
