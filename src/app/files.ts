import { readdir, readFile, stat } from 'node:fs/promises';
import { basename, dirname, extname, join, relative, resolve } from 'node:path';
import { EngineError, systemCode } from '../errors.ts';
import { readCohort } from '../ingest/cohort-file.ts';
import { readRouteAttributes } from '../ingest/route-attributes.ts';
import { readSeason, type Season } from '../ingest/season-file.ts';
import { message } from '../message.ts';
import type { RouteFile } from './measure.ts';

const ROUTE_ENDINGS = new Set(['.gpx', '.geojson']);
const SIDECAR = '.route.json';

const isMissing = (error: unknown): boolean => systemCode(error) === 'ENOENT';

/** @throws EngineError `file-not-found` or `file-unreadable`, with the path as it was given. */
export async function readBytes(path: string): Promise<Uint8Array> {
  try {
    return await readFile(path);
  } catch (error) {
    if (isMissing(error))
      throw new EngineError('file-not-found', 'no such file: check the path', { file: path });
    const why = systemCode(error) || 'unknown reason';
    throw new EngineError('file-unreadable', message`cannot be read (${why})`, { file: path });
  }
}

async function readText(path: string): Promise<string> {
  const bytes = await readBytes(path);
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    throw new EngineError('encoding', 'is not UTF-8 text: save it as UTF-8', { file: path });
  }
}

async function sidecarOf(path: string) {
  const sidecar = join(dirname(path), `${basename(path, extname(path))}${SIDECAR}`);
  try {
    return readRouteAttributes(await readText(sidecar), sidecar);
  } catch (error) {
    if (error instanceof EngineError && error.code === 'file-not-found') return null;
    throw error;
  }
}

async function routePathsIn(path: string): Promise<string[]> {
  const found = await stat(path).catch((error) => {
    if (!isMissing(error)) throw error;
    throw new EngineError('file-not-found', 'no such file or folder: check the path', { file: path });
  });
  if (!found.isDirectory()) return [path];
  const names = await readdir(path);
  const routes = names.filter((name) => ROUTE_ENDINGS.has(extname(name).toLowerCase())).sort();
  if (routes.length === 0) {
    throw new EngineError(
      'no-line',
      'this folder holds no .gpx or .geojson file (folders inside it are not searched)',
      { file: path },
    );
  }
  return routes.map((name) => join(path, name));
}

/** The route files named, and those in the folders named, each with its `NAME.route.json` where there is one. */
export async function readRouteFiles(paths: readonly string[]) {
  const files: (RouteFile & { readonly path: string })[] = [];
  const seen = new Set<string>();
  for (const path of (await Promise.all(paths.map(routePathsIn))).flat()) {
    if (seen.has(resolve(path))) continue;
    seen.add(resolve(path));
    files.push({
      path,
      fileName: basename(path),
      bytes: await readBytes(path),
      attributes: await sidecarOf(path),
    });
  }
  return files;
}

/** Names of the files of a folder; empty where there is none. */
export async function namesIn(folder: string): Promise<readonly string[]> {
  return readdir(folder).catch((error) => {
    if (isMissing(error)) return [];
    throw error;
  });
}

/** A path as a cohort file writes it: relative to the file's folder, with slashes. */
export function besideFile(file: string, path: string): string {
  return relative(dirname(resolve(file)), resolve(path)).replaceAll('\\', '/');
}

/** A cohort, and what gives the bytes of a track that its file names; paths are relative to it. */
export async function readCohortFile(path: string) {
  return {
    cohort: readCohort(await readText(path), path),
    readTrack: (track: string) => readBytes(join(dirname(path), track)),
  };
}

export interface SeasonFile {
  readonly season: Season;
  /** Bytes of a track that a cohort names; `file` is the cohort’s own, `null` for one written into the season. */
  readonly readTrack: (file: string | null, path: string) => Promise<Uint8Array>;
}

/** A season and the cohort files that it names; all paths are relative to the file that writes them. */
export async function readSeasonFile(path: string): Promise<SeasonFile> {
  const folder = dirname(path);
  const season = await readSeason(
    await readText(path),
    path,
    async (file) => (await readCohortFile(join(folder, file))).cohort,
  );
  const trackFolder = (file: string | null) => (file === null ? folder : dirname(join(folder, file)));
  return { season, readTrack: (file, track) => readBytes(join(trackFolder(file), track)) };
}

/** A JSON file of settings, parsed but not checked. */
export async function readJson(path: string): Promise<unknown> {
  try {
    return JSON.parse(await readText(path));
  } catch (error) {
    if (error instanceof EngineError) throw error;
    const why = error instanceof Error ? error.message : '';
    throw new EngineError('json-malformed', message`is not JSON: ${why}`, { file: path });
  }
}
