import Type from 'typebox';
import { addRoutes, deleteRoute, getRoute, listRoutes, patchRoute, type SentRoutes } from '../app/routes.ts';
import { closed } from '../schema.ts';
import type { Page } from '../storage/context.ts';
import { statedChanges } from '../text/stated-words.ts';
import { bodyBytes, bodyJson, checkSameKind } from './body.ts';
import { checkIfMatch, notModified, strongTag } from './conditional.ts';
import type { App, ResourceDeps } from './deps.ts';
import { GPX_TYPES, JSON_TYPES, MULTIPART, mediaTypeOf } from './media.ts';
import { linkedRows } from './paging.ts';
import { answers, ifMatchHeader, jsonOf, pageQuery, routeParams } from './schemas.ts';
import { uploadedFiles } from './upload.ts';
import { viewOfProfile, viewOfRoute } from './views.ts';

const PATH = '/v1/routes';
const tags = ['routes'];
const MERGE_PATCH_TYPES = ['application/merge-patch+json', 'application/json'];

const file = Type.String({ description: 'a GPX or GeoJSON file, at most 10 MiB' });

const uploadBody = {
  content: {
    ...Object.fromEntries([...GPX_TYPES, ...JSON_TYPES].map((type) => [type, { schema: file }])),
    [MULTIPART]: {
      schema: Type.Object({
        files: Type.Array(file, { description: 'route files; NAME.route.json says what NAME.gpx cannot' }),
      }),
    },
  },
};

/**
 * Candidate routes: sent as files, measured on the way in.
 * Long because it is a list: every address stands beside its schema.
 */
// biome-ignore lint/complexity/noExcessiveLinesPerFunction: a list, one entry after another
export function routeResource(app: App, deps: ResourceDeps): void {
  const { context, url } = deps;

  app.post(
    PATH,
    {
      config: { consumes: [...GPX_TYPES, ...JSON_TYPES, MULTIPART] },
      schema: {
        operationId: 'addRoutes',
        summary: 'Send route files: all routes are stored, or none',
        tags,
        querystring: closed({
          name: Type.Optional(
            Type.String({
              maxLength: 4000,
              description: 'a name that wins over the file’s, for a single route',
            }),
          ),
        }),
        body: uploadBody,
        response: answers({
          200: [
            'nothing new: sent before, or laid over the routes of the same name on the same lines',
            'SentRoutes',
          ],
          201: ['stored', 'SentRoutes'],
        }),
      },
    },
    async (request, reply) => {
      const mediaType = mediaTypeOf(request.headers['content-type']);
      const name = request.query.name ?? null;
      let files: readonly SentRoutes[];
      if (mediaType === MULTIPART) {
        files = (await uploadedFiles(request)).map((one) => ({ ...one, name }));
      } else {
        checkSameKind(request);
        files = [{ bytes: bodyBytes(request), mediaType, name }];
      }
      const { routes, created, changed, sameLine } = await addRoutes(context, files);
      const views = routes.map(viewOfRoute);
      const warnings = new Map(
        views.flatMap(({ notes }) => notes).map((note) => [`${note.code} ${note.text}`, note]),
      );
      for (const { name, before, now } of changed) {
        const text = `${name} was stored already, on the same line; what the file states was laid over what was stated: ${statedChanges(before, now, 'metric').join('; ')}`;
        warnings.set(`laid-over ${text}`, { code: 'laid-over', text });
      }
      for (const { name: other, newName } of sameLine) {
        const text = `${newName} lies on the same line as ${other}, which is stored too: delete one of them unless both are meant`;
        warnings.set(`same-line ${text}`, { code: 'same-line', text });
      }
      const first = url(`${PATH}/${views[0]?.id}`);
      reply.code(created > 0 ? 201 : 200).header(created > 0 ? 'location' : 'content-location', first);
      return { routes: views, warnings: [...warnings.values()] };
    },
  );

  app.get(
    PATH,
    {
      schema: {
        operationId: 'listRoutes',
        summary: 'All routes, in the order in which they came',
        tags,
        querystring: closed(pageQuery),
        response: answers({ 200: ['a page of routes; Link leads to the next', 'Routes'] }),
      },
    },
    async (request, reply) => {
      const list = (page: Page) => listRoutes(context, page);
      const rows = await linkedRows(list, request.query, PATH, reply, deps);
      return { routes: rows.map(viewOfRoute) };
    },
  );

  app.get(
    `${PATH}/:id`,
    {
      schema: {
        operationId: 'getRoute',
        summary: 'One route',
        tags,
        params: routeParams,
        response: answers({ 200: ['the route', 'Route'], 304: ['not changed', null] }),
      },
    },
    async (request, reply) => {
      const route = await getRoute(context, request.params.id);
      if (notModified(request, reply, strongTag(route.id, route.revision))) return reply;
      return viewOfRoute(route);
    },
  );

  app.get(
    `${PATH}/:id/profile`,
    {
      schema: {
        operationId: 'getProfile',
        summary: 'The heights along a route',
        tags,
        params: routeParams,
        response: answers({ 200: ['the profile', 'Profile'], 304: ['not changed', null] }),
      },
    },
    async (request, reply) => {
      const route = await getRoute(context, request.params.id);
      if (notModified(request, reply, strongTag(route.id, `${route.revision}-profile`))) return reply;
      return viewOfProfile(route);
    },
  );

  app.patch(
    `${PATH}/:id`,
    {
      config: { consumes: MERGE_PATCH_TYPES },
      schema: {
        operationId: 'patchRoute',
        summary: 'Change attributes by a JSON merge patch (RFC 7396); the route is measured again',
        tags,
        headers: ifMatchHeader,
        params: routeParams,
        body: {
          content: {
            ...jsonOf('RouteAttributes', 'application/merge-patch+json'),
            ...jsonOf('RouteAttributes'),
          },
        },
        response: answers({ 200: ['the changed route', 'Route'] }),
      },
    },
    async (request, reply) => {
      const { id } = request.params;
      const route = await getRoute(context, id);
      checkIfMatch(request, strongTag(id, route.revision), true);
      const changed = await patchRoute(context, id, route.revision, bodyJson(request, 'bad-attribute'));
      reply.header('etag', strongTag(id, changed.revision));
      return viewOfRoute(changed);
    },
  );

  app.delete(
    `${PATH}/:id`,
    {
      schema: {
        operationId: 'deleteRoute',
        summary: 'Delete a route',
        tags,
        params: routeParams,
        response: answers({ 204: ['deleted', null] }),
      },
    },
    async (request, reply) => {
      const { id } = request.params;
      const { revision } = await getRoute(context, id);
      const held = checkIfMatch(request, strongTag(id, revision), false);
      await deleteRoute(context, id, held ? revision : null);
      return reply.code(204).send();
    },
  );
}
