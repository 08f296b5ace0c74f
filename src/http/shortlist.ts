import Type from 'typebox';
import type { StoredFit } from '../app/explained-fits.ts';
import { storedSeasonBoard } from '../app/season.ts';
import { fitOfRoute, shortlist } from '../app/shortlist.ts';
import { EngineError } from '../errors.ts';
import { quote } from '../ingest/quote.ts';
import { checkSeasonRequest } from '../ingest/season-file.ts';
import { message } from '../message.ts';
import type { FitRequest } from '../rank/readiness.ts';
import { VERDICTS, type Verdict } from '../rank/verdict.ts';
import type { Placing } from '../rank/what-moved.ts';
import { closed } from '../schema.ts';
import type { UnitSystem } from '../units.ts';
import { seasonView } from '../views/season-view.ts';
import { shortlistView } from '../views/shortlist-view.ts';
import { bodyJson } from './body.ts';
import type { App, ResourceDeps } from './deps.ts';
import { JSON_TYPES } from './media.ts';
import { limitOf, linkNext } from './paging.ts';
import {
  cohortParams,
  dateQuery,
  fitParams,
  jsonOf,
  operation,
  pageQuery,
  taking,
  unitsQuery,
} from './schemas.ts';

const shortlistQuery = closed({
  ...dateQuery,
  ...pageQuery,
  ...unitsQuery,
  verdict: Type.Optional(
    Type.String({ maxLength: 100, description: `only these, split by commas: ${VERDICTS.join(', ')}` }),
  ),
});

const { cursor: _, ...whatIfFields } = shortlistQuery.properties;
const whatIfQuery = closed(whatIfFields);

function verdictsOf(text: string | undefined): readonly Verdict[] | null {
  if (text === undefined) return null;
  return text.split(',').map((word) => {
    const verdict = VERDICTS.find((one) => one === word);
    if (verdict !== undefined) return verdict;
    const reason = message`the verdict ${quote(word)} is not known: give ${VERDICTS.join(', ')}`;
    throw new EngineError('bad-request', reason, { pointer: '?verdict' });
  });
}

/**
 * How the routes fit a cohort on a date, and many cohorts within what they share. Who limits what is never in it.
 * Long because it is a list: every address stands beside its schema.
 */
// biome-ignore lint/complexity/noExcessiveLinesPerFunction: a list, one entry after another
export function shortlistResource(app: App, deps: ResourceDeps): void {
  const { context, cursors } = deps;

  /** The document around the entries is the engine's own; only the ids of the store are added. */
  const ranking = (id: string, asked: FitRequest, fits: readonly StoredFit[], units: UnitSystem) => {
    const view = shortlistView(
      asked,
      fits.map(({ fit }) => fit),
      units,
    );
    return {
      ...view,
      cohort: { id, ...view.cohort },
      routes: view.routes.map((entry, i) => ({ ...entry, id: fits[i]?.id ?? '' })),
    };
  };

  app.get(
    '/v1/cohorts/:id/shortlist',
    operation(
      'shortlist',
      'getShortlist',
      'The routes in order of fit on a date',
      { 200: ['a page of the ranking; Link leads to the next', 'Shortlist'] },
      { params: cohortParams, querystring: shortlistQuery },
    ),
    async (request, reply) => {
      const { id } = request.params;
      const { date, cursor, verdict, units = 'metric' } = request.query;
      const path = `/v1/cohorts/${id}/shortlist`;
      const asked = { date, units, ...(verdict === undefined ? {} : { verdict }) };
      const scope = `${path}?${JSON.stringify(asked)}`;
      const limit = limitOf(request.query);
      const page = await shortlist(context, {
        cohortId: id,
        date,
        changes: null,
        limit,
        verdicts: verdictsOf(verdict),
        afterRank: cursor === undefined ? 0 : Number(cursors.open(scope, cursor)[0]),
      });
      if (page.nextAfterRank !== null) {
        linkNext(reply, deps, path, { ...asked, limit, cursor: cursors.seal(scope, [page.nextAfterRank]) });
      }
      return ranking(id, page.asked, page.fits, units);
    },
  );

  app.post(
    '/v1/cohorts/:id/shortlist',
    {
      config: { consumes: JSON_TYPES },
      ...operation(
        'shortlist',
        'whatIf',
        'The shortlist as it would be with some changes, and what moved; nothing is stored',
        { 200: ['the first routes of the changed ranking', 'WhatIfShortlist'] },
        { params: cohortParams, querystring: whatIfQuery, body: { content: jsonOf('WhatIf') } },
      ),
    },
    async (request) => {
      const { id } = request.params;
      const { date, verdict, units = 'metric' } = request.query;
      const { asked, fits, moved } = await shortlist(context, {
        cohortId: id,
        date,
        changes: bodyJson(request, 'bad-what-if'),
        limit: limitOf(request.query),
        verdicts: verdictsOf(verdict),
        afterRank: 0,
      });
      const round = ({ score, ...stand }: Placing) => ({ ...stand, score: Math.round(score * 1e4) / 1e4 });
      return {
        ...ranking(id, asked, fits, units),
        moved: moved.map(({ from, to, ...move }) => ({ ...move, from: round(from), to: round(to) })),
      };
    },
  );

  app.get(
    '/v1/cohorts/:id/routes/:routeId/fit',
    operation(
      'shortlist',
      'getFit',
      'How one route fits on a date',
      { 200: ['the fit', 'Fit'] },
      { params: fitParams, querystring: closed({ ...dateQuery, ...unitsQuery }) },
    ),
    async (request) => {
      const { id, routeId } = request.params;
      const { date, units = 'metric' } = request.query;
      const found = await fitOfRoute(context, { cohortId: id, routeId, date });
      const { routes, ...around } = ranking(id, found.asked, [found], units);
      return { ...around, route: routes[0] };
    },
  );

  app.post(
    '/v1/season-board',
    taking(
      'SeasonRequest',
      operation(
        'season',
        'makeSeasonBoard',
        'A date and a route for each cohort, within shared vehicles, permits and parking',
        { 200: ['the board', 'SeasonBoard'] },
        { querystring: closed(unitsQuery) },
      ),
    ),
    async (request) => {
      const { units = 'metric' } = request.query;
      const asked = checkSeasonRequest(bodyJson(request, 'bad-season'));
      return seasonView(await storedSeasonBoard(context, asked), context.ground.design, units);
    },
  );
}
