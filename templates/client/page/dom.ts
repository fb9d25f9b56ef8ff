// Elements in few words. Text goes in as text, so nothing that a reader or an
// office wrote is ever read as HTML.

export type Child = Node | string | null | undefined | false | readonly Child[];
type Attrs = Record<string, string | number | boolean | undefined | ((e: Event) => void)>;

/** An element. An attribute that is a function listens; true is an empty attribute; false and undefined are none. */
export function h<K extends keyof HTMLElementTagNameMap>(tag: K, attrs: Attrs = {}, ...children: Child[]): HTMLElementTagNameMap[K] {
  const e = document.createElement(tag);
  for (const [name, value] of Object.entries(attrs)) {
    if (typeof value === "function") e.addEventListener(name, value);
    else if (value === true) e.setAttribute(name, "");
    else if (value !== false && value !== undefined) e.setAttribute(name, String(value));
  }
  append(e, children);
  return e;
}

function append(e: Node, children: readonly Child[]): void {
  for (const c of children) {
    if (c === null || c === undefined || c === false) continue;
    if (Array.isArray(c)) append(e, c as readonly Child[]);
    else e.appendChild(typeof c === "string" ? document.createTextNode(c) : (c as Node));
  }
}

/** Puts new children into an element in place of the old. */
export function fill(e: Element, ...children: Child[]): void {
  const box = document.createDocumentFragment();
  append(box, children);
  e.replaceChildren(box);
}

/**
 * Makes an element's children what they would be after fill, touching only what
 * differs, so that a browser lays out no more than it must. For children that do not
 * listen: those that stay keep their old listeners.
 */
export function patch(e: Element, ...children: Child[]): void {
  const box = document.createDocumentFragment();
  append(box, children);
  morph(e, box);
}

function morph(old: ParentNode & Node, now: ParentNode & Node): void {
  const had = [...old.childNodes];
  const have = [...now.childNodes];
  have.forEach((node, i) => {
    const there = had[i];
    if (!there) old.appendChild(node);
    else if (there.isEqualNode(node)) return;
    else if (there instanceof Element && node instanceof Element && alike(there, node)) morph(there, node);
    else if (there instanceof Text && node instanceof Text) {
      if (there.data !== node.data) there.data = node.data;
    } else old.replaceChild(node, there);
  });
  for (const rest of had.slice(have.length)) old.removeChild(rest);
}

/** Whether two elements differ in nothing but their children. */
function alike(a: Element, b: Element): boolean {
  if (a.tagName !== b.tagName || a.attributes.length !== b.attributes.length) return false;
  for (const x of a.attributes) if (b.getAttribute(x.name) !== x.value) return false;
  return true;
}

/** The element of an id that the page must have. */
export function byId<T extends HTMLElement = HTMLElement>(id: string): T {
  const e = document.getElementById(id);
  if (!e) throw new Error("no element " + id);
  return e as T;
}

const svg = "http://www.w3.org/2000/svg";

/** The mark of a verdict, from the drawings that every page holds. */
export function mark(verdict: string): SVGElement {
  const e = document.createElementNS(svg, "svg");
  e.setAttribute("class", "mark");
  e.setAttribute("aria-hidden", "true");
  const use = document.createElementNS(svg, "use");
  use.setAttribute("href", "#mark-" + verdict);
  e.appendChild(use);
  return e;
}

/** A text of the office, with its language when it is not the page's. */
export function say(p: { text: string; lang?: string }): Child {
  return p.lang ? h("span", { lang: p.lang }, p.text) : p.text;
}
