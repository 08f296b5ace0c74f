import { Command, CommanderError, Option } from 'commander';
import { afterDay, seasonRecord } from '../app/after.ts';
import { besideFile, readCohortFile, readJson, readRouteFiles, readSeasonFile } from '../app/files.ts';
import { type Ground, measureFile, routesOf } from '../app/measure.ts';
import { checkClock, checkDate } from '../app/question.ts';
import { cohortRecordOf } from '../app/recordings.ts';
import { fitFor, rank, rankIf } from '../app/shortlist.ts';
import { DESIGN, type Design, withChanges } from '../design.ts';
import { makeDocument } from '../document/make-document.ts';
import { PAGE_KEYS, type PageKey } from '../document/plan-document.ts';
import { planHtml } from '../document/plan-html.tsx';
import { routeGpx } from '../document/route-gpx.ts';
import { tripPlanView } from '../document/trip-plan-view.ts';
import { dateOf } from '../earth/local-time.ts';
import { EngineError } from '../errors.ts';
import { checkOuting } from '../ingest/cohort-file.ts';
import { whatIfSchema } from '../ingest/what-if.ts';
import { routeLadder } from '../plan/route-ladder.ts';
import { makeTripPlan } from '../plan/trip-plan.ts';
import type { CohortRecord } from '../rank/readiness.ts';
import { sourcesView } from '../route/attribution.ts';
import type { Route } from '../route/describe-route.ts';
import { tileReport } from '../terrain/tile-report.ts';
import { openSurface, type SurfaceOptions } from '../terrain/tile-set.ts';
import { errorText, messageText, namesItsPlace } from '../text/errors.ts';
import { notesView } from '../text/notes.ts';
import type { UnitSystem } from '../units.ts';
import { plannedAgainstActualView, predictionRecordView, predictionRowView } from '../views/after-view.ts';
import { roundedMeasures } from '../views/measures-view.ts';
import { readinessView } from '../views/readiness-view.ts';
import { seasonView } from '../views/season-view.ts';
import { shortlistView } from '../views/shortlist-view.ts';
import { ladderView } from '../views/training-view.ts';
import { afterText, recordText } from './after-text.ts';
import { demText } from './dem-text.ts';
import { heightsLines } from './heights-lines.ts';
import { ladderText } from './ladder-text.ts';
import { measureText } from './measure-text.ts';
import { movedText } from './moved-text.ts';
import { pagesText } from './pages-text.ts';
import { progressOf } from './progress.ts';
import { readinessText } from './readiness-text.ts';
import { boardOf } from './season-command.ts';
import { seasonText } from './season-text.ts';
import { shortlistText } from './shortlist-text.ts';

/** Where a command writes, and what starts the service: given, so that tests run the same commands. */
export interface Terminal {
  readonly out: (text: string) => void;
  readonly err: (text: string) => void;
  readonly serve: (print: (text: string) => void) => Promise<void>;
  /** Where tiles may come from and where their headers are remembered; not given: no network, no memory. */
  readonly dem?: () => Pick<SurfaceOptions, 'indexFile' | 'remote'>;
}

/** Indented, but with each pair of a profile on one line. */
function jsonText(value: unknown): string {
  return JSON.stringify(value, null, 2).replace(/\[\n\s*(-?[\d.]+),\n\s*(-?[\d.]+|null)\n\s*\]/g, '[$1, $2]');
}

interface Common {
  readonly dem: string[];
  readonly format: string;
  readonly units: UnitSystem;
  readonly settings?: string;
}

async function designOf(settings: string | undefined): Promise<Design> {
  return settings === undefined ? DESIGN : withChanges(await readJson(settings));
}

/** Runs `work` on the tiles named, which are closed whatever happens. */
async function onGround<T>(
  terminal: Terminal,
  options: Pick<Common, 'dem' | 'settings'>,
  work: (ground: Ground) => Promise<T>,
): Promise<T> {
  const design = await designOf(options.settings);
  const surface = await openSurface(options.dem, terminal.dem?.());
  try {
    for (const { path, reason } of surface.refused) {
      terminal.err(`krummholz: ${path}: ${messageText(reason, { units: 'metric' })}\n`);
    }
    return await work({ surface, design });
  } finally {
    await surface.close();
  }
}

async function readRoutes(
  paths: readonly string[],
  ground: Ground,
  measure: typeof routesOf,
): Promise<Route[]> {
  const files = await readRouteFiles(paths);
  const progress = progressOf(files.length, 'measuring');
  const routes: Route[] = [];
  try {
    for (const file of files) {
      try {
        routes.push(...(await measure(file, ground)));
      } catch (error) {
        throw error instanceof EngineError ? error.inFile(file.path) : error;
      }
      progress.step(file.path);
    }
  } finally {
    progress.stop();
  }
  return routes;
}

