// The observation form: keeps draft, messages and record in step. What is typed stays
// in the page; it is kept in the browser only while its writer has said so.

import { openData, part } from "../page/data";
import { byId, fill, h } from "../page/dom";
import { t, takeMessages } from "../page/words";
import { check, type Problem } from "./check";
import type { Choices } from "./choices";
import { type Draft, emptyDraft, fromAddress, newID } from "./draft";
import { Form } from "./form";
import { Keeper } from "./keep";
import { Result } from "./result";

class RecordPage {
  private form: Form;
  private readonly result: Result;
  private readonly touched = new Set<string>();
  private dirty = false;

  constructor(
    root: HTMLElement,
    private readonly c: Choices,
    private draft: Draft,
    private readonly keeper: Keeper,
  ) {
    this.form = this.newForm();
    this.result = new Result(root.dataset["mail"] ?? "", () => (this.dirty = false), (at) => this.goTo(at));
    fill(root, h("div", { class: "record-grid" }, this.form.element, h("div", { class: "record-out" }, this.keeping(), this.result.element)));
    this.update();
    window.addEventListener("beforeunload", (e) => {
      if (this.dirty && !this.keeper.on) e.preventDefault();
    });
  }

  private newForm(): Form {
    return new Form(this.draft, this.c, {
      changed: () => {
        this.dirty = true;
        this.update();
      },
      left: (at) => {
        this.touched.add(at);
        this.update();
      },
    });
  }

  /** The box that says whether what is typed is kept, and lets it be forgotten. */
  private keeping(): HTMLElement {
    const box = h("input", { type: "checkbox", id: "keep" });
    box.checked = this.keeper.on;
    const said = h("p", { class: "quiet", "aria-live": "polite" });
    const tell = () => fill(said, this.keeper.failed ? t("record.keep-failed") : this.keeper.on ? t("record.kept") : t("record.not-kept"));
    box.addEventListener("change", () => {
      if (box.checked) this.keeper.begin(this.draft);
      else this.keeper.forget();
      box.checked = this.keeper.on;
      tell();
    });
    tell();
    const again = h("button", { type: "button", class: "remove", click: () => this.startOver() }, t("record.start-over"));
    return h("div", { class: "keeping" }, h("label", { class: "tick", for: "keep" }, box, h("span", {}, t("record.keep"))), said, again);
  }

  private startOver(): void {
    if (this.dirty && !window.confirm(t("record.start-over-sure"))) return;
    this.draft = emptyDraft(this.c, newID(today(), Math.random));
    this.touched.clear();
    const old = this.form.element;
    this.form = this.newForm();
    old.replaceWith(this.form.element);
    this.dirty = false;
    this.update();
  }

  private update(): void {
    const problems = check(this.draft, this.c, today());
    const by = new Map(problems.map((p) => [p.at, p]));
    for (const control of this.form.controls) control.show(this.touched.has(control.at) ? by.get(control.at) : undefined);
    this.result.show(this.draft, this.c, problems, (p) => this.labelOf(p));
    this.keeper.keep(this.draft);
  }

  private labelOf(p: Problem): string {
    return this.form.controls.find((c) => c.at === p.at)?.label ?? t("record.readings");
  }

  /** Goes to a field and shows what is wrong there. */
  private goTo(at: string): void {
    this.touched.add(at);
    const control = this.form.controls.find((c) => c.at === at);
    for (let e = control?.element.parentElement; e; e = e.parentElement) if (e instanceof HTMLDetailsElement) e.open = true;
    if (control) control.focus();
    else byId("f-readings").focus();
    this.update();
  }
}

/** The reader's own day, year-month-day. */
function today(): string {
  const now = new Date();
  const two = (n: number) => String(n).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

function start(): void {
  const root = byId("record");
  const messages = part<Record<string, string>>("messages");
  const choices = part<Choices>("choices");
  if (!messages || !choices || choices.schema !== 1) return; // the page stays as it is without a script
  takeMessages(messages);
  const keeper = new Keeper(choices);
  const fresh = fromAddress(emptyDraft(choices, newID(today(), Math.random)), location.search);
  new RecordPage(root, choices, location.search.length > 1 ? fresh : (keeper.kept() ?? fresh), keeper);
}

openData(() => undefined);
document.addEventListener("DOMContentLoaded", start);
