import type { FastifyReply, FastifyRequest } from 'fastify';
import { addCohort, deleteCohort, eraseAfter, getCohort, putCohort } from '../../app/groups.ts';
import type { App } from '../../http/deps.ts';
import { cohortParams } from '../../http/schemas.ts';
import type { StoredCohort } from '../../storage/cohorts.ts';
import { formFaults, isStale, staleFault } from '../fault.ts';
import type { FormFault } from '../field.tsx';
import { having } from '../frame.ts';
import { formOf, type PageDeps, page, post, seeOther, sendPage } from '../page.ts';
import { cohortForm, cohortOf } from './form.ts';
import { cohortFormPage } from './view.tsx';

export function cohortForms(app: App, { context, frame }: PageDeps): void {
  function show(
    request: FastifyRequest,
    reply: FastifyReply,
    stored: StoredCohort | null,
    sent: { readonly form: URLSearchParams; readonly fault: FormFault; readonly status: number } | null,
  ): FastifyReply {
    const kept = stored && { ...stored, eraseAfter: eraseAfter(context, stored) };
    return sendPage(reply, cohortFormPage(kept, sent, frame(request)), sent?.status ?? 200);
  }

  app.get('/cohorts/new', page(), async (request, reply) => show(request, reply, null, null));

  app.post('/cohorts/new', post(), async (request, reply) => {
    const { to, units } = frame(request);
    const form = formOf(request);
    try {
      const { id } = await addCohort(context, cohortOf(form, null, units));
      return seeOther(reply, to(having(`/cohorts/${id}/outings/new`, 'cohortMade')));
    } catch (error) {
      const fault = formFaults(error, form, cohortForm(null, units), units);
      return show(request, reply, null, { form, fault, status: 422 });
    }
  });

  app.get('/cohorts/:id/edit', page(cohortParams), async (request, reply) =>
    show(request, reply, await getCohort(context, request.params.id), null),
  );

  app.post('/cohorts/:id/edit', post(cohortParams), async (request, reply) => {
    const { id } = request.params;
    const { to, units } = frame(request);
    const form = formOf(request);
    const stored = await getCohort(context, id);
    try {
      await putCohort(context, id, Number(form.get('revision')), cohortOf(form, stored.cohort, units));
      return seeOther(reply, to(having(`/cohorts/${id}`, 'stored')));
    } catch (error) {
      if (!isStale(error)) {
        const fault = formFaults(error, form, cohortForm(stored.cohort, units), units);
        return show(request, reply, stored, { form, fault, status: 422 });
      }
      const now = await getCohort(context, id);
      const fault = staleFault(cohortForm(now.cohort, units).table, form, now.cohort);
      return show(request, reply, now, { form, fault, status: 412 });
    }
  });

  app.post('/cohorts/:id/delete', post(cohortParams), async (request, reply) => {
    await deleteCohort(context, request.params.id, null);
    return seeOther(reply, frame(request).to(having('/', 'cohortErased')));
  });
}
