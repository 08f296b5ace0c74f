import type { FastifyReply } from 'fastify';
import type { Page } from '../storage/context.ts';
import type { Cursors } from './cursor.ts';
import type { ResourceDeps } from './deps.ts';
import { DEFAULT_LIMIT, MOST_LIMIT } from './schemas.ts';

interface PageQuery {
  readonly limit?: number | undefined;
  readonly cursor?: string | null | undefined;
}

export const limitOf = ({ limit = DEFAULT_LIMIT }: PageQuery): number => Math.min(limit, MOST_LIMIT);

/** A page of a stored list, and the cursor of the next; `null`: there is none, as one row more was asked for in vain. */
export async function pageOf<T extends { readonly id: string; readonly createdAtMs: number }>(
  list: (page: Page) => Promise<readonly T[]>,
  query: PageQuery,
  scope: string,
  cursors: Cursors,
): Promise<{ readonly rows: readonly T[]; readonly next: string | null }> {
  const limit = limitOf(query);
  const [createdAtMs, id] = query.cursor == null ? [] : cursors.open(scope, query.cursor);
  const after = createdAtMs === undefined ? null : { createdAtMs: Number(createdAtMs), id: String(id) };
  const found = await list({ limit: limit + 1, after });
  const rows = found.slice(0, limit);
  const last = rows.at(-1);
  const hasMore = found.length > rows.length && last !== undefined;
  return { rows, next: hasMore ? cursors.seal(scope, [last.createdAtMs, last.id]) : null };
}

/** The rows of a page, with the `Link` to the next where there is one (RFC 8288). */
export async function linkedRows<T extends { readonly id: string; readonly createdAtMs: number }>(
  list: (page: Page) => Promise<readonly T[]>,
  query: PageQuery,
  path: string,
  reply: FastifyReply,
  deps: ResourceDeps,
): Promise<readonly T[]> {
  const { rows, next } = await pageOf(list, query, path, deps.cursors);
  if (next !== null) linkNext(reply, deps, path, { limit: limitOf(query), cursor: next });
  return rows;
}

export function linkNext(
  reply: FastifyReply,
  { url }: ResourceDeps,
  path: string,
  parameters: Readonly<Record<string, string | number>>,
): void {
  const query = new URLSearchParams(Object.entries(parameters).map(([name, value]) => [name, String(value)]));
  reply.header('link', `<${url(path)}?${query}>; rel="next"`);
}
