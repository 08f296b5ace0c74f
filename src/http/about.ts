import { EngineError } from '../errors.ts';
import type { App, AppDeps } from './deps.ts';
import { operation } from './schemas.ts';

/** What the service says of itself, to whoever starts, watches or programs against it; nothing of what it holds. */
export function aboutResource(
  app: App,
  { context, store, surface }: Pick<AppDeps, 'context' | 'store' | 'surface'>,
): void {
  const settings = 'The settings that the figures and verdicts rest on';
  app.get(
    '/v1/settings',
    operation('service', 'getSettings', settings, { 200: ['the settings in force', 'Settings'] }),
    async () => context.ground.design,
  );

  app.get(
    '/v1/openapi.json',
    operation('service', 'getOpenapi', 'This document', { 200: ['OpenAPI 3.1', 'Openapi'] }),
    async () => app.swagger(),
  );

  app.get(
    '/livez',
    operation('service', 'isAlive', 'The process answers', { 200: ['alive', 'Status'] }),
    async (_, reply) => {
      reply.header('cache-control', 'no-store');
      return { status: 'ok' };
    },
  );

  app.get(
    '/readyz',
    operation('service', 'isReady', 'The store and the elevation tiles can be read', {
      200: ['ready; degraded: some elevation tiles are damaged', 'Readiness'],
    }),
    async (request, reply) => {
      reply.header('cache-control', 'no-store');
      const storeReads = await store.isReady().catch((err: unknown) => {
        request.log.error({ err }, 'the store cannot be read');
        return false;
      });
      if (!storeReads) throw new EngineError('unavailable', 'the store cannot be read');
      if (surface.sources.length === 0) throw new EngineError('unavailable', 'no elevation tile is loaded');
      const { damaged } = surface;
      return { status: damaged === 0 ? 'ok' : 'degraded', damagedTiles: damaged };
    },
  );
}
