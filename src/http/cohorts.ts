import {
  addCohort,
  deleteCohort,
  eraseAfter,
  eraseMember,
  exportCohort,
  getCohort,
  listCohorts,
  putCohort,
} from '../app/groups.ts';
import { isObject } from '../ingest/json-text.ts';
import { closed } from '../schema.ts';
import type { Page } from '../storage/context.ts';
import { bodyJson } from './body.ts';
import { checkIfMatch, notModified, strongTag } from './conditional.ts';
import type { App, ResourceDeps } from './deps.ts';
import { linkedRows } from './paging.ts';
import { answers, cohortParams, ifMatchHeader, jsonOf, memberParams, pageQuery } from './schemas.ts';
import { STORE_FIELDS, viewOfCohort, viewOfExport } from './views.ts';

const PATH = '/v1/cohorts';
const tags = ['cohorts'];
const json = ['application/json'];

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

  app.post(
    PATH,
    {
      config: { consumes: json },
      schema: {
        operationId: 'addCohort',
        summary: 'Add a cohort, with outings entered by hand if there are any',
        tags,
        body: { content: jsonOf('CohortInput') },
        response: answers({ 201: ['stored', 'Cohort'] }),
      },
    },
    async (request, reply) => {
      const cohort = await addCohort(context, bodyJson(request, 'bad-cohort'));
      reply.code(201).header('location', url(`${PATH}/${cohort.id}`));
      reply.header('etag', strongTag(cohort.id, cohort.revision));
      return viewOfCohort(cohort, eraseAfter(context, cohort));
    },
  );

  app.get(
    PATH,
    {
      schema: {
        operationId: 'listCohorts',
        summary: 'All cohorts, in the order in which they came',
        tags,
        querystring: closed(pageQuery),
        response: answers({ 200: ['a page of cohorts; Link leads to the next', 'Cohorts'] }),
      },
    },
    async (request, reply) => {
      const list = (page: Page) => listCohorts(context, page);
      const rows = await linkedRows(list, request.query, PATH, reply, deps);
      return { cohorts: rows.map((row) => viewOfCohort(row, eraseAfter(context, row))) };
    },
  );

  app.get(
    `${PATH}/:id`,
    {
      schema: {
        operationId: 'getCohort',
        summary: 'One cohort',
        tags,
        params: cohortParams,
        response: answers({ 200: ['the cohort', 'Cohort'], 304: ['not changed', null] }),
      },
    },
    async (request, reply) => {
      const cohort = await getCohort(context, request.params.id);
      if (notModified(request, reply, strongTag(cohort.id, cohort.revision))) return reply;
      return viewOfCohort(cohort, eraseAfter(context, cohort));
    },
  );

  app.get(
    `${PATH}/:id/export`,
    {
      schema: {
        operationId: 'exportCohort',
        summary: 'For leaders: everything that is stored of a cohort, to answer a family that asks',
        tags,
        params: cohortParams,
        response: answers({ 200: ['the cohort and its outings as they are stored', 'CohortExport'] }),
      },
    },
    async (request) => {
      const { cohort, outings } = await exportCohort(context, request.params.id);
      return viewOfExport(cohort, outings, eraseAfter(context, cohort));
    },
  );

  app.put(
    `${PATH}/:id`,
    {
      config: { consumes: json },
      schema: {
        operationId: 'putCohort',
        summary: 'Replace a cohort; its outings stay, without labels that it no longer holds',
        tags,
        headers: ifMatchHeader,
        params: cohortParams,
        body: { content: jsonOf('CohortChange') },
        response: answers({ 200: ['the changed cohort', 'Cohort'] }),
      },
    },
    async (request, reply) => {
      const { id } = request.params;
      const { revision } = await getCohort(context, id);
      checkIfMatch(request, strongTag(id, revision), true);
      const body = withoutStoreFields(bodyJson(request, 'bad-cohort'));
      const changed = await putCohort(context, id, revision, body);
      reply.header('etag', strongTag(id, changed.revision));
      return viewOfCohort(changed, eraseAfter(context, changed));
    },
  );

  app.delete(
    `${PATH}/:id`,
    {
      schema: {
        operationId: 'deleteCohort',
        summary: 'Erase a cohort and its outings',
        tags,
        params: cohortParams,
        response: answers({ 204: ['erased', null] }),
      },
    },
    async (request, reply) => {
      const { id } = request.params;
      const { revision } = await getCohort(context, id);
      const held = checkIfMatch(request, strongTag(id, revision), false);
      await deleteCohort(context, id, held ? revision : null);
      return reply.code(204).send();
    },
  );

  app.delete(
    `${PATH}/:id/members/:label`,
    {
      schema: {
        operationId: 'eraseMember',
        summary: 'Erase one label from a cohort and its outings',
        tags,
        params: memberParams,
        response: answers({ 204: ['erased', null] }),
      },
    },
    async (request, reply) => {
      const { id, label } = request.params;
      await getCohort(context, id);
      await eraseMember(context, id, label);
      return reply.code(204).send();
    },
  );
}
