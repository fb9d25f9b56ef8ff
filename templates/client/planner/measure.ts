// The amounts on the page: load card and jar, or what is still missing for them.

import type { Verdict } from "../compat/book";
import { never } from "../compat/book";
import { type Plan, plan } from "../jar/load";
import { Problems } from "../jar/problem";
import type { Product } from "../jar/product";
import { recipe } from "../jar/recipe";
import type { Step } from "../jar/order";
import { copyButton } from "../page/copy";
import { type Child, fill, h, patch } from "../page/dom";
import type { Field } from "../page/field";
import { list, t } from "../page/words";
import { none, type System } from "../unit/quantity";
import { firstWaterShare, jarRequestOf, type Job, loadRequestOf, stepsOf } from "./amounts";
import { jarTable, loadFacts, LoadTable } from "./card";
import { conflicting } from "../compat/conflict";
import { type Form, valueOf } from "./form";
import type { Telling } from "./telling";

/** The products of the plan by name; undefined where the rate is missing or cannot be read, and where this publication does not have them. */
export type Measured = readonly { name: string; gone: boolean; product: Product | undefined }[];

export class Amounts {
  readonly loads: HTMLElement;
  readonly jar: HTMLElement;
  private readonly facts = h("div", {});
  private readonly table = h("div", {});
  private readonly given = h("p", { class: "card-given" });
  private readonly inLoads = h("div", { class: "plan-loads" }, this.facts, this.table);
  private loadTable: LoadTable | undefined; // on the page
  private readonly print = h("button", { type: "button", class: "act", click: () => window.print() }, t("load.print"));
  private readonly inJar = h("div", { class: "plan-jar" });
  private shown: [loads: string, jar: string] = ["", ""]; // what the amounts on the page are of
  private later = 0;
  private laterGiven = 0;
  private readonly steps: Step[];

  constructor(
    private readonly tell: Telling,
    private readonly form: Form,
    private readonly keep: () => void, // writes the plan into the address
  ) {
    this.steps = stepsOf(tell.book);
    const copy = copyButton({ label: t("planner.copy"), copied: t("planner.copied"), byHand: t("planner.copy-by-hand"), address: () => this.whole() });
    this.loads = h("section", { class: "load-card", "aria-labelledby": "loads" }, h("h2", { id: "loads" }, t("load.title")), this.given, this.inLoads, h("p", { class: "no-print card-tools" }, this.print, copy));
    this.jar = h("section", { class: "plan-jar-section", "aria-label": t("planner.jar-title") }, h("h2", {}, t("planner.jar-title")), form.fields.jar.element, this.inJar);
  }

  /** The address of the page with the whole plan in it. */
  private whole(): string {
    this.keep();
    return location.href;
  }

  /** Shows the amounts of a mix with its verdict. What may not share a tank gets no card. */
  show(products: Measured, verdict: Verdict, system: System): void {
    const [loads, jar] = this.keys(products, verdict, system);
    const job = this.job(products);
    window.clearTimeout(this.laterGiven);
    this.laterGiven = window.setTimeout(() => this.showGiven(), 0);
    if (loads !== this.shown[0]) this.showLoads(products, job, verdict, system);
    if (jar !== this.shown[1]) {
      this.jar.setAttribute("aria-busy", "true");
      window.clearTimeout(this.later);
      this.later = window.setTimeout(() => this.showJar(job, verdict, system), 0);
    }
    this.shown = [loads, jar];
  }

  private showLoads(products: Measured, job: Job | string, verdict: Verdict, system: System): void {
    this.loads.hidden = this.jar.hidden = products.length === 0;
    const stop = verdict >= conflicting && [h("p", { class: "note stop" }, verdict === never ? t("load.stop-never") : t("load.stop-apart"))];
    const made = stop || this.planOf(job);
    this.print.hidden = Array.isArray(made);
    if (Array.isArray(made)) this.showWhyNot(made);
    else this.showPlan(made, system);
  }

  /** Says what the verdict on the card was judged for: in another water it may be another. It waits for the answer to be seen. */
  private showGiven(): void {
    const given = this.form.given();
    const words = given.length > 0 ? t("load.judged-for", { what: given.join("; ") }) : t("load.judged-worst");
    if (this.given.textContent !== words) this.given.textContent = words;
  }

  private showWhyNot(notes: readonly HTMLElement[]): void {
    this.loadTable = undefined;
    fill(this.facts, notes);
    fill(this.table);
  }

