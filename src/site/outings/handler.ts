import type { FastifyReply, FastifyRequest } from 'fastify';
import { addOutingByHand, addOutingOfTrack, deleteOuting, listOutings } from '../../app/days.ts';
import { getCohort } from '../../app/groups.ts';
import { namedRoutes } from '../../app/routes.ts';
import { EngineError } from '../../errors.ts';
import type { App } from '../../http/deps.ts';
import { GPX_TYPE, MULTIPART } from '../../http/media.ts';
import { cohortParams, outingParams } from '../../http/schemas.ts';
import { uploadedForm } from '../../http/upload.ts';
import { type FormRules, formFaults } from '../fault.ts';
import { valuesOf } from '../form-table.ts';
import { having, restingOn } from '../frame.ts';
import { ALL, formOf, type PageDeps, page, post, queryOf, seeOther, sendPage } from '../page.ts';
import { dayByHand, handRules, recordedDayOf, TRACK_RULES, trackFault } from './form.ts';
import { outingFormPage, outingsPage } from './view.tsx';

/** Routes offered as the plan of a day, the latest that were sent (design). */
const MOST_ROUTES = 300;

const path = (id: string) => `/cohorts/${id}/outings`;

/** The days that a cohort has walked: the list, and recording one by hand or by file. */
export function outingPages(app: App, { context, frame }: PageDeps): void {
  app.get(path(':id'), page(cohortParams), async (request, reply) => {
    const cohort = await getCohort(context, request.params.id);
    const outings = [...(await listOutings(context, cohort.id, ALL))].sort((a, b) =>
      b.outing.date.localeCompare(a.outing.date),
    );
    const isNew = outings.find(({ id }) => id === queryOf(request).get('new')) ?? null;
    return sendPage(reply, outingsPage(cohort, outings, isNew, restingOn(frame(request), outings)));
  });

  async function show(
    request: FastifyRequest,
    reply: FastifyReply,
    id: string,
    sent: { readonly form: URLSearchParams; readonly error: unknown; readonly rules: FormRules } | null,
  ): Promise<FastifyReply> {
    const pageFrame = frame(request);
    const { today, units } = pageFrame;
    const stored = await getCohort(context, id);
    const view = {
      stored,
      were: sent?.form.getAll('members') ?? stored.cohort.going ?? [],
      values: sent === null ? { date: today, trackDate: today } : valuesOf(sent.form),
      fault: sent && formFaults(sent.error, sent.form, sent.rules, units),
      asksToConfirm: sent?.error instanceof EngineError && sent.error.code === 'outing-implausible',
      routes: (await namedRoutes(context)).slice(-MOST_ROUTES),
    };
    return sendPage(reply, outingFormPage(view, pageFrame), sent === null ? 200 : 422);
  }

  app.get(`${path(':id')}/new`, page(cohortParams), (request, reply) =>
    show(request, reply, request.params.id, null),
  );

  app.post(path(':id'), post(cohortParams), async (request, reply) => {
    const { id } = request.params;
    const { to, units } = frame(request);
    const form = formOf(request);
    try {
      const outing = await addOutingByHand(context, id, dayByHand(form, units));
      return seeOther(reply, to(`${path(id)}?new=${outing.id}`));
    } catch (error) {
      return show(request, reply, id, { form, error, rules: handRules(units) });
    }
  });

  app.post(`${path(':id')}/file`, post(cohortParams, MULTIPART), async (request, reply) => {
    const { id } = request.params;
    const { parts, fields: form } = await uploadedForm(request, true);
    try {
      const [file] = parts;
      if (file === undefined || file.bytes.length === 0) {
        throw new EngineError('empty-body', 'no file was chosen: choose a GPX recording', {
          pointer: '/track',
        });
      }
      const sent = { bytes: file.bytes, mediaType: GPX_TYPE, ...recordedDayOf(form) };
      const outing = await addOutingOfTrack(context, id, sent);
      return seeOther(reply, frame(request).to(`${path(id)}?new=${outing.id}`));
    } catch (thrown) {
      const { members = null } = (await getCohort(context, id)).cohort;
      const error = thrown instanceof EngineError ? trackFault(thrown, form, members) : thrown;
      return show(request, reply, id, { form, error, rules: TRACK_RULES });
    }
  });

  app.post(`${path(':id')}/:outingId/delete`, post(outingParams), async (request, reply) => {
    const { id, outingId } = request.params;
    await deleteOuting(context, id, outingId);
    return seeOther(reply, frame(request).to(having(path(id), 'dayErased')));
  });
}
