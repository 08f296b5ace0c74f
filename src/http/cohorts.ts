import {
  addCohort,
  deleteCohort,
  eraseAfter,
  eraseMember,
  exportCohort,
  getCohort,
  listCohorts,
  putCohort,
  shownBy,
} from '../app/groups.ts';
import { isObject } from '../ingest/json-text.ts';
import { closed } from '../schema.ts';
import type { StoredCohort } from '../storage/cohorts.ts';
import type { Page } from '../storage/context.ts';
import { bodyJson } from './body.ts';
import { checkIfMatch, notModified, strongTag } from './conditional.ts';
import type { App, ResourceDeps } from './deps.ts';
import { linkedRows } from './paging.ts';
import {
  cohortParams,
  dateQuery,
  ifMatchHeader,
  memberParams,
  operation,
  pageQuery,
  taking,
  UNCHANGED,
} from './schemas.ts';
import { STORE_FIELDS, viewOfCohort, viewOfExport } from './views.ts';

const PATH = '/v1/cohorts';

/** A body as GET gave it may be sent back: the fields that the store keeps itself are left out. */
function withoutStoreFields(body: unknown): unknown {
  if (!isObject(body)) return body;
  return Object.fromEntries(Object.entries(body).filter(([name]) => !STORE_FIELDS.includes(name)));
}

/**
 * The groups. Members are labels, the meeting place is kept to 0.01°.
 * Long because it is a list: every address stands beside its schema.
 */
// biome-ignore lint/complexity/noExcessiveLinesPerFunction: a list, one entry after another
export function cohortResource(app: App, deps: ResourceDeps): void {
  const { context, url } = deps;
  const view = (cohort: StoredCohort) => viewOfCohort(cohort, eraseAfter(context, cohort));

  const add = 'Add a cohort, with outings entered by hand if there are any';
  app.post(
    PATH,
    taking('CohortInput', operation('cohorts', 'addCohort', add, { 201: ['stored', 'Cohort'] })),
    async (request, reply) => {
      const cohort = await addCohort(context, bodyJson(request, 'bad-cohort'));
      reply.code(201).header('location', url(`${PATH}/${cohort.id}`));
      reply.header('etag', strongTag(cohort.id, cohort.revision));
      return view(cohort);
    },
  );

  app.get(
    PATH,
    operation(
      'cohorts',
      'listCohorts',
      'All cohorts, in the order in which they came',
      { 200: ['a page of cohorts; Link leads to the next', 'Cohorts'] },
      { querystring: closed(pageQuery) },
    ),
    async (request, reply) => {
      const list = (page: Page) => listCohorts(context, page);
      return { cohorts: (await linkedRows(list, request.query, PATH, reply, deps)).map(view) };
    },
  );

  const one = { 200: ['the cohort', 'Cohort'], 304: UNCHANGED } as const;
  app.get(
    `${PATH}/:id`,
    operation('cohorts', 'getCohort', 'One cohort', one, { params: cohortParams }),
    async (request, reply) => {
      const cohort = await getCohort(context, request.params.id);
      if (notModified(request, reply, strongTag(cohort.id, cohort.revision))) return reply;
      return view(cohort);
    },
  );

  app.get(
    `${PATH}/:id/export`,
    operation(
      'cohorts',
      'exportCohort',
      'For leaders: everything that is stored of a cohort, to answer a family that asks',
      { 200: ['the cohort and its outings as they are stored', 'CohortExport'] },
      { params: cohortParams },
    ),
    async (request) => {
      const { cohort, outings } = await exportCohort(context, request.params.id);
      return viewOfExport(cohort, outings, eraseAfter(context, cohort));
    },
  );

  app.get(
    `${PATH}/:id/shown`,
    operation(
      'cohorts',
      'getShown',
      'For leaders: what a cohort has shown, who limits it, and its pace',
      { 200: ['what has been shown; not for other readers', 'Shown'] },
      { params: cohortParams, querystring: closed(dateQuery) },
    ),
    // The only answer that says whose label limits what.
    (request) => shownBy(context, request.params.id, request.query.date),
  );

  app.put(
    `${PATH}/:id`,
    taking(
      'CohortChange',
      operation(
        'cohorts',
        'putCohort',
        'Replace a cohort; its outings stay, without labels that it no longer holds',
        { 200: ['the changed cohort', 'Cohort'] },
        { headers: ifMatchHeader, params: cohortParams },
      ),
    ),
    async (request, reply) => {
      const { id } = request.params;
      const { revision } = await getCohort(context, id);
      checkIfMatch(request, strongTag(id, revision), true);
      const body = withoutStoreFields(bodyJson(request, 'bad-cohort'));
      const changed = await putCohort(context, id, revision, body);
      reply.header('etag', strongTag(id, changed.revision));
      return view(changed);
    },
  );

  const erased = { 204: ['erased', null] } as const;
  app.delete(
    `${PATH}/:id`,
    operation('cohorts', 'deleteCohort', 'Erase a cohort and its outings', erased, { params: cohortParams }),
    async (request, reply) => {
      const { id } = request.params;
      const { revision } = await getCohort(context, id);
      const held = checkIfMatch(request, strongTag(id, revision), false);
      await deleteCohort(context, id, held ? revision : null);
      return reply.code(204).send();
    },
  );

  const eraseLabel = 'Erase one label from a cohort and its outings';
  app.delete(
    `${PATH}/:id/members/:label`,
    operation('cohorts', 'eraseMember', eraseLabel, erased, { params: memberParams }),
    async (request, reply) => {
      const { id, label } = request.params;
      await getCohort(context, id);
      await eraseMember(context, id, label);
      return reply.code(204).send();
    },
  );
}
