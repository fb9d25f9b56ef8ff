// Controls of the form. Each knows its path in the draft, shows what is wrong beside
// itself, and never changes what was typed.

import { fill, h } from "../page/dom";
import { t } from "../page/words";
import type { Problem } from "./check";

/** One place of the draft: how it is read and written. */
export interface Place {
  at: string;
  get: () => string;
  set: (s: string) => void;
}

export interface Kit {
  changed: (at: string) => void; // a value has changed
  left: (at: string) => void; // the writer has gone on to the next field
}

/** What is shown of one place. */
export interface Control {
  at: string;
  label: string;
  element: HTMLElement;
  focus: () => void;
  show: (p: Problem | undefined) => void;
}

/** Shows a problem under a control, with buttons that write what would be right. */
function noteUnder(place: Place, put: (s: string) => void): { note: HTMLElement; show: (p: Problem | undefined) => void } {
  const note = h("div", { class: "field-note", id: idOf(place.at) + "-note" });
  const show = (p: Problem | undefined) => {
    if (!p) {
      fill(note);
      return;
    }
    const words = p.unit ? t(`refuse.${p.code}`, { found: p.found }) : t(`record.wrong.${p.code}`, { found: p.found });
    fill(note, h("span", {}, words), p.write.slice(0, 3).map((s) => h("button", { type: "button", class: "offer", click: () => put(s) }, s)));
  };
  return { note, show };
}

/** The id of a place's element. */
export function idOf(at: string): string {
  return "f-" + at.replace(/\./g, "-");
}

export interface LineOptions {
  label: string;
  hint?: string;
  type?: "text" | "date";
  list?: string; // id of a list of suggestions
  long?: boolean; // several lines
  numeric?: boolean;
}

/** A line, or a few, of text. */
export function line(place: Place, kit: Kit, o: LineOptions): Control {
  const id = idOf(place.at);
  const attrs = {
    id,
    autocomplete: "off",
    list: o.list,
    inputmode: o.numeric ? "decimal" : undefined,
    "aria-describedby": `${id}-hint ${id}-note`,
    input: () => {
      place.set(input.value);
      kit.changed(place.at);
    },
    blur: () => kit.left(place.at),
  };
  const input: HTMLInputElement | HTMLTextAreaElement = o.long ? h("textarea", { ...attrs, rows: 4 }) : h("input", { ...attrs, type: o.type ?? "text" });
  input.value = place.get();
  const put = (s: string) => {
    input.value = s;
    place.set(s);
    input.focus();
    kit.changed(place.at);
  };
  const { note, show } = noteUnder(place, put);
  const element = h(
    "div",
    { class: "field" },
    h("label", { for: id }, o.label),
    input,
    h("span", { class: "field-hint", id: id + "-hint" }, o.hint),
    note,
  );
  return { at: place.at, label: o.label, element, focus: () => input.focus(), show: marking(element, input, show) };
}

/** Marks the field as wrong together with its note. */
function marking(element: HTMLElement, input: HTMLElement, show: (p: Problem | undefined) => void): (p: Problem | undefined) => void {
  return (p) => {
    element.classList.toggle("wrong", p !== undefined);
    if (p) input.setAttribute("aria-invalid", "true");
    else input.removeAttribute("aria-invalid");
    show(p);
  };
}

export interface Option {
  value: string;
  label: string;
  lang?: string | undefined;
}

/** A choice from a list; "not recorded" stands first. */
export function choice(place: Place, kit: Kit, label: string, options: readonly Option[]): Control {
  const id = idOf(place.at);
  const all: Option[] = [{ value: "", label: t("extent.not-recorded") }, ...options];
  const change = () => {
    place.set(select.value);
    kit.changed(place.at);
    kit.left(place.at);
  };
  const select = h(
    "select",
    { id, "aria-describedby": id + "-note", change },
    all.map((o) => h("option", { value: o.value, lang: o.lang }, o.label)),
  );
  select.value = place.get();
  const { note, show } = noteUnder(place, (s) => {
    select.value = s;
    change();
  });
  const element = h("div", { class: "field" }, h("label", { for: id }, label), select, note);
  return { at: place.at, label, element, focus: () => select.focus(), show: marking(element, select, show) };
}

/** A choice of which every word is in sight, to be hit with gloves on. */
export function boxes(place: Place, kit: Kit, label: string, options: readonly Option[], blank = t("extent.not-recorded")): Control {
  const id = idOf(place.at);
  const buttons: HTMLInputElement[] = [];
  const all = blank === "" ? options : [{ value: "", label: blank }, ...options];
  const labels = all.map((o, i) => {
    const change = () => {
      place.set(o.value);
      kit.changed(place.at);
      kit.left(place.at);
    };
    const b = h("input", { type: "radio", name: id, id: `${id}-${i}`, value: o.value, change });
    b.checked = place.get() === o.value;
    buttons.push(b);
    return h("label", { class: o.value === "" ? "box blank" : "box", for: `${id}-${i}` }, b, h("span", {}, o.label));
  });
  const { note, show } = noteUnder(place, () => undefined);
  const element = h("fieldset", { class: "field boxes", id, "aria-describedby": id + "-note" }, h("legend", {}, label), h("div", {}, labels), note);
  const focus = () => (buttons.find((b) => b.checked) ?? buttons[0])?.focus();
  return { at: place.at, label, element, focus, show: marking(element, element, show) };
}
