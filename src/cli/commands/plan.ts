import { planTrip } from '../../app/plans.ts';
import { checkClock, checkDate, checkSpareDate } from '../../app/question.ts';
import { makeDocument } from '../../document/make-document.ts';
import { PAGE_KEYS, type PageKey } from '../../document/plan-document.ts';
import { planHtml } from '../../document/plan-html.tsx';
import { routeGpx } from '../../document/route-gpx.ts';
import { tripPlanView } from '../../document/trip-plan-view.ts';
import { pagesText } from '../pages-text.ts';
import {
  COHORT,
  DATE,
  DEM,
  groundCommand,
  jsonText,
  localToday,
  needed,
  option,
  readOneRoute,
  readRecord,
  readRoutes,
  todayOption,
} from '../terminal.ts';

interface PlanOptions {
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

export const planCommand = groundCommand<PlanOptions>({
  name: 'plan',
  description: 'plan the day on one route',
  options: [
    COHORT,
    needed('--route <file>', 'GPX or GeoJSON file'),
    DEM,
    DATE,
    option('--routes <path...>', 'routes known: for the lower choice and for training'),
    option('--start <time>', 'a start of your own, HH:MM (default: worked out)').argParser(checkClock),
    option('--spare-date <date>', 'the spare date, YYYY-MM-DD (default: one is suggested)').argParser(
      checkDate,
    ),
    option('--warm', 'a warm day is forecast: more water'),
    option('--no-warm', 'no warm day is forecast'),
    todayOption('training starts after this day (default: today)'),
    option('--page <page...>', 'only these pages of the text').choices(PAGE_KEYS),
  ],
  formats: ['text', 'json', 'html', 'gpx'],
  async print(ground, options) {
    const {
      date,
      units,
      format,
      start = null,
      spareDate = null,
      warm = null,
      today = localToday(),
    } = options;
    checkSpareDate(spareDate, date);
    const record = { ...(await readRecord(options.cohort, ground)), start };
    const route = await readOneRoute(options.route, ground);
    const known = await readRoutes(options.routes ?? [], ground);
    const { design } = ground;
    const plan = planTrip(route, { record, date, today, known, spareDate, warm, design });
    if (format === 'json') return jsonText(tripPlanView(plan, design, units));
    if (format === 'gpx') return routeGpx(route, plan.details?.day.places ?? [], units);
    const document = makeDocument(plan, design, units);
    return format === 'html' ? planHtml(document) : pagesText(document, options.page ?? null);
  },
});