async function readRecord(path: string, ground: Ground) {
  const { cohort, readTrack } = await readCohortFile(path);
  return cohortRecordOf(cohort, readTrack, ground);
}

async function measureCommand(
  terminal: Terminal,
  files: string[],
  options: Common & { treelineM?: number },
): Promise<void> {
  await onGround(terminal, options, async (given) => {
    const { treelineM } = options;
    const design =
      treelineM === undefined
        ? given.design
        : withChanges({ treeline: { programM: treelineM } }, given.design);
    const routes = await readRoutes(files, { ...given, design }, measureFile);
    if (options.format === 'json') {
      terminal.out(
        jsonText(
          routes.map(({ name, measures, profile, notes, sources }) => ({
            name,
            measures: roundedMeasures(measures),
            sources: sourcesView({ sources }),
            profile: profile.map(([distanceM, elevationM]) => [
              Math.round(distanceM * 10) / 10,
              elevationM === null ? null : Math.round(elevationM * 100) / 100,
            ]),
            notes: notesView(notes),
          })),
        ),
      );
    } else {
      terminal.out(routes.map((route) => measureText(route, options.units)).join('\n\n'));
    }
  });
}

async function rankIfCommand(
  terminal: Terminal,
  file: string,
  routes: readonly Route[],
  record: CohortRecord,
  design: Design,
  { date, units, format }: Common & { date: string },
): Promise<void> {
  const changes = await readJson(file);
  let found: ReturnType<typeof rankIf>;
  try {
    found = rankIf(routes, { record, date, design }, changes, units);
  } catch (error) {
    throw error instanceof EngineError ? error.inFile(file) : error;
  }
  const { asked, ranked, moved } = found;
  if (format === 'json') {
    terminal.out(jsonText({ ...shortlistView(asked.record, asked.date, ranked, asked.design), moved }));
  } else {
    terminal.out(
      `${movedText(moved)}\n\n${shortlistText(ranked, asked.record, asked.date, asked.design, units)}`,
    );
  }
}

async function rankCommand(
  terminal: Terminal,
  options: Common & { cohort: string; routes: string[]; date: string; whatIf?: string },
): Promise<void> {
  checkDate(options.date);
  await onGround(terminal, options, async (ground) => {
    const record = await readRecord(options.cohort, ground);
    const routes = await readRoutes(options.routes, ground, routesOf);
    if (options.whatIf !== undefined) {
      await rankIfCommand(terminal, options.whatIf, routes, record, ground.design, options);
      return;
    }
    const ranked = rank(routes, record, options.date, ground.design, options.units);
    if (options.format === 'json') {
      terminal.out(jsonText(shortlistView(record, options.date, ranked, ground.design)));
    } else {
      terminal.out(shortlistText(ranked, record, options.date, ground.design, options.units));
    }
  });
}

async function readOneRoute(path: string, ground: Ground): Promise<Route> {
  const routes = await readRoutes([path], ground, routesOf);
  const [route] = routes;
  if (route === undefined || routes.length > 1) {
    throw new EngineError('usage', `a plan is for one route; this file holds ${routes.length}`, {
      file: path,
    });
  }
  return route;
}

interface PlanOptions extends Common {
  readonly cohort: string;
  readonly route: string;
  readonly date: string;
  readonly routes?: string[];
  readonly today?: string;
  readonly start?: string;
  readonly spareDate?: string;
  readonly warm?: boolean;
  readonly page?: PageKey[];
}

/** The calendar day where this program runs. */
const localToday = (): string => dateOf(Date.now(), Intl.DateTimeFormat().resolvedOptions().timeZone);

