// What a service worker has that a page has not, as far as it is used here.

export interface Extendable extends Event {
  waitUntil(until: Promise<unknown>): void;
}

export interface Fetching extends Extendable {
  readonly request: Request;
  readonly clientId: string;
  readonly resultingClientId: string;
  respondWith(answer: Promise<Response>): void;
}

export interface Heard extends Extendable {
  readonly data: unknown;
  readonly source: { readonly id: string; postMessage(message: unknown): void } | null;
}

interface Scope {
  readonly registration: ServiceWorkerRegistration;
  readonly clients: { matchAll(o: { includeUncontrolled: boolean }): Promise<readonly { readonly url: string }[]>; claim(): Promise<void> };
  skipWaiting(): Promise<void>;
  addEventListener(kind: "install" | "activate", hear: (e: Extendable) => void): void;
  addEventListener(kind: "fetch", hear: (e: Fetching) => void): void;
  addEventListener(kind: "message", hear: (e: Heard) => void): void;
}

export const worker = self as unknown as Scope;

/** The top of the site. */
export const root = worker.registration.scope;

/** The path of an address inside the site, without its query; undefined outside. */
export function inside(address: string): string | undefined {
  const url = new URL(address);
  url.search = url.hash = "";
  return url.href.startsWith(root) ? decodeURI(url.href.slice(root.length)) : undefined;
}

/** The address of a path inside the site. */
export function at(path: string): string {
  return root + encodeURI(path);
}
