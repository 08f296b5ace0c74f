/**
 * Whether a Host header names this service: this machine's own loopback names, or the host of the public URL.
 * A page of another site that points its own name at this machine (DNS rebinding) comes with that name.
 */
export function hostCheck(publicUrl: string): (host: string | undefined) => boolean {
  const publicHost = new URL(publicUrl).hostname;
  return (host) => {
    const name = hostName(host ?? '');
    return (
      name !== null &&
      (name === 'localhost' || name === '[::1]' || name === publicHost || /^127(\.[0-9]{1,3}){3}$/.test(name))
    );
  };
}

function hostName(host: string): string | null {
  if (!/^[A-Za-z0-9.:[\]-]{1,255}$/.test(host)) return null;
  return URL.canParse(`http://${host}`) ? new URL(`http://${host}`).hostname : null;
}