async function planCommand(terminal: Terminal, options: PlanOptions): Promise<void> {
  const date = checkDate(options.date);
  const today = checkDate(options.today ?? localToday());
  const spareDate = options.spareDate === undefined ? null : checkDate(options.spareDate);
  if (spareDate !== null && spareDate <= date) {
    throw new EngineError('bad-date', `the spare date ${spareDate} is not after the trip’s, ${date}`);
  }
  const start = options.start === undefined ? null : checkClock(options.start);
  await onGround(terminal, options, async (ground) => {
    const record = { ...(await readRecord(options.cohort, ground)), start };
    const route = await readOneRoute(options.route, ground);
    const known = await readRoutes(options.routes ?? [], ground, routesOf);
    const { design } = ground;
    const { units } = options;
    const plan = makeTripPlan({
      fit: fitFor(route, { record, date, design }, units),
      record,
      date,
      today,
      known,
      spareDate,
      warm: options.warm ?? null,
      design,
      units,
    });
    if (options.format === 'json') terminal.out(jsonText(tripPlanView(plan, design, units)));
    else if (options.format === 'html') terminal.out(planHtml(makeDocument(plan, design, units)));
    else if (options.format === 'gpx') terminal.out(routeGpx(route, plan.details?.day.places ?? [], units));
    else terminal.out(pagesText(makeDocument(plan, design, units), options.page ?? null));
  });
}

interface LadderOptions extends Common {
  readonly cohort: string;
  readonly routes: string[];
  readonly target: string;
  readonly date: string;
  readonly today?: string;
}

async function ladderCommand(terminal: Terminal, options: LadderOptions): Promise<void> {
  const tripDate = checkDate(options.date);
  const today = checkDate(options.today ?? localToday());
  await onGround(terminal, options, async (ground) => {
    const record = await readRecord(options.cohort, ground);
    const routes = await readRoutes(options.routes, ground, routesOf);
    const target = routes.find(({ name }) => name === options.target);
    if (target === undefined) {
      const names = routes.map(({ name }) => name).sort();
      throw new EngineError(
        'usage',
        `no route is called “${options.target.slice(0, 80)}”: write one of ${names.join(', ')}`,
      );
    }
    const { design } = ground;
    const { units } = options;
    const ladder = ladderView(routeLadder({ target, record, today, tripDate, routes, design, units }), units);
    terminal.out(
      options.format === 'json' ? jsonText(ladder) : ladderText(ladder, record.cohort.name, units),
    );
  });
}

async function seasonCommand(
  terminal: Terminal,
  path: string,
  options: Common & { routes: string[] },
): Promise<void> {
  const file = await readSeasonFile(path);
  await onGround(terminal, options, async (ground) => {
    const routes = await readRoutes(options.routes, ground, routesOf);
    const board = await boardOf(path, file, routes, ground, options.units);
    terminal.out(options.format === 'json' ? jsonText(seasonView(board, ground.design)) : seasonText(board));
  });
}

async function shownCommand(
  terminal: Terminal,
  options: Common & { cohort: string; date: string },
): Promise<void> {
  checkDate(options.date);
  await onGround(terminal, options, async (ground) => {
    const record = await readRecord(options.cohort, ground);
    const view = readinessView(record, options.date, ground.design);
    const season = seasonRecord(record, options.date, ground.design);
    if (options.format === 'json') {
      terminal.out(jsonText({ ...view, record: predictionRecordView(season) }));
    } else {
      const heights = heightsLines(view.attribution);
      terminal.out([`${readinessText(view, options.units)}\n\n${recordText(season)}`, ...heights].join('\n'));
    }
  });
}

interface AfterOptions extends Common {
  readonly cohort: string;
  readonly route: string;
  readonly date: string;
  readonly track: string;
  readonly members?: string;
  readonly turned?: string;
  readonly nearMiss?: string[];
}

async function afterCommand(terminal: Terminal, options: AfterOptions): Promise<void> {
  checkDate(options.date);
  await onGround(terminal, options, async (ground) => {
    const { cohort, readTrack } = await readCohortFile(options.cohort);
    const track = besideFile(options.cohort, options.track);
    const going = cohort.going?.length ? cohort.going : null;
    const line = checkOuting(
      {
        date: options.date,
        track,
        members: options.members?.split(',').map((label) => label.trim()) ?? going,
        turnedBecause: options.turned ?? null,
        nearMisses: options.nearMiss ?? [],
      },
      cohort.members ?? null,
    );
    const record = await cohortRecordOf(cohort, readTrack, ground);
    const route = await readOneRoute(options.route, ground);
    const file = { bytes: await readTrack(track), fileName: options.track };
    const day = await afterDay(
      route,
      record,
      line.date,
      file,
      line.members ?? null,
      ground,
      options.units,
    ).catch((error) => {
      throw error instanceof EngineError && error.place.file === undefined
        ? error.inFile(options.track)
        : error;
    });
    const toAdd = { ...line, rockClass: day.outing.rockClass };
    if (options.format === 'json') {
      const { compared, outing, row, before, after, record: season, attribution } = day;
      terminal.out(
        jsonText({
          cohort: { name: cohort.name },
          route: { name: route.name },
          planned: plannedAgainstActualView(compared),
          outing,
          prediction: row === null ? null : predictionRowView(row),
          routeTimes: { before, after },
          record: predictionRecordView(season),
          attribution,
          toAdd,
        }),
      );
    } else {
      terminal.out(afterText(day, { cohort: cohort.name, route: route.name }, toAdd, options.units));
    }
  });
}

