import type { Page } from 'playwright-core';

/** A node of the tree that a browser gives to a screen reader. */
export interface Heard {
  readonly role: string;
  readonly name: string;
  readonly description: string;
  readonly valueText: string;
  readonly url: string;
}

interface TreeNode {
  readonly ignored: boolean;
  readonly role?: { readonly value: string };
  readonly name?: { readonly value: string };
  readonly description?: { readonly value: string };
  readonly value?: { readonly value: unknown };
  readonly properties?: readonly { readonly name: string; readonly value: { readonly value?: unknown } }[];
}

export async function heardOn(page: Page): Promise<readonly Heard[]> {
  const session = await page.context().newCDPSession(page);
  try {
    const { nodes } = (await session.send('Accessibility.getFullAXTree')) as unknown as {
      readonly nodes: readonly TreeNode[];
    };
    return nodes
      .filter(({ ignored }) => !ignored)
      .map(({ role, name, description, value, properties = [] }) => {
        const property = (key: string) =>
          String(properties.find((one) => one.name === key)?.value.value ?? '');
        return {
          role: role?.value ?? '',
          name: (name?.value ?? '').replace(/\s+/g, ' ').trim(),
          description: description?.value ?? '',
          valueText: property('valuetext') || String(value?.value ?? ''),
          url: property('url'),
        };
      });
  } finally {
    await session.detach();
  }
}

/** Names that stand for more than one thing on a page. */
export function ambiguous(all: readonly (readonly [name: string, thing: string])[]): string[] {
  const things = new Map<string, Set<string>>();
  for (const [name, thing] of all) things.set(name, (things.get(name) ?? new Set()).add(thing));
  return [...things].filter(([, meant]) => meant.size > 1).map(([name]) => name);
}

/** Regions whose changes are read out. */
export const LIVE = '[role=status], [role=alert], [aria-live], output';
