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
import { GPX_TYPES, mediaTypeOf } from './media.ts';
import { linkedRows } from './paging.ts';
import { answers, cohortParams, jsonOf, outingParams, pageQuery } from './schemas.ts';
import { viewOfOuting } from './views.ts';

const tags = ['outings'];
const pathOf = (cohortId: string): string => `/v1/cohorts/${cohortId}/outings`;

const trackQuery = closed({
  date: Type.Optional(Type.String({ maxLength: 40, description: 'the day of the walk; with a GPX body' })),
  rockClass: Type.Optional(Type.String({ maxLength: 20, description: 'with a GPX body' })),
  members: Type.Optional(
    Type.String({
      maxLength: 7000,
      description: 'labels of those who were there, split by commas; with a GPX body',
    }),
  ),
  turnedBecause: Type.Optional(
    Type.String({
      maxLength: 500,
      description: 'why the group turned back, if it did; no names and no labels; with a GPX body',
    }),
  ),
  nearMisses: Type.Optional(
    Type.String({
      maxLength: 10_100,
      description:
        'what nearly went wrong, one text a line (%0A between); no names and no labels; with a GPX body',
    }),
  ),
  routeId: Type.Optional(
    Type.String({
      maxLength: 40,
      description: 'the stored route that was planned for the day, to be compared with it; with a GPX body',
    }),
  ),
});

/**
 * Days that a cohort has walked. An outing is recorded once; it never changes.
 * Long because it is a list: every address stands beside its schema.
 */
// biome-ignore lint/complexity/noExcessiveLinesPerFunction: a list, one entry after another
export function outingResource(app: App, deps: ResourceDeps): void {
  const { context, url } = deps;

  app.post(
    pathOf(':id'),
    {
      config: { consumes: ['application/json', ...GPX_TYPES] },
      schema: {
        operationId: 'addOuting',
        summary: 'Record an outing: by hand as JSON, or its GPX with a clock, which is measured and dropped',
        tags,
        params: cohortParams,
        querystring: trackQuery,
        body: {
          content: {
            ...jsonOf('OutingInput'),
            ...Object.fromEntries(
              GPX_TYPES.map((type) => [
                type,
                { schema: Type.String({ description: 'a GPX file with one track' }) },
              ]),
            ),
          },
        },
        response: answers({ 201: ['stored', 'Outing'] }),
      },
    },
    async (request, reply) => {
      const cohortId = request.params.id;
      const mediaType = mediaTypeOf(request.headers['content-type']);
      const { date, rockClass, members, turnedBecause, nearMisses, routeId } = request.query;
      let outing: StoredOuting;
      if (mediaType === 'application/json') {
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
          throw new EngineError(
            'bad-date',
            'with a GPX body the parameter date is needed: the day of the walk',
            {
              pointer: '?date',
            },
          );
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
    {
      schema: {
        operationId: 'listOutings',
        summary: 'The outings of a cohort, in the order in which they came',
        tags,
        params: cohortParams,
        querystring: closed(pageQuery),
        response: answers({ 200: ['a page of outings; Link leads to the next', 'Outings'] }),
      },
    },
    async (request, reply) => {
      const { id } = request.params;
      const list = (page: Page) => listOutings(context, id, page);
      const rows = await linkedRows(list, request.query, pathOf(id), reply, deps);
      return { outings: rows.map(viewOfOuting) };
    },
  );

  app.get(
    `${pathOf(':id')}/:outingId`,
    {
      schema: {
        operationId: 'getOuting',
        summary: 'One outing',
        tags,
        params: outingParams,
        response: answers({ 200: ['the outing', 'Outing'], 304: ['not changed', null] }),
      },
    },
    async (request, reply) => {
      const outing = await getOuting(context, request.params.id, request.params.outingId);
      if (notModified(request, reply, tagOf(outing))) return reply;
      return viewOfOuting(outing);
    },
  );

  app.delete(
    `${pathOf(':id')}/:outingId`,
    {
      schema: {
        operationId: 'deleteOuting',
        summary: 'Erase an outing',
        tags,
        params: outingParams,
        response: answers({ 204: ['erased', null] }),
      },
    },
    async (request, reply) => {
      const { id, outingId } = request.params;
      const outing = await getOuting(context, id, outingId);
      checkIfMatch(request, tagOf(outing), false);
      await deleteOuting(context, id, outingId);
      return reply.code(204).send();
    },
  );
}

/** The lines that say something. */
function linesOf(text: string): string[] {
  return text
    .split(/\r\n?|\n/)
    .map((line) => line.trim())
    .filter((line) => line !== '');
}

/** Labels given up by the cohort leave an outing, so the tag holds who is left. */
function tagOf({
  id,
  outing,
}: {
  readonly id: string;
  readonly outing: { readonly members: readonly string[] | null };
}): string {
  return strongTag(id, outing.members === null ? 'all' : outing.members.length);
}