async function demCommand(terminal: Terminal, paths: string[], options: { format: string }): Promise<void> {
  const surface = await openSurface(paths, terminal.dem?.());
  try {
    if (options.format === 'json') {
      const tiles = (await tileReport(surface)).map((tile) => ({ ...tile, notes: notesView(tile.notes) }));
      const refused = surface.refused.map((one) => ({
        ...one,
        reason: messageText(one.reason, { units: 'metric' }),
      }));
      terminal.out(jsonText({ tiles, refused }));
    } else {
      terminal.out(await demText(surface));
    }
  } finally {
    await surface.close();
  }
}

function treelineValue(text: string): number {
  const value = Number(text);
  if (!/^-?\d+(\.\d+)?$/.test(text) || value < -430 || value > 6000) {
    throw new CommanderError(
      2,
      'treeline',
      `--treeline-m ${text}: give a height in metres between -430 and 6000`,
    );
  }
  return value;
}

function program(terminal: Terminal): Command {
  const dem = () =>
    new Option(
      '--dem <path...>',
      'elevation tiles: files, folders, VRT or STAC catalogues, https addresses',
    ).makeOptionMandatory();
  const format = (...choices: [string, ...string[]]) =>
    new Option('--format <format>', 'how to print').choices(choices).default(choices[0]);
  const units = () =>
    new Option('--units <units>', 'units of the text').choices(['metric', 'us']).default('metric');
  const settings = () => new Option('--settings <file>', 'JSON file with changes to the design settings');

  const krummholz = new Command('krummholz')
    .description('Fits mountain summit days to groups, from real terrain and from what the group has shown.')
    .exitOverride()
    .configureOutput({ writeOut: (text) => terminal.out(text.trimEnd()), writeErr: () => {} })
    .showHelpAfterError(false);
  krummholz
    .command('measure')
    .description('measure the lines of GPX or GeoJSON files on the terrain')
    .argument('<file...>', 'GPX or GeoJSON files or folders')
    .addOption(dem())
    .addOption(
      new Option('--treeline-m <metres>', 'treeline where a route states none').argParser(treelineValue),
    )
    .addOption(format('table', 'json'))
    .addOption(units())
    .addOption(settings())
    .action((files, options) => measureCommand(terminal, files, options));
  krummholz
    .command('rank')
    .description('rank routes for a cohort on a date, with reasons')
    .requiredOption('--cohort <file>', 'cohort file')
    .requiredOption('--routes <path...>', 'GPX or GeoJSON files or folders')
    .addOption(dem())
    .requiredOption('--date <date>', 'day of the trip, YYYY-MM-DD')
    .option(
      '--what-if <file>',
      `JSON file with changes to try: ${Object.keys(whatIfSchema.properties).join(', ')}`,
    )
    .addOption(format('table', 'json'))
    .addOption(units())
    .addOption(settings())
    .action((options) => rankCommand(terminal, options));
  krummholz
    .command('plan')
    .description('plan the day on one route')
    .requiredOption('--cohort <file>', 'cohort file')
    .requiredOption('--route <file>', 'GPX or GeoJSON file')
    .addOption(dem())
    .requiredOption('--date <date>', 'day of the trip, YYYY-MM-DD')
    .option('--routes <path...>', 'routes known: for the lower choice and for training')
    .option('--start <time>', 'a start of your own, HH:MM (default: worked out)')
    .option('--spare-date <date>', 'the spare date, YYYY-MM-DD (default: one is suggested)')
    .option('--warm', 'a warm day is forecast: more water')
    .option('--no-warm', 'no warm day is forecast')
    .option('--today <date>', 'training starts after this day (default: today)')
    .addOption(new Option('--page <page...>', 'only these pages of the text').choices(PAGE_KEYS))
    .addOption(format('text', 'json', 'html', 'gpx'))
    .addOption(units())
    .addOption(settings())
    .action((options) => planCommand(terminal, options));
  krummholz
    .command('ladder')
    .description('the known routes that lead from what a cohort has shown to a target')
    .requiredOption('--cohort <file>', 'cohort file')
    .requiredOption('--routes <path...>', 'GPX or GeoJSON files, or folders')
    .addOption(dem())
    .requiredOption('--target <name>', 'name of the route to lead to')
    .requiredOption('--date <date>', 'day of the trip, YYYY-MM-DD')
    .option('--today <date>', 'steps start after this day (default: today)')
    .addOption(format('text', 'json'))
    .addOption(units())
    .addOption(settings())
    .action((options) => ladderCommand(terminal, options));
  krummholz
    .command('season')
    .description('a date and a route for each of many cohorts, within shared vehicles, permits and parking')
    .argument('<file>', 'season file')
    .requiredOption('--routes <path...>', 'GPX or GeoJSON files, or folders')
    .addOption(dem())
    .addOption(format('text', 'json'))
    .addOption(units())
    .addOption(settings())
    .action((file, options) => seasonCommand(terminal, file, options));
  krummholz
    .command('shown')
    .description('for leaders: what a cohort has shown, who limits it, and its pace')
    .requiredOption('--cohort <file>', 'cohort file')
    .addOption(dem())
    .requiredOption('--date <date>', 'day of the trip, YYYY-MM-DD')
    .addOption(format('text', 'json'))
    .addOption(units())
    .addOption(settings())
    .action((options) => shownCommand(terminal, options));
  krummholz
    .command('after')
    .description('after the day: its plan beside its recording, and what the group’s pace learns from it')
    .requiredOption('--cohort <file>', 'cohort file')
    .requiredOption('--route <file>', 'GPX or GeoJSON file that was planned')
    .addOption(dem())
    .requiredOption('--date <date>', 'day of the trip, YYYY-MM-DD')
    .requiredOption('--track <file>', 'GPX recording of the day')
    .option('--members <labels>', 'labels of those who were there, split by commas (default: those going)')
    .option('--turned <text>', 'why the group turned back; no names')
    .option('--near-miss <text...>', 'what nearly went wrong; no names')
    .addOption(format('text', 'json'))
    .addOption(units())
    .addOption(settings())
    .action((options) => afterCommand(terminal, options));
  krummholz
    .command('dem')
    .description('list elevation tiles: which, where, what units, how much void, whose')
    .argument('<path...>', 'files, folders, catalogues or addresses')
    .addOption(format('table', 'json'))
    .action((paths, options) => demCommand(terminal, paths, options));
  krummholz
    .command('serve')
    .description('serve the API on this machine; settings from the environment, see README')
    .action(() => terminal.serve(terminal.out));
  for (const command of krummholz.commands) {
    command
      .exitOverride()
      .configureOutput({ writeOut: (text) => terminal.out(text.trimEnd()), writeErr: () => {} });
  }
  return krummholz;
}

