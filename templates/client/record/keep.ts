// A draft kept in the browser, and only while its writer wants it kept.

import type { Choices } from "./choices";
import { adopt, type Draft } from "./draft";

const key = "tankleaf-record";

export class Keeper {
  on = false;
  failed = false; // the browser keeps nothing

  constructor(private readonly c: Choices) {
    this.on = this.read() !== undefined;
  }

  /** The draft that was kept, if there is one. */
  kept(): Draft | undefined {
    return this.read();
  }

  begin(d: Draft): void {
    this.on = true;
    this.keep(d);
  }

  keep(d: Draft): void {
    if (!this.on) return;
    try {
      localStorage.setItem(key, JSON.stringify({ form: 1, draft: d }));
      this.failed = false;
    } catch {
      this.on = false;
      this.failed = true;
    }
  }

  forget(): void {
    this.on = false;
    try {
      localStorage.removeItem(key);
    } catch {
      this.failed = true;
    }
  }

  private read(): Draft | undefined {
    try {
      const text = localStorage.getItem(key);
      const kept = text === null ? undefined : (JSON.parse(text) as { form: number; draft: Partial<Draft> });
      return kept?.form === 1 ? adopt(this.c, kept.draft) : undefined;
    } catch {
      return undefined;
    }
  }
}
