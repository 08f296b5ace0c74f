import type { FastifyReply, FastifyRequest } from 'fastify';
import { addCohort, deleteCohort, eraseAfter, getCohort, putCohort } from '../../app/groups.ts';
import type { App } from '../../http/deps.ts';
import { cohortParams } from '../../http/schemas.ts';
import type { StoredCohort } from '../../storage/cohorts.ts';
import { formFaults, isStale, staleFault } from '../fault.ts';
import type { FormFault } from '../field.tsx';
import { FORM, formOf, seeOther } from '../form.ts';
import { valuesOf } from '../form-values.ts';
import { having } from '../frame.ts';
import { PAGE, type PageDeps, sendPage } from '../page-deps.ts';
import { cohortOf, cohortRules, cohortValues, emptyVehicles, vehicleRows } from './form.ts';
import { cohortFormPage, cohortLabels } from './view.tsx';

/** Making, changing and erasing cohorts. */
export function cohortForms(app: App, { context, frame }: PageDeps): void {
  function show(
    request: FastifyRequest,
    reply: FastifyReply,
    stored: StoredCohort | null,
    sent: { readonly form: URLSearchParams; readonly fault: FormFault; readonly status: number } | null,
  ): FastifyReply {
    const pageFrame = frame(request);
    const cohort = stored?.cohort ?? null;
    const view = {
      stored:
        stored === null
          ? null
          : {
              id: stored.id,
              name: stored.cohort.name,
              revision: stored.revision,
              eraseAfter: eraseAfter(context, stored),
            },
      values:
        sent !== null ? valuesOf(sent.form) : cohort === null ? {} : cohortValues(cohort, pageFrame.units),
      members: cohort?.members ?? [],
      going: sent !== null ? sent.form.getAll('going') : (cohort?.going ?? []),
      vehicles: vehicleRows(cohort),
      fault: sent?.fault ?? null,
    };
    return sendPage(reply, cohortFormPage(view, pageFrame), sent?.status ?? 200);
  }

  app.get('/cohorts/new', { ...PAGE, schema: { hide: true } }, async (request, reply) =>
    show(request, reply, null, null),
  );

  app.post('/cohorts/new', FORM, async (request, reply) => {
    const { to, units } = frame(request);
    const form = formOf(request);
    try {
      const { id } = await addCohort(context, cohortOf(form, null, units));
      return seeOther(reply, to(having(`/cohorts/${id}/outings/new`, 'cohortMade')));
    } catch (error) {
      const fault = formFaults(error, form, cohortRules(null, units), units);
      return show(request, reply, null, { form, fault, status: 422 });
    }
  });

  const ofCohort = { hide: true, params: cohortParams };

  app.get('/cohorts/:id/edit', { ...PAGE, schema: ofCohort }, async (request, reply) =>
    show(request, reply, await getCohort(context, request.params.id), null),
  );

  app.post('/cohorts/:id/edit', { ...FORM, schema: ofCohort }, async (request, reply) => {
    const { id } = request.params;
    const { to, units } = frame(request);
    const form = formOf(request);
    const stored = await getCohort(context, id);
    try {
      await putCohort(context, id, Number(form.get('revision')), cohortOf(form, stored.cohort, units));
      return seeOther(reply, to(having(`/cohorts/${id}`, 'stored')));
    } catch (error) {
      if (!isStale(error)) {
        const fault = formFaults(error, form, cohortRules(stored.cohort, units), units);
        return show(request, reply, stored, { form, fault, status: 422 });
      }
      const now = await getCohort(context, id);
      const { cohort } = now;
      const fault = staleFault(
        { ...emptyVehicles(cohort), ...valuesOf(form), going: form.getAll('going').join(' ') },
        { ...emptyVehicles(cohort), ...cohortValues(cohort, units), going: (cohort.going ?? []).join(' ') },
        cohortLabels(units, vehicleRows(cohort)),
      );
      return show(request, reply, now, { form, fault, status: 412 });
    }
  });

  app.post('/cohorts/:id/delete', { ...FORM, schema: ofCohort }, async (request, reply) => {
    await deleteCohort(context, request.params.id, null);
    return seeOther(reply, frame(request).to(having('/', 'cohortErased')));
  });
}