/** What is wrong with a file is told in the units that the command asked for. */
const unitsIn = (argv: readonly string[]): UnitSystem =>
  argv.some((word, i) => word === '--units=us' || (word === 'us' && argv[i - 1] === '--units'))
    ? 'us'
    : 'metric';

function placeText(error: EngineError): string {
  const { place } = error;
  const at = [
    place.file,
    place.line === undefined ? undefined : `line ${place.line}`,
    place.column === undefined ? undefined : `column ${place.column}`,
    place.byteOffset === undefined ? undefined : `byte ${place.byteOffset}`,
    namesItsPlace(error) ? undefined : place.pointer,
  ].filter((part) => part !== undefined);
  return at.length > 0 ? `${at.join(', ')}: ` : '';
}

/**
 * Runs one command line (without node and script). Exit status: 0 done, 1 the input was refused, 2 the command was
 * wrong, 70 a fault of ours.
 */
export async function run(argv: readonly string[], terminal: Terminal): Promise<number> {
  const fail = (text: string, status: number): number => {
    terminal.err(`krummholz: ${text}\n`);
    return status;
  };
  try {
    await program(terminal).parseAsync([...argv], { from: 'user' });
    return 0;
  } catch (error) {
    if (error instanceof CommanderError) {
      if (error.exitCode === 0) return 0;
      const named =
        error.code === 'commander.help'
          ? 'name a command'
          : error.message.replace(/^error: /, '').replaceAll('\n', ' ');
      return fail(`${named} (see krummholz --help)`, 2);
    }
    if (error instanceof EngineError) {
      const status = error.code === 'usage' ? 2 : 1;
      const units = unitsIn(argv);
      for (const fault of error.all)
        fail(`${placeText(fault)}${errorText(fault, units)} [${fault.code}]`, status);
      return status;
    }
    const message = error instanceof Error ? error.message : String(error);
    return fail(`a fault of ours, please report it: ${message}`, 70);
  }
}
