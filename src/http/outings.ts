import Type from 'typebox';
import { addOutingByHand, addOutingOfTrack, deleteOuting, getOuting, listOutings } from '../app/days.ts';
import { EngineError } from '../errors.ts';
import { message } from '../message.ts';
import { closed } from '../schema.ts';
import type { Page } from '../storage/context.ts';
import type { StoredOuting } from '../storage/outings.ts';
import { bodyBytes, bodyJson, checkSameKind } from './body.ts';
import { checkIfMatch, notModified, strongTag } from './conditional.ts';
import type { App, ResourceDeps } from './deps.ts';
import { GPX_TYPES, JSON_TYPE, mediaTypeOf } from './media.ts';
import { linkedRows } from './paging.ts';
import { cohortParams, jsonOf, operation, outingParams, pageQuery, UNCHANGED } from './schemas.ts';
import { viewOfOuting } from './views.ts';

const pathOf = (cohortId: string): string => `/v1/cohorts/${cohortId}/outings`;

const gpxParameter = (maxLength: number, description: string) =>
  Type.Optional(
    Type.String({
      maxLength,
      description: `${description}${description === '' ? '' : '; '}with a GPX body`,
    }),
  );

const trackQuery = closed({
  date: gpxParameter(40, 'the day of the walk'),
  rockClass: gpxParameter(20, ''),
  members: gpxParameter(7000, 'labels of those who were there, split by commas'),
  turnedBecause: gpxParameter(500, 'why the group turned back, if it did; no names and no labels'),
  nearMisses: gpxParameter(
    10_100,
    'what nearly went wrong, one text a line (%0A between); no names and no labels',
  ),
  routeId: gpxParameter(40, 'the stored route that was planned for the day, to be compared with it'),
});

const gpxFile = { schema: Type.String({ description: 'a GPX file with one track' }) };
const outingBody = {
  content: { ...jsonOf('OutingInput'), ...Object.fromEntries(GPX_TYPES.map((type) => [type, gpxFile])) },
};

/** Days that a cohort has walked. An outing is recorded once; it never changes. */
export function outingResource(app: App, deps: ResourceDeps): void {
  const { context, url } = deps;

  app.post(
    pathOf(':id'),
    {
      config: { consumes: [JSON_TYPE, ...GPX_TYPES] },
      ...operation(
        'outings',
        'addOuting',
        'Record an outing: by hand as JSON, or its GPX with a clock, which is measured and dropped',
        { 201: ['stored', 'Outing'] },
        { params: cohortParams, querystring: trackQuery, body: outingBody },
      ),
    },
    async (request, reply) => {
      const cohortId = request.params.id;
      const mediaType = mediaTypeOf(request.headers['content-type']);
      const { date, rockClass, members, turnedBecause, nearMisses, routeId } = request.query;
      let outing: StoredOuting;
      if (mediaType === JSON_TYPE) {
        const [stray] = Object.keys(request.query);
        if (stray !== undefined) {
          throw new EngineError('bad-request', message`with a JSON body ${stray} belongs into the body`, {
            pointer: `?${stray}`,
          });
        }
        outing = await addOutingByHand(context, cohortId, bodyJson(request, 'bad-outing'));
      } else {
        checkSameKind(request);
        if (date === undefined) {
          const needed = 'with a GPX body the parameter date is needed: the day of the walk';
          throw new EngineError('bad-date', needed, { pointer: '?date' });
        }
        outing = await addOutingOfTrack(context, cohortId, {
          bytes: bodyBytes(request),
          mediaType,
          date,
          rockClass: rockClass ?? null,
          members: members?.split(',').map((label) => label.trim()) ?? null,
          turnedBecause: turnedBecause ?? null,
          nearMisses: nearMisses === undefined ? null : linesOf(nearMisses),
          routeId: routeId ?? null,
        });
      }
      reply.code(201).header('location', url(`${pathOf(cohortId)}/${outing.id}`));
      return viewOfOuting(outing);
    },
  );

  app.get(
    pathOf(':id'),
    operation(
      'outings',
      'listOutings',
      'The outings of a cohort, in the order in which they came',
      { 200: ['a page of outings; Link leads to the next', 'Outings'] },
      { params: cohortParams, querystring: closed(pageQuery) },
    ),
    async (request, reply) => {
      const { id } = request.params;
      const list = (page: Page) => listOutings(context, id, page);
      const rows = await linkedRows(list, request.query, pathOf(id), reply, deps);
      return { outings: rows.map(viewOfOuting) };
    },
  );

  const one = { 200: ['the outing', 'Outing'], 304: UNCHANGED } as const;
  app.get(
    `${pathOf(':id')}/:outingId`,
    operation('outings', 'getOuting', 'One outing', one, { params: outingParams }),
    async (request, reply) => {
      const outing = await getOuting(context, request.params.id, request.params.outingId);
      if (notModified(request, reply, tagOf(outing))) return reply;
      return viewOfOuting(outing);
    },
  );

  const erased = { 204: ['erased', null] } as const;
  app.delete(
    `${pathOf(':id')}/:outingId`,
    operation('outings', 'deleteOuting', 'Erase an outing', erased, { params: outingParams }),
    async (request, reply) => {
      const { id, outingId } = request.params;
      checkIfMatch(request, tagOf(await getOuting(context, id, outingId)), false);
      await deleteOuting(context, id, outingId);
      return reply.code(204).send();
    },
  );
}

function linesOf(text: string): string[] {
  return text
    .split(/\r\n?|\n/)
    .map((line) => line.trim())
    .filter((line) => line !== '');
}

/** Labels given up by the cohort leave an outing, so the tag holds who is left. */
const tagOf = ({ id, outing }: StoredOuting): string => strongTag(id, outing.members?.length ?? 'all');
