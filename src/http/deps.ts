import type { TypeBoxTypeProvider } from '@fastify/type-provider-typebox';
import type {
  FastifyBaseLogger,
  FastifyInstance,
  RawReplyDefaultExpression,
  RawRequestDefaultExpression,
  RawServerDefault,
} from 'fastify';
import type { Context } from '../app/context.ts';
import type { Store } from '../storage/store.ts';
import type { Surface } from '../terrain/surface.ts';
import type { Cursors } from './cursor.ts';

export interface AppDeps {
  readonly context: Context;
  readonly store: Store;
  readonly surface: Surface;
  /** Base of links, without a slash at the end; never taken from a request. */
  readonly publicUrl: string;
  readonly log?: FastifyBaseLogger;
  readonly loadDemo?: LoadDemo;
  readonly timeouts?: Timeouts;
}

/** Loads the invented range. Gives the path of the page to look at first. */
export type LoadDemo = () => Promise<string | null>;

export interface Timeouts {
  readonly requestMs: number;
  readonly headersMs: number;
  /** How often the two are looked at. */
  readonly checkMs: number;
}

export interface ResourceDeps {
  readonly context: Context;
  readonly cursors: Cursors;
  /** The absolute address of a path. */
  readonly url: (path: string) => string;
}

export type App = FastifyInstance<
  RawServerDefault,
  RawRequestDefaultExpression,
  RawReplyDefaultExpression,
  FastifyBaseLogger,
  TypeBoxTypeProvider
>;

declare module 'fastify' {
  interface FastifyContextConfig {
    /** Media types of the body; without it none is expected. */
    readonly consumes?: readonly string[];
    /** Media types of the answer, the usual one first; without it JSON. */
    readonly produces?: readonly string[];
  }
}
