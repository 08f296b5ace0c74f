import type { FastifyReply, FastifyRequest } from 'fastify';
import {
  deleteRoute,
  getRoute,
  getRoutes,
  listRoutes,
  namedRoutes,
  patchRoute,
  type RouteToState,
  routesToState,
} from '../../app/routes.ts';
import type { App } from '../../http/deps.ts';
import { MULTIPART } from '../../http/media.ts';
import { pageOf } from '../../http/paging.ts';
import { routeParams } from '../../http/schemas.ts';
import { uploadedPairs } from '../../http/upload.ts';
import { formFaults, isStale, staleFault } from '../fault.ts';
import type { FormFault } from '../field.tsx';
import { recordOf, shownValues, valuesOf } from '../form-table.ts';
import { having } from '../frame.ts';
import { formOf, type PageDeps, page, post, queryOf, seeOther, sendPage } from '../page.ts';
import { routeForm } from '../route-form/form.ts';
import { routeFormPage } from '../route-form/view.tsx';
import { type FileResult, takenFiles } from './upload.tsx';
import { routesPage } from './view.tsx';

const PATH = '/routes';
const ROWS = 50;

/** The routes as a table; sending files, and stating what they cannot say. */
export function routesPages(app: App, { context, frame, cursors }: PageDeps): void {
  async function show(
    request: FastifyRequest,
    reply: FastifyReply,
    results: readonly FileResult[],
    status = 200,
  ): Promise<FastifyReply> {
    const query = queryOf(request);
    const toState = await routesToState(context);
    const isOnlyToState = query.get('show') === 'toState' && toState.length > 0;
    const asked = { limit: ROWS, cursor: query.get('after') };
    const first = toState.slice(0, ROWS).map(({ id }) => id);
    const { rows, next } = isOnlyToState
      ? { rows: await getRoutes(context, first), next: null }
      : await pageOf((part) => listRoutes(context, part), asked, PATH, cursors);
    const total = (await namedRoutes(context)).length;
    const view = { rows, next, total, toState, isOnlyToState, results };
    return sendPage(reply, routesPage(view, frame(request)), status);
  }

  app.get(PATH, page(), (request, reply) => show(request, reply, []));

  app.post(PATH, post(undefined, MULTIPART), async (request, reply) => {
    const results = await takenFiles(await uploadedPairs(request), context, frame(request).units);
    return show(request, reply, results, results.some(({ fault }) => fault === null) ? 200 : 422);
  });

  /** The next route after one, round and round, of which something is to be stated; `null`: no other. */
  async function nextToState(id: string): Promise<RouteToState | null> {
    const toState = await routesToState(context);
    const order = (await namedRoutes(context)).map((one) => one.id);
    const here = order.indexOf(id);
    const others = toState.filter((one) => one.id !== id);
    return others.find((one) => order.indexOf(one.id) > here) ?? others[0] ?? null;
  }

  async function form(
    request: FastifyRequest,
    reply: FastifyReply,
    id: string,
    sent: { readonly fields: URLSearchParams; readonly fault: FormFault; readonly status: number } | null,
  ): Promise<FastifyReply> {
    const pageFrame = frame(request);
    const stored = await getRoute(context, id);
    const { table } = routeForm(stored, pageFrame.units);
    const values = sent ? valuesOf(sent.fields) : shownValues(table, stored.route.attributes);
    const nextName = (await nextToState(id))?.name ?? null;
    const html = routeFormPage(stored, nextName, { values, fault: sent?.fault ?? null }, pageFrame);
    return sendPage(reply, html, sent?.status ?? 200);
  }

  app.get(`${PATH}/:id/edit`, page(routeParams), (request, reply) =>
    form(request, reply, request.params.id, null),
  );

  app.post(`${PATH}/:id/edit`, post(routeParams), async (request, reply) => {
    const { id } = request.params;
    const { to, units } = frame(request);
    const fields = formOf(request);
    const stored = await getRoute(context, id);
    const rules = routeForm(stored, units);
    try {
      const said = recordOf(rules.table, fields, stored.route.attributes);
      await patchRoute(context, id, Number(fields.get('revision')), said);
    } catch (error) {
      if (!isStale(error)) {
        const fault = formFaults(error, fields, rules, units);
        return form(request, reply, id, { fields, fault, status: 422 });
      }
      // Gone is not changed: then there is no form to show again.
      const now = await getRoute(context, id);
      const fault = staleFault(routeForm(now, units).table, fields, now.route.attributes);
      return form(request, reply, id, { fields, fault, status: 412 });
    }
    if (fields.get('then') !== 'next') return seeOther(reply, to(having(`${PATH}/${id}`, 'stored')));
    const next = await nextToState(id);
    return seeOther(
      reply,
      to(next === null ? having(PATH, 'allStated') : having(`${PATH}/${next.id}/edit`, 'storedNext')),
    );
  });

  app.post(`${PATH}/:id/delete`, post(routeParams), async (request, reply) => {
    await deleteRoute(context, request.params.id, null);
    return seeOther(reply, frame(request).to(having(PATH, 'routeDeleted')));
  });
}
