import { EngineError } from '../errors.ts';
import { quote } from '../ingest/quote.ts';
import { type Message, message } from '../message.ts';

const LOOPBACK = new Set(['127.0.0.1', '[::1]', 'localhost']);

const refuse = (what: Message): EngineError => new EngineError('dem-host', what);

/** Whether a path given for tiles is an address on the net. */
export const isAddress = (path: string): boolean => /^https?:\/\//i.test(path);

/**
 * An address that may be read: https (plain http on this machine alone), without a name and password in it, at a host
 * of the list. The list alone counts: what a name resolves to is the business of whoever lists it.
 * @param hosts as in addresses: `tiles.example.org`, with the port where it is not the usual one.
 * @throws EngineError `dem-host`
 */
export function allowedAddress(address: string, hosts: readonly string[]): URL {
  const url = URL.canParse(address) ? new URL(address) : null;
  const shown = quote(address.replace(/\/\/[^/@]*@/, '//'), 120);
  if (url === null) throw refuse(message`${shown} is no address: write https://HOST/PATH.tif`);
  if (url.protocol !== 'https:' && !(url.protocol === 'http:' && LOOPBACK.has(url.hostname)))
    throw refuse(message`${shown} is not read: tiles come over https`);
  if (url.username !== '' || url.password !== '')
    throw refuse(message`${shown} holds a name or password: leave it out`);
  if (!hosts.includes(url.host))
    throw refuse(
      message`${shown} is not read: its host is not on the list; add ${url.host} to KRUMMHOLZ_DEM_HOSTS if you trust it`,
    );
  return url;
}
