import Type from 'typebox';
import { addRoutes, deleteRoute, getRoute, listRoutes, patchRoute, type SentRoutes } from '../app/routes.ts';
import { closed } from '../schema.ts';
import type { Page } from '../storage/context.ts';
import { statedChanges } from '../text/stated-words.ts';
import { bodyBytes, bodyJson, checkSameKind } from './body.ts';
import { checkIfMatch, notModified, strongTag } from './conditional.ts';
import type { App, ResourceDeps } from './deps.ts';
import { GPX_TYPES, JSON_TYPE, JSON_TYPES, MULTIPART, mediaTypeOf } from './media.ts';
import { linkedRows } from './paging.ts';
import { ifMatchHeader, jsonOf, operation, pageQuery, routeParams, UNCHANGED } from './schemas.ts';
import { uploadedFiles } from './upload.ts';
import { viewOfProfile, viewOfRoute } from './views.ts';

const PATH = '/v1/routes';
const MERGE_PATCH_TYPE = 'application/merge-patch+json';
const patchBody = { ...jsonOf('RouteAttributes', MERGE_PATCH_TYPE), ...jsonOf('RouteAttributes') };

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

const nameQuery = closed({
  name: Type.Optional(
    Type.String({ maxLength: 4000, description: 'a name that wins over the file’s, for a single route' }),
  ),
});

/**
 * Candidate routes: sent as files, measured on the way in.
 * Long because it is a list: every address stands beside its schema.
 */
// biome-ignore lint/complexity/noExcessiveLinesPerFunction: a list, one entry after another
export function routeResource(app: App, deps: ResourceDeps): void {
  const { context, url } = deps;

  const again = 'nothing new: sent before, or laid over the routes of the same name on the same lines';
  app.post(
    PATH,
    {
      config: { consumes: [...GPX_TYPES, ...JSON_TYPES, MULTIPART] },
      ...operation(
        'routes',
        'addRoutes',
        'Send route files: all routes are stored, or none',
        { 200: [again, 'SentRoutes'], 201: ['stored', 'SentRoutes'] },
        { querystring: nameQuery, body: uploadBody },
      ),
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
    operation(
      'routes',
      'listRoutes',
      'All routes, in the order in which they came',
      { 200: ['a page of routes; Link leads to the next', 'Routes'] },
      { querystring: closed(pageQuery) },
    ),
    async (request, reply) => {
      const list = (page: Page) => listRoutes(context, page);
      return { routes: (await linkedRows(list, request.query, PATH, reply, deps)).map(viewOfRoute) };
    },
  );

  const one = { 200: ['the route', 'Route'], 304: UNCHANGED } as const;
  app.get(
    `${PATH}/:id`,
    operation('routes', 'getRoute', 'One route', one, { params: routeParams }),
    async (request, reply) => {
      const route = await getRoute(context, request.params.id);
      if (notModified(request, reply, strongTag(route.id, route.revision))) return reply;
      return viewOfRoute(route);
    },
  );

  const heights = { 200: ['the profile', 'Profile'], 304: UNCHANGED } as const;
  app.get(
    `${PATH}/:id/profile`,
    operation('routes', 'getProfile', 'The heights along a route', heights, { params: routeParams }),
    async (request, reply) => {
      const route = await getRoute(context, request.params.id);
      if (notModified(request, reply, strongTag(route.id, `${route.revision}-profile`))) return reply;
      return viewOfProfile(route);
    },
  );

  app.patch(
    `${PATH}/:id`,
    {
      config: { consumes: [MERGE_PATCH_TYPE, JSON_TYPE] },
      ...operation(
        'routes',
        'patchRoute',
        'Change attributes by a JSON merge patch (RFC 7396); the route is measured again',
        { 200: ['the changed route', 'Route'] },
        { headers: ifMatchHeader, params: routeParams, body: { content: patchBody } },
      ),
    },
    async (request, reply) => {
      const { id } = request.params;
      const { revision } = await getRoute(context, id);
      checkIfMatch(request, strongTag(id, revision), true);
      const changed = await patchRoute(context, id, revision, bodyJson(request, 'bad-attribute'));
      reply.header('etag', strongTag(id, changed.revision));
      return viewOfRoute(changed);
    },
  );

  const deleted = { 204: ['deleted', null] } as const;
  app.delete(
    `${PATH}/:id`,
    operation('routes', 'deleteRoute', 'Delete a route', deleted, { params: routeParams }),
    async (request, reply) => {
      const { id } = request.params;
      const { revision } = await getRoute(context, id);
      const held = checkIfMatch(request, strongTag(id, revision), false);
      await deleteRoute(context, id, held ? revision : null);
      return reply.code(204).send();
    },
  );
}
