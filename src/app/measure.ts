/** From a file, or from a stored line, to measured routes. Files come in as bytes, tiles as a `Surface`. */

import type { Design } from '../design.ts';
import { EngineError } from '../errors.ts';
import type { RouteAttributes } from '../ingest/attributes.ts';
import { type ReadOptions, readTracks } from '../ingest/read-tracks.ts';
import type { Track } from '../ingest/track.ts';
import { message } from '../message.ts';
import { describeRoute, MEASURING_NOTES, type Route } from '../route/describe-route.ts';
import { drape } from '../terrain/drape.ts';
import { recordedHeightNotes } from '../terrain/recorded-heights.ts';
import type { Surface } from '../terrain/surface.ts';
import { looksSwapped } from '../terrain/swapped.ts';

/** What measuring stands on. */
export interface Ground {
  readonly surface: Surface;
  readonly design: Design;
}

export interface RouteFile extends ReadOptions {
  readonly bytes: Uint8Array;
  /** From `NAME.route.json`; `null` where there is none. Wins over GeoJSON properties. */
  readonly attributes?: RouteAttributes | null;
}

/** Measures one track of a file. */
export async function measured(
  track: Track,
  file: RouteFile,
  ground: Ground,
  addWayBack: boolean,
): Promise<Route> {
  if (looksSwapped(track, ground.surface.sources)) {
    throw new EngineError(
      'coordinates-look-swapped',
      message`“${track.name}” lies outside the elevation tiles, and inside them with latitude and longitude swapped: swap them in the file`,
    );
  }
  const elevated = await drape(track, ground.surface);
  const withNotes = {
    ...elevated,
    track: { ...track, notes: [...track.notes, ...recordedHeightNotes(elevated)] },
  };
  const attributes = file.attributes ?? track.attributes ?? {};
  return describeRoute(withNotes, ground.design, { attributes, addWayBack });
}

/**
 * Reads and measures the lines of a file.
 * @param addWayBack whether a way up that stops at its top gets the same way back
 */
export async function routesOf(file: RouteFile, ground: Ground, addWayBack = true): Promise<Route[]> {
  const tracks = readTracks(file.bytes, file);
  const named = file.attributes?.name;
  if (tracks.length > 1 && named != null) {
    throw new EngineError(
      'bad-attribute',
      message`one name (“${named}”) is stated for a file with ${tracks.length} routes: leave the name out, or split the file`,
      { pointer: '/name' },
    );
  }
  const routes: Route[] = [];
  for (const track of tracks) routes.push(await measured(track, file, ground, addWayBack));
  return routes;
}

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
