import type { FastifyReply } from 'fastify';
import { getRoute } from '../app/routes.ts';
import { routeGpx } from '../document/route-gpx.ts';
import { checkpointsOf, type RoutePlace } from '../route/checkpoints.ts';
import type { Route } from '../route/describe-route.ts';
import { closed } from '../schema.ts';
import type { UnitSystem } from '../units.ts';
import { notModified, strongTag } from './conditional.ts';
import type { App, ResourceDeps } from './deps.ts';
import { GPX_TYPE } from './media.ts';
import { operation, routeParams, UNCHANGED, unitsQuery } from './schemas.ts';

/** Characters of a name that go into a file name at most (design). */
const LONGEST_STEM = 60;

/**
 * A name for a file that any system keeps: letters, digits and hyphens of ASCII alone, so that nothing in it has to be
 * quoted or can lead to another folder (RFC 6266 section 4.3).
 * @example fileStem('Größe: ../../x') // 'Gro-e-x'
 */
export function fileStem(name: string): string {
  const plain = name.normalize('NFKD').replace(/\p{M}/gu, '');
  const stem = plain.replace(/[^A-Za-z0-9]+/g, '-').slice(0, LONGEST_STEM);
  return stem.replace(/^-+|-+$/g, '') || 'route';
}

/** Makes the reply a GPX file to save, and gives its text. */
export function gpxFile(
  reply: FastifyReply,
  route: Route,
  checkpoints: readonly RoutePlace[],
  units: UnitSystem,
): string {
  reply.type(GPX_TYPE).header('content-disposition', `attachment; filename="${fileStem(route.name)}.gpx"`);
  return routeGpx(route, checkpoints, units);
}

export function routeGpxResource(app: App, { context }: ResourceDeps): void {
  app.get(
    '/v1/routes/:id.gpx',
    {
      config: { produces: [GPX_TYPE] },
      ...operation(
        'routes',
        'getRouteGpx',
        'The line of a route and its checkpoints as GPX 1.1',
        { 200: ['the line, without times and heights', null, [GPX_TYPE]], 304: UNCHANGED },
        { params: routeParams, querystring: closed(unitsQuery) },
      ),
    },
    async (request, reply) => {
      const { units = 'metric' } = request.query;
      const { id, revision, route } = await getRoute(context, request.params.id);
      if (notModified(request, reply, strongTag(id, `${revision}-gpx-${units}`))) return reply;
      return gpxFile(reply, route, checkpointsOf(route, context.ground.design.checkpoints), units);
    },
  );
}