  private showPlan(plan: Plan, system: System): void {
    patch(this.facts, handFields(), loadFacts(plan, system));
    if (this.loadTable?.take(plan, system)) return;
    this.loadTable = new LoadTable(this.tell, plan, system);
    fill(this.table, this.loadTable.element);
  }

  /** The jar stands far down the page and may wait for the answer to be seen. */
  private showJar(job: Job | string, verdict: Verdict, system: System): void {
    patch(this.inJar, verdict === never ? h("p", { class: "note stop" }, t("load.stop-jar")) : this.jarOf(job, system));
    this.jar.removeAttribute("aria-busy");
  }

  /** All that the loads, and that the jar, depend on. */
  private keys(products: Measured, verdict: Verdict, system: System): [string, string] {
    const f = this.form.fields;
    const texts = (...fields: Field<unknown>[]): string[] => fields.map((field) => field.text);
    const rates = products.map((p) => `${p.name} ${p.product ? p.product.rate.text() : "?"} ${p.product?.range.map((r) => r.text()).join("-")}`);
    const both = [...rates, f.spray.text, Math.max(verdict, conflicting - 1), system].join("|");
    return [both + "|" + texts(f.area, f.tank, f.fill, f.minimum, f.heel).join("|"), both + "|" + f.jar.text];
  }

  /** What the arithmetic works on, or what is missing for it. */
  private job(products: Measured): Job | string {
    const gone = products.filter((p) => p.gone).map((p) => p.name);
    if (gone.length > 0) return t("load.gone", { names: list(gone) });
    const missing = products.filter((p) => p.product === undefined).map((p) => p.name);
    if (missing.length > 0) return t("load.no-rate", { names: list(missing) });
    const spray = this.form.fields.spray.check();
    if (spray.is === "wrong") return t("load.wrong-field", { field: t("planner.spray") });
    return {
      products: products.map((p) => p.product!),
      steps: this.steps,
      firstWater: firstWaterShare(this.tell.book),
      sprayVolume: spray.is === "value" ? spray.value : none("depth"),
    };
  }

  /** The loads, or why there are none. */
  private planOf(job: Job | string): Plan | HTMLElement[] {
    const missing = typeof job === "string" ? job : this.missing();
    if (missing !== "" || typeof job === "string") return [h("p", { class: "note" }, missing)];
    const f = this.form.fields;
    const [maxFill, minimum, heel] = [f.fill, f.minimum, f.heel].map((field) => valueOf(field.check()));
    const limits = { ...(maxFill && { maxFill }), ...(minimum && { minimum }), ...(heel && { heel }) };
    return worked(() => plan(loadRequestOf(job, valueOf(f.area.check())!, valueOf(f.tank.check())!, limits)));
  }

  /** The first field that the loads need and that is empty or cannot be read, in words. */
  private missing(): string {
    for (const key of ["area", "spray", "tank", "fill", "minimum", "heel"] as const) {
      const r = this.form.fields[key].check();
      if (r.is === "wrong") return t("load.wrong-field", { field: t(`planner.${key}`) });
      if (r.is === "empty" && ["area", "spray", "tank"].includes(key)) return t("load.give", { field: t(`planner.${key}`) });
    }
    return "";
  }

  private jarOf(job: Job | string, system: System): Child {
    if (typeof job === "string") return h("p", { class: "note" }, job);
    const r = this.form.fields.jar.check();
    if (r.is !== "value") {
      const field = t("planner.jar");
      return h("p", { class: "note" }, r.is === "wrong" ? t("load.wrong-field", { field }) : t("load.give", { field }));
    }
    return worked(() => [jarTable(this.tell, recipe(jarRequestOf(job, r.value)), system), h("p", { class: "quiet" }, t("planner.jar-how"))]);
  }
}

/** Does the arithmetic, or says why it cannot be done. */
function worked<T>(work: () => T): T | HTMLElement[] {
  try {
    return work();
  } catch (e) {
    if (!(e instanceof Problems)) throw e;
    return e.list.map((p) => h("p", { class: "note" }, t(`problem.${p.code}`, { product: p.product })));
  }
}

/** Lines to fill in by hand on the printed card. */
function handFields(): Child {
  return h("p", { class: "only-print by-hand" }, [t("load.date"), t("load.field"), t("load.by")].map((label) => h("span", {}, label)));
}

