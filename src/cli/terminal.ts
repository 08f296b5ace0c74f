/** What the commands share: where they write, what they read, the options that several of them take. */

import { type Command, Option } from 'commander';
import { readCohortFile, readJson, readRouteFiles } from '../app/files.ts';
import { type Ground, routesOf } from '../app/measure.ts';
import { checkDate } from '../app/question.ts';
import { cohortRecordOf } from '../app/recordings.ts';
import { DESIGN, type Design, withChanges } from '../design.ts';
import { dateOf } from '../earth/local-time.ts';
import { EngineError, inFile } from '../errors.ts';
import { message } from '../message.ts';
import type { Route } from '../route/describe-route.ts';
import { openSurface, type SurfaceOptions } from '../terrain/tile-set.ts';
import { messageText } from '../text/errors.ts';
import type { UnitSystem } from '../units.ts';
import { progressOf } from './progress.ts';

/** Where a command writes, and what starts the service: given, so that tests run the same commands. */
export interface Terminal {
  readonly out: (text: string) => void;
  readonly err: (text: string) => void;
  readonly serve: (print: (text: string) => void) => Promise<void>;
  /** Where tiles may come from and where their headers are remembered; not given: no network, no memory. */
  readonly dem?: () => Pick<SurfaceOptions, 'indexFile' | 'remote'>;
}

/** Indented, but with each pair of a profile on one line. */
export function jsonText(value: unknown): string {
  return JSON.stringify(value, null, 2).replace(/\[\n\s*(-?[\d.]+),\n\s*(-?[\d.]+|null)\n\s*\]/g, '[$1, $2]');
}

/** What every command on the terrain is given. */
export interface Common {
  readonly dem: string[];
  readonly format: string;
  readonly units: UnitSystem;
  readonly settings?: string;
}

async function designOf(settings: string | undefined): Promise<Design> {
  return settings === undefined ? DESIGN : withChanges(await readJson(settings));
}

/** A command on the terrain. */
interface GroundCommand<Options, Argument> {
  readonly name: string;
  readonly description: string;
  /** Flag and description of what stands before the options; missing: nothing does. */
  readonly argument?: readonly [string, string];
  readonly options: readonly Option[];
  /** The first is the usual one. */
  readonly formats: readonly [string, ...string[]];
  /** Gives what is to be printed. */
  readonly print: (ground: Ground, options: Options & Common, argument: Argument) => Promise<string>;
}

/** Adds a command that works on the tiles named, which are closed whatever happens, with the options all such share. */
export const groundCommand =
  <Options, Argument = undefined>({
    name,
    description,
    argument,
    options,
    formats,
    print,
  }: GroundCommand<Options, Argument>) =>
  (program: Command, terminal: Terminal): void => {
    const command = program.command(name).description(description);
    if (argument !== undefined) command.argument(...argument);
    for (const option of [...options, formatOption(formats), UNITS, SETTINGS]) command.addOption(option);
    command.action(async (...given: unknown[]) => {
      const stated = command.opts<Options & Common>();
      const design = await designOf(stated.settings);
      const surface = await openSurface(stated.dem, terminal.dem?.());
      try {
        for (const { path, reason } of surface.refused) {
          terminal.err(`krummholz: ${path}: ${messageText(reason, { units: 'metric' })}\n`);
        }
        terminal.out(await print({ surface, design }, stated, given[0] as Argument));
      } finally {
        await surface.close();
      }
    });
  };

export async function readRoutes(
  paths: readonly string[],
  ground: Ground,
  addWayBack = true,
): Promise<Route[]> {
  const files = await readRouteFiles(paths);
  const progress = progressOf(files.length, 'measuring');
  const routes: Route[] = [];
  try {
    for (const file of files) {
      routes.push(...(await inFile(file.path, () => routesOf(file, ground, addWayBack))));
      progress.step(file.path);
    }
  } finally {
    progress.stop();
  }
  return routes;
}

export async function readRecord(path: string, ground: Ground) {
  const { cohort, readTrack } = await readCohortFile(path);
  return cohortRecordOf(cohort, readTrack, ground);
}

export async function readOneRoute(path: string, ground: Ground): Promise<Route> {
  const routes = await readRoutes([path], ground);
  const [route] = routes;
  if (route === undefined || routes.length > 1) {
    throw new EngineError('usage', message`a plan is for one route; this file holds ${routes.length}`, {
      file: path,
    });
  }
  return route;
}

/** The calendar day where this program runs. */
export const localToday = (): string => dateOf(Date.now(), Intl.DateTimeFormat().resolvedOptions().timeZone);

export const option = (flags: string, description: string): Option => new Option(flags, description);
export const needed = (flags: string, description: string): Option =>
  option(flags, description).makeOptionMandatory();

export const DEM = needed(
  '--dem <path...>',
  'elevation tiles: files, folders, VRT or STAC catalogues, https addresses',
);
export const COHORT = needed('--cohort <file>', 'cohort file');
/** Refused as soon as it is read, before any tile is opened. */
export const DATE = needed('--date <date>', 'day of the trip, YYYY-MM-DD').argParser(checkDate);

export const todayOption = (description: string): Option =>
  option('--today <date>', description).argParser(checkDate);

export const formatOption = ([usual, ...others]: GroundCommand<unknown, unknown>['formats']): Option =>
  option('--format <format>', 'how to print')
    .choices([usual, ...others])
    .default(usual);
const UNITS = option('--units <units>', 'units of the text').choices(['metric', 'us']).default('metric');
const SETTINGS = option('--settings <file>', 'JSON file with changes to the design settings');
