// What is loaded of the publication's data beyond the core: labels and jars of
// products, what rules say, who serves which purpose.

import { type Book } from "../compat/book";
import type { Product as Label, Shard, Uses } from "../compat/json";
import { Purposes } from "../compat/whatif";
import { load } from "../page/data";
import type { Saying, Says } from "./json";

export interface StoreOptions {
  shared: string; // folder of what all editions share
  own: string; // folder of this edition
  grown: () => void; // more is known of products
  said: () => void; // more is known of what rules say
  failed: () => void;
}

export class Store {
  readonly labels = new Map<number, Label>();
  private readonly shards = new Set<number>(); // asked for
  private readonly says = new Map<number, Saying>();
  private readonly saysAsked = new Set<number>();
  private served: Purposes | undefined;
  failing = false; // who serves which purpose did not load

  constructor(
    private readonly book: Book,
    private readonly o: StoreOptions,
  ) {}

  /** Whether all that is known of a product is here. */
  knows(place: number): boolean {
    return place < 0 || this.labels.has(place);
  }

  /** Loads what is known of some products. */
  async products(places: readonly number[]): Promise<void> {
    const shards = new Set(places.filter((p) => p >= 0).map((p) => Math.floor(p / this.book.core.per_shard)));
    await Promise.all([...shards].map((n) => this.shard(n)));
  }

  private async shard(n: number): Promise<void> {
    const asked = this.shards.has(n);
    this.shards.add(n);
    try {
      const shard = await load<Shard>(this.o.shared, `products-${n}`);
      if (asked) return;
      this.book.add(shard);
      shard.products.forEach((label, i) => this.labels.set(shard.first + i, label));
      this.o.grown();
    } catch {
      this.shards.delete(n);
      this.o.failed();
    }
  }

  /** Who serves which purpose; undefined when it does not load. */
  async purposes(): Promise<Purposes | undefined> {
    try {
      if (!this.served) {
        const uses = await load<Uses>(this.o.shared, "uses");
        this.book.addAlone(uses);
        this.served = new Purposes(uses);
      }
      this.failing = false;
    } catch {
      this.failing = true;
      this.o.failed();
    }
    return this.served;
  }

  /** What a rule says; asked for, and undefined, until it is loaded. */
  saying(rule: number): Saying | undefined {
    const file = Math.floor(rule / this.book.core.per_says);
    if (!this.saysAsked.has(file)) {
      this.saysAsked.add(file);
      void load<Says>(this.o.own, `says-${file}`).then(
        (s) => {
          s.rules.forEach((one, i) => this.says.set(s.first + i, one));
          this.o.said();
        },
        () => {
          this.saysAsked.delete(file);
          this.o.failed();
        },
      );
    }
    return this.says.get(rule);
  }
}
