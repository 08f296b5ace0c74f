/** The HTTP face of the context. The only folder that knows HTTP; nothing here listens. */
import { randomUUID } from 'node:crypto';
import type { Socket } from 'node:net';
import helmet from '@fastify/helmet';
import multipart from '@fastify/multipart';
import type { TypeBoxTypeProvider } from '@fastify/type-provider-typebox';
import Fastify from 'fastify';
import { todayOf } from './app/context.ts';
import { EngineError } from './errors.ts';
import { aboutResource } from './http/about.ts';
import { cohortResource } from './http/cohorts.ts';
import { cursors } from './http/cursor.ts';
import type { App, AppDeps, Timeouts } from './http/deps.ts';
import { answerClientError, answerError, rawProblem } from './http/errors.ts';
import { guard } from './http/guard.ts';
import { collectOpenapi } from './http/openapi.ts';
import { outingResource } from './http/outings.ts';
import { validatorCompiler } from './http/query.ts';
import { routeGpxResource } from './http/route-gpx.ts';
import { routeResource } from './http/routes.ts';
import { shortlistResource } from './http/shortlist.ts';
import { tripPlanResource } from './http/trip-plan.ts';
import { FORM_LIMITS } from './http/upload.ts';
import { INGEST_LIMITS } from './ingest/limits.ts';
import { assetResource, readAssets } from './site/assets.ts';
import { errorPages } from './site/error.tsx';
import { frames } from './site/frame.ts';
import { pageResources } from './site/index.ts';

const TIMEOUTS: Timeouts = { requestMs: 60_000, headersMs: 20_000, checkMs: 2_000 };
/** A connection without any traffic is dropped after this (design). */
const IDLE_CONNECTION_MS = 120_000;
const KEEP_ALIVE_MS = 65_000;
const LONGEST_PARAM = 200;

/** Builds the service without listening. Its answers are JSON unless a resource says more; its errors are RFC 9457 problem documents. */
export async function buildApp(deps: AppDeps): Promise<App> {
  const { context, store, publicUrl } = deps;
  const timeouts = deps.timeouts ?? TIMEOUTS;
  const assets = readAssets();
  const frame = frames(assets, publicUrl, () => todayOf(context), deps.surface);
  const asPage = errorPages(frame);
  const app: App = Fastify({
    ...(deps.log === undefined ? { logger: false } : { loggerInstance: deps.log }),
    genReqId: () => randomUUID(),
    bodyLimit: INGEST_LIMITS.bodyBytes,
    requestTimeout: timeouts.requestMs,
    connectionTimeout: IDLE_CONNECTION_MS,
    keepAliveTimeout: KEEP_ALIVE_MS,
    http: { headersTimeout: timeouts.headersMs, connectionsCheckingInterval: timeouts.checkMs },
    onProtoPoisoning: 'error',
    onConstructorPoisoning: 'error',
    // Our own hook answers while the service stops, with a problem document.
    return503OnClosing: false,
    routerOptions: { maxParamLength: LONGEST_PARAM },
    clientErrorHandler: answerClientError,
    frameworkErrors(error, request, reply) {
      // Errors before routing, where hooks have not run.
      reply.header('cache-control', 'no-store').header('x-content-type-options', 'nosniff');
      answerError(error, request, reply, asPage);
    },
  }).withTypeProvider<TypeBoxTypeProvider>();

  app.setErrorHandler((error, request, reply) => answerError(error, request, reply, asPage));
  app.setValidatorCompiler(validatorCompiler);
  // The framework's serializer would write 0 for a null that a schema forgot: "not known" must never become a number.
  app.setSerializerCompiler(() => (payload) => JSON.stringify(payload));
  app.server.on('connect', (_request, socket: Socket) => {
    socket.end(rawProblem(new EngineError('method-not-allowed', 'CONNECT is not served'), randomUUID()));
  });

  await app.register(helmet, {
    contentSecurityPolicy: {
      useDefaults: false,
      directives: { defaultSrc: ["'none'"], frameAncestors: ["'none'"] },
    },
    // Set by whatever ends TLS in front of the service.
    strictTransportSecurity: false,
  });
  guard(app, publicUrl);
  await app.register(multipart, { limits: FORM_LIMITS, throwFileSizeLimit: false });
  app.removeContentTypeParser(['application/json', 'text/plain']);
  app.addContentTypeParser('*', { parseAs: 'buffer' }, (_request, body, done) => done(null, body));
  await collectOpenapi(app, publicUrl);

  const resources = { context, cursors: cursors(store.secret), url: (path: string) => `${publicUrl}${path}` };
  routeResource(app, resources);
  routeGpxResource(app, resources);
  cohortResource(app, resources);
  outingResource(app, resources);
  shortlistResource(app, resources);
  tripPlanResource(app, resources);
  assetResource(app, assets);
  pageResources(app, { ...resources, frame }, deps.loadDemo ?? null, assets);
  aboutResource(app, deps);
  await app.ready();
  return app;
}
