import type { FastifyReply } from 'fastify';
import type { Page } from '../storage/context.ts';
import type { ResourceDeps } from './deps.ts';
import { DEFAULT_LIMIT, MOST_LIMIT } from './schemas.ts';

export interface PageQuery {
  readonly limit?: number | undefined;
  readonly cursor?: string | undefined;
}

export const limitOf = ({ limit }: PageQuery): number => Math.min(limit ?? DEFAULT_LIMIT, MOST_LIMIT);

/** The page of a stored list that is asked for. One row more is fetched than shown: whether there is a next page. */
export function pageOf(query: PageQuery, scope: string, { cursors }: ResourceDeps): Page {
  const limit = limitOf(query) + 1;
  if (query.cursor === undefined) return { limit, after: null };
  const [createdAtMs, id] = cursors.open(scope, query.cursor);
  return { limit, after: { createdAtMs: Number(createdAtMs), id: String(id) } };
}

/** The rows to show, with the `Link` to the next page where there is one (RFC 8288). */
export function shownRows<T extends { readonly id: string; readonly createdAtMs: number }>(
  rows: readonly T[],
  query: PageQuery,
  path: string,
  reply: FastifyReply,
  deps: ResourceDeps,
): readonly T[] {
  const shown = rows.slice(0, limitOf(query));
  const last = shown.at(-1);
  if (rows.length > shown.length && last !== undefined) {
    linkNext(reply, deps, path, {
      limit: limitOf(query),
      cursor: deps.cursors.seal(path, [last.createdAtMs, last.id]),
    });
  }
  return shown;
}

export function linkNext(
  reply: FastifyReply,
  { url }: ResourceDeps,
  path: string,
  parameters: Readonly<Record<string, string | number>>,
): void {
  const query = new URLSearchParams();
  for (const [name, value] of Object.entries(parameters)) query.set(name, String(value));
  reply.header('link', `<${url(path)}?${query}>; rel="next"`);
}
