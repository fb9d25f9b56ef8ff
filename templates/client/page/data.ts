// Parts of the publication's data come as classic scripts, since a page opened from
// a folder can load nothing else. Each hands itself over by name, with the mark of
// its publication; a part of another publication is not taken.

type Taker = (value: unknown) => void;

const parts = new Map<string, unknown>();
const waiting = new Map<string, Taker[]>();
let edition = "";
let stale: () => void = () => undefined;

declare global {
  interface Window {
    tankleafData: (name: string, mark: string, value: unknown) => void;
  }
}

/** Begins to take parts in. onStale is called when parts of two publications meet. */
export function openData(onStale: () => void): void {
  stale = onStale;
  window.tankleafData = (name, mark, value) => {
    if (mark !== "" && edition === "") edition = mark;
    if (mark !== "" && mark !== edition) {
      stale();
      return;
    }
    parts.set(name, value);
    for (const take of waiting.get(name) ?? []) take(value);
    waiting.delete(name);
  };
}

/** A part that a script of the page has brought, if it is there. */
export function part<T>(name: string): T | undefined {
  return parts.get(name) as T | undefined;
}

/**
 * Loads a part from a folder of scripts; the same one is loaded once. The address
 * names the publication, so that no memory on the way hands out an older part.
 */
export function load<T>(folder: string, name: string): Promise<T> {
  const here = parts.get(name);
  if (here !== undefined) return Promise.resolve(here as T);
  return new Promise((resolve, reject) => {
    const take: Taker = (value) => resolve(value as T);
    const others = waiting.get(name);
    if (others) {
      others.push(take);
      return;
    }
    waiting.set(name, [take]);
    const script = document.createElement("script");
    script.src = `${folder}${name}.js${edition === "" ? "" : "?edition=" + edition}`;
    script.onerror = () => {
      waiting.delete(name);
      reject(new Error("cannot load " + name));
    };
    document.head.appendChild(script);
  });
}
