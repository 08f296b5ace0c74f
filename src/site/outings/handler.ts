import type { FastifyReply, FastifyRequest } from 'fastify';
import { addOutingByHand, addOutingOfTrack, deleteOuting, listOutings } from '../../app/days.ts';
import { getCohort } from '../../app/groups.ts';
import { namedRoutes } from '../../app/routes.ts';
import { EngineError } from '../../errors.ts';
import type { App } from '../../http/deps.ts';
import { GPX_TYPE, HTML_TYPE, MULTIPART } from '../../http/media.ts';
import { cohortParams, outingParams } from '../../http/schemas.ts';
import { uploadedForm } from '../../http/upload.ts';
import type { StoredOuting } from '../../storage/outings.ts';
import { noteClause } from '../../text/notes.ts';
import { climbText, durationText, lengthText, plural } from '../../text/words.ts';
import type { UnitSystem } from '../../units.ts';
import { type FormRules, formFaults } from '../fault.ts';
import type { FormFault } from '../field.tsx';
import { FORM, formOf, seeOther } from '../form.ts';
import { textOf, valuesOf } from '../form-values.ts';
import { having, restingOn } from '../frame.ts';
import { PAGE, type PageDeps, queryOf, sendPage } from '../page-deps.ts';
import { dayByHand } from './day-by-hand.ts';
import { handRules, recordedDayOf, TRACK_RULES, trackFault } from './day-rules.ts';
import { type OutingRow, outingFormPage, outingsPage } from './view.tsx';

const EVERY = { limit: 10_000, after: null };
/** Routes offered as the plan of a day, the latest that were sent (design). */
const MOST_ROUTES = 300;

function rowOf({ id, outing }: StoredOuting, units: UnitSystem): OutingRow {
  const { date, distanceM, gainM, movingMin, rockClass, members, source, notes } = outing;
  return {
    id,
    date,
    length: lengthText(distanceM, units),
    climb: gainM === null ? 'not known' : climbText(gainM, units),
    walking: movingMin === null ? 'not known' : durationText(movingMin),
    rockClass: rockClass ?? 'not stated',
    who:
      members === null
        ? 'counts for everyone'
        : members.length > 6
          ? plural(members.length, 'label')
          : members.join(' '),
    source: source === 'track' ? 'a recording' : 'by hand',
    notes: notes.filter(({ code }) => code !== 'treeline-unknown').map((note) => noteClause(note, units)),
  };
}

interface Sent {
  readonly form: URLSearchParams;
  readonly fault: FormFault;
  readonly asksToConfirm: boolean;
}

/**
 * The days that a cohort has walked: the list, and recording one by hand or by file.
 * Long because it is a list: one handler after another.
 */
// biome-ignore lint/complexity/noExcessiveLinesPerFunction: a list, one entry after another
export function outingPages(app: App, { context, frame }: PageDeps): void {
  const ofCohort = { hide: true, params: cohortParams };
  const path = (id: string) => `/cohorts/${id}/outings`;

  app.get('/cohorts/:id/outings', { ...PAGE, schema: ofCohort }, async (request, reply) => {
    const { id } = request.params;
    const pageFrame = frame(request);
    const { cohort } = await getCohort(context, id);
    const outings = [...(await listOutings(context, id, EVERY))].sort((a, b) =>
      b.outing.date.localeCompare(a.outing.date),
    );
    const isNew = queryOf(request).get('new');
    const stored = outings.find((outing) => outing.id === isNew) ?? null;
    const rows = outings.map((outing) => rowOf(outing, pageFrame.units));
    const own = rows.find((row) => row.id === stored?.id);
    const view = {
      cohort: { id, name: cohort.name },
      rows,
      isNew: stored?.id ?? null,
      isTwice: rows.some(
        (row) =>
          own !== undefined &&
          row.id !== own.id &&
          row.date === own.date &&
          row.length === own.length &&
          row.climb === own.climb,
      ),
    };
    return sendPage(reply, outingsPage(view, restingOn(pageFrame, outings)));
  });

  async function show(
    request: FastifyRequest,
    reply: FastifyReply,
    id: string,
    sent: Sent | null,
  ): Promise<FastifyReply> {
    const pageFrame = frame(request);
    const { cohort } = await getCohort(context, id);
    const routes = (await namedRoutes(context)).slice(-MOST_ROUTES);
    const view = {
      cohort: { id, name: cohort.name },
      members: cohort.members ?? [],
      were: sent === null ? (cohort.going ?? []) : sent.form.getAll('members'),
      values: sent === null ? { date: pageFrame.today, trackDate: pageFrame.today } : valuesOf(sent.form),
      asksToConfirm: sent?.asksToConfirm ?? false,
      fault: sent?.fault ?? null,
      routes,
    };
    return sendPage(reply, outingFormPage(view, pageFrame), sent === null ? 200 : 422);
  }

  const refused = (error: unknown, form: URLSearchParams, rules: FormRules, units: UnitSystem): Sent => ({
    form,
    fault: formFaults(error, form, rules, units),
    asksToConfirm: error instanceof EngineError && error.code === 'outing-implausible',
  });

  app.get('/cohorts/:id/outings/new', { ...PAGE, schema: ofCohort }, (request, reply) =>
    show(request, reply, request.params.id, null),
  );

  app.post('/cohorts/:id/outings', { ...FORM, schema: ofCohort }, async (request, reply) => {
    const { id } = request.params;
    const { to, units } = frame(request);
    const form = formOf(request);
    try {
      const outing = await addOutingByHand(context, id, dayByHand(form, units));
      return seeOther(reply, to(`${path(id)}?new=${outing.id}`));
    } catch (error) {
      return show(request, reply, id, refused(error, form, handRules(units), units));
    }
  });

  app.post(
    '/cohorts/:id/outings/file',
    { config: { produces: [HTML_TYPE], consumes: [MULTIPART] }, schema: ofCohort },
    async (request, reply) => {
      const { id } = request.params;
      const { parts, fields: form } = await uploadedForm(request, true);
      try {
        const [file] = parts;
        if (file === undefined || file.bytes.length === 0) {
          throw new EngineError('empty-body', 'no file was chosen: choose a GPX recording', {
            pointer: '/track',
          });
        }
        const outing = await addOutingOfTrack(context, id, {
          bytes: file.bytes,
          mediaType: GPX_TYPE,
          ...recordedDayOf(form),
          routeId: textOf(form, 'routeId'),
        });
        return seeOther(reply, frame(request).to(`${path(id)}?new=${outing.id}`));
      } catch (error) {
        const { members = null } = (await getCohort(context, id)).cohort;
        const all = error instanceof EngineError ? trackFault(error, form, members) : error;
        return show(request, reply, id, refused(all, form, TRACK_RULES, frame(request).units));
      }
    },
  );

  app.post(
    '/cohorts/:id/outings/:outingId/delete',
    { ...FORM, schema: { hide: true, params: outingParams } },
    async (request, reply) => {
      const { id, outingId } = request.params;
      await deleteOuting(context, id, outingId);
      return seeOther(reply, frame(request).to(having(path(id), 'dayErased')));
    },
  );
}
