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
import { HTML_TYPE, MULTIPART } from '../../http/media.ts';
import { routeParams } from '../../http/schemas.ts';
import { uploadedPairs } from '../../http/upload.ts';
import { errorText } from '../../text/errors.ts';
import { noteClause } from '../../text/notes.ts';
import { formFaults, isStale, staleFault } from '../fault.ts';
import type { FormFault, FormValues } from '../field.tsx';
import { FORM, formOf, seeOther } from '../form.ts';
import { valuesOf } from '../form-values.ts';
import { having } from '../frame.ts';
import { PAGE, type PageDeps, queryOf, sendPage } from '../page-deps.ts';
import { routePatch, routeRules, routeValues } from '../route-form/form.ts';
import { routeFormPage, routeLabels } from '../route-form/view.tsx';
import { hintsOf, rowOfRoute } from './route-words.ts';
import { refusedFile, takenFile } from './upload-result.ts';
import type { FileResult } from './upload-results.tsx';
import { routesPage } from './view.tsx';

const PATH = '/routes';
const ROWS = 50;

/**
 * The routes as a table; sending files, and stating what they cannot say.
 * Long because it is a list: one handler after another.
 */
// biome-ignore lint/complexity/noExcessiveLinesPerFunction: a list, one entry after another
export function routesPages(app: App, { context, frame, cursors }: PageDeps): void {
  async function show(
    request: FastifyRequest,
    reply: FastifyReply,
    results: readonly FileResult[],
    status = 200,
  ): Promise<FastifyReply> {
    const pageFrame = frame(request);
    const cursor = queryOf(request).get('after');
    const [createdAtMs, id] = cursor === null ? [] : cursors.open(PATH, cursor);
    const after = createdAtMs === undefined ? null : { createdAtMs: Number(createdAtMs), id: String(id) };
    const toState = await routesToState(context);
    const [first] = toState;
    const isOnlyToState = queryOf(request).get('show') === 'toState' && first !== undefined;
    const rows = isOnlyToState
      ? await getRoutes(
          context,
          toState.slice(0, ROWS).map(({ id }) => id),
        )
      : await listRoutes(context, { limit: ROWS + 1, after });
    const shown = rows.slice(0, ROWS);
    const last = shown.at(-1);
    const view = {
      rows: shown.map((row) => rowOfRoute(row, pageFrame.units)),
      total: (await namedRoutes(context)).length,
      nextPath:
        rows.length > shown.length && last !== undefined
          ? `${PATH}?after=${cursors.seal(PATH, [last.createdAtMs, last.id])}`
          : null,
      toState:
        first === undefined ? null : { count: toState.length, firstId: first.id, firstName: first.name },
      isOnlyToState,
      results,
    };
    return sendPage(reply, routesPage(view, pageFrame), status);
  }

  app.get(PATH, { ...PAGE, schema: { hide: true } }, (request, reply) => show(request, reply, []));

  app.post(
    PATH,
    { config: { produces: [HTML_TYPE], consumes: [MULTIPART] }, schema: { hide: true } },
    async (request, reply) => {
      const { pairs, faults } = await uploadedPairs(request);
      const { units } = frame(request);
      const results: FileResult[] = [];
      for (const pair of pairs) {
        // A browser sends one empty file where none was chosen.
        if (pair.route.fileName !== '' || pair.route.bytes.length > 0)
          results.push(await takenFile(pair, context, units));
      }
      for (const fault of faults) {
        results.push(refusedFile(fault.place.file ?? 'a file', errorText(fault, units)));
      }
      const stored = results.some(({ fault }) => fault === null);
      return show(request, reply, results, stored ? 200 : 422);
    },
  );

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
    sent: { readonly values: FormValues; readonly fault: FormFault; readonly status: number } | null,
  ): Promise<FastifyReply> {
    const pageFrame = frame(request);
    const stored = await getRoute(context, id);
    const { name, attributes, notes } = stored.route;
    const view = {
      id,
      name,
      revision: stored.revision,
      values: sent?.values ?? routeValues(attributes, pageFrame.units),
      closures: attributes.closures?.length ?? 0,
      fault: sent?.fault ?? null,
      hints: hintsOf(stored, pageFrame.units),
      notes: notes.map((note) => noteClause(note, pageFrame.units)),
      nextName: (await nextToState(id))?.name ?? null,
    };
    return sendPage(reply, routeFormPage(view, pageFrame), sent?.status ?? 200);
  }

  app.get(`${PATH}/:id/edit`, { ...PAGE, schema: { hide: true, params: routeParams } }, (request, reply) =>
    form(request, reply, request.params.id, null),
  );

  app.post(
    `${PATH}/:id/edit`,
    { ...FORM, schema: { hide: true, params: routeParams } },
    async (request, reply) => {
      const { id } = request.params;
      const { to, units } = frame(request);
      const fields = formOf(request);
      const { attributes } = (await getRoute(context, id)).route;
      try {
        await patchRoute(context, id, Number(fields.get('revision')), routePatch(fields, attributes, units));
      } catch (error) {
        const values = valuesOf(fields);
        if (!isStale(error)) {
          const fault = formFaults(error, fields, routeRules(attributes, units), units);
          return form(request, reply, id, { values, fault, status: 422 });
        }
        // Gone is not changed: then there is no form to show again.
        const now = (await getRoute(context, id)).route.attributes;
        const labels = routeLabels(units, now.closures?.length ?? 0);
        const fault = staleFault(values, routeValues(now, units), labels);
        return form(request, reply, id, { values, fault, status: 412 });
      }
      if (fields.get('then') !== 'next') return seeOther(reply, to(having(`${PATH}/${id}`, 'stored')));
      const next = await nextToState(id);
      return seeOther(
        reply,
        to(next === null ? having(PATH, 'allStated') : having(`${PATH}/${next.id}/edit`, 'storedNext')),
      );
    },
  );

  app.post(
    `${PATH}/:id/delete`,
    { ...FORM, schema: { hide: true, params: routeParams } },
    async (request, reply) => {
      await deleteRoute(context, request.params.id, null);
      return seeOther(reply, frame(request).to(having(PATH, 'routeDeleted')));
    },
  );
}
