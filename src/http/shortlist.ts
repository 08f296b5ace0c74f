import Type from 'typebox';
import type { StoredFit } from '../app/explained-fits.ts';
import { fitOfRoute, shortlist } from '../app/shortlist.ts';
import { EngineError } from '../errors.ts';
import { quote } from '../ingest/quote.ts';
import { message } from '../message.ts';
import type { FitRequest } from '../rank/readiness.ts';
import { VERDICTS, type Verdict } from '../rank/verdict.ts';
import type { Placing } from '../rank/what-moved.ts';
import { closed } from '../schema.ts';
import type { UnitSystem } from '../units.ts';
import { shortlistView } from '../views/shortlist-view.ts';
import { bodyJson } from './body.ts';
import type { App, ResourceDeps } from './deps.ts';
import { JSON_TYPES } from './media.ts';
import { limitOf, linkNext } from './paging.ts';
import { answers, cohortParams, dateQuery, fitParams, jsonOf, pageQuery, unitsQuery } from './schemas.ts';

const tags = ['shortlist'];

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
    throw new EngineError(
      'bad-request',
      message`the verdict ${quote(word)} is not known: give ${VERDICTS.join(', ')}`,
      {
        pointer: '?verdict',
      },
    );
  });
}

/**
 * How the routes fit a cohort on a date. Who limits what is never in it.
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
    {
      schema: {
        operationId: 'getShortlist',
        summary: 'The routes in order of fit on a date',
        tags,
        params: cohortParams,
        querystring: shortlistQuery,
        response: answers({ 200: ['a page of the ranking; Link leads to the next', 'Shortlist'] }),
      },
    },
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
      schema: {
        operationId: 'whatIf',
        summary: 'The shortlist as it would be with some changes, and what moved; nothing is stored',
        tags,
        params: cohortParams,
        querystring: whatIfQuery,
        body: { content: jsonOf('WhatIf') },
        response: answers({ 200: ['the first routes of the changed ranking', 'WhatIfShortlist'] }),
      },
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
    {
      schema: {
        operationId: 'getFit',
        summary: 'How one route fits on a date',
        tags,
        params: fitParams,
        querystring: closed({ ...dateQuery, ...unitsQuery }),
        response: answers({ 200: ['the fit', 'Fit'] }),
      },
    },
    async (request) => {
      const { id, routeId } = request.params;
      const { date, units = 'metric' } = request.query;
      const found = await fitOfRoute(context, { cohortId: id, routeId, date });
      const { routes, ...around } = ranking(id, found.asked, [found], units);
      return { ...around, route: routes[0] };
    },
  );
}
