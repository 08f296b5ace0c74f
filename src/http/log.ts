/** What of a request and of an error may stand in the log: nothing that was sent, no label, no address. */

interface LoggedRequest {
  readonly method: string;
  readonly routeOptions: { readonly url?: string | undefined };
}

const PLACE = /^ {4}at .*:\d+:\d+\)?$/;

export const LOG_SERIALIZERS = {
  /** The pattern of the route, not the path or the query: both may hold labels. `null`: no route of ours. */
  req: ({ method, routeOptions }: LoggedRequest) => ({ method, route: routeOptions.url ?? null }),

  /** Kind, code and place. Not the message: it may quote what was sent or stored. */
  err(error: unknown) {
    if (!(error instanceof Error)) return { type: typeof error };
    const stack = (error.stack ?? '').replace(error.message, () => '');
    return {
      type: error.name,
      ...('code' in error && typeof error.code === 'string' ? { code: error.code } : {}),
      at: stack.split('\n').filter((line) => PLACE.test(line)),
    };
  },
};
