import { type Command, Option } from 'commander';
import { routesOf } from '../../app/measure.ts';
import { planTrip } from '../../app/plans.ts';
import { checkClock, checkDate, checkSpareDate } from '../../app/question.ts';
import { makeDocument } from '../../document/make-document.ts';
import { PAGE_KEYS, type PageKey } from '../../document/plan-document.ts';
import { planHtml } from '../../document/plan-html.tsx';
import { routeGpx } from '../../document/route-gpx.ts';
import { tripPlanView } from '../../document/trip-plan-view.ts';
import { pagesText } from '../pages-text.ts';
import {
  type Common,
  demOption,
  formatOption,
  jsonText,
  localToday,
  onGround,
  readOneRoute,
  readRecord,
  readRoutes,
  settingsOption,
  type Terminal,
  unitsOption,
} from '../terminal.ts';

export function planCommand(program: Command, terminal: Terminal): void {
  program
    .command('plan')
    .description('plan the day on one route')
    .requiredOption('--cohort <file>', 'cohort file')
    .requiredOption('--route <file>', 'GPX or GeoJSON file')
    .addOption(demOption())
    .requiredOption('--date <date>', 'day of the trip, YYYY-MM-DD')
    .option('--routes <path...>', 'routes known: for the lower choice and for training')
    .option('--start <time>', 'a start of your own, HH:MM (default: worked out)')
    .option('--spare-date <date>', 'the spare date, YYYY-MM-DD (default: one is suggested)')
    .option('--warm', 'a warm day is forecast: more water')
    .option('--no-warm', 'no warm day is forecast')
    .option('--today <date>', 'training starts after this day (default: today)')
    .addOption(new Option('--page <page...>', 'only these pages of the text').choices(PAGE_KEYS))
    .addOption(formatOption('text', 'json', 'html', 'gpx'))
    .addOption(unitsOption())
    .addOption(settingsOption())
    .action((options) => planDay(terminal, options));
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

async function planDay(terminal: Terminal, options: PlanOptions): Promise<void> {
  const date = checkDate(options.date);
  const today = checkDate(options.today ?? localToday());
  const spareDate = options.spareDate === undefined ? null : checkDate(options.spareDate);
  checkSpareDate(spareDate, date);
  const start = options.start === undefined ? null : checkClock(options.start);
  await onGround(terminal, options, async (ground) => {
    const record = { ...(await readRecord(options.cohort, ground)), start };
    const route = await readOneRoute(options.route, ground);
    const known = await readRoutes(options.routes ?? [], ground, routesOf);
    const { design } = ground;
    const { units } = options;
    const plan = planTrip(route, {
      record,
      date,
      today,
      known,
      spareDate,
      warm: options.warm ?? null,
      design,
    });
    if (options.format === 'json') terminal.out(jsonText(tripPlanView(plan, design, units)));
    else if (options.format === 'html') terminal.out(planHtml(makeDocument(plan, design, units)));
    else if (options.format === 'gpx') terminal.out(routeGpx(route, plan.details?.day.places ?? [], units));
    else terminal.out(pagesText(makeDocument(plan, design, units), options.page ?? null));
  });
}
