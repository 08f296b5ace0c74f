import { EngineError } from '../errors.ts';
import type { App, AppDeps } from './deps.ts';
import { answers } from './schemas.ts';

const tags = ['service'];

/** For whoever starts and watches the service. They say nothing of what it holds. */
export function healthResource(app: App, { store, surface }: Pick<AppDeps, 'store' | 'surface'>): void {
  app.get(
    '/livez',
    {
      schema: {
        operationId: 'isAlive',
        summary: 'The process answers',
        tags,
        response: answers({ 200: ['alive', 'Status'] }),
      },
    },
    async (_, reply) => {
      reply.header('cache-control', 'no-store');
      return { status: 'ok' };
    },
  );

  app.get(
    '/readyz',
    {
      schema: {
        operationId: 'isReady',
        summary: 'The store and the elevation tiles can be read',
        tags,
        response: answers({ 200: ['ready; degraded: some elevation tiles are damaged', 'Readiness'] }),
      },
    },
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
