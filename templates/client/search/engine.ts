// The engine: loads the parts that a query needs and answers it. It knows no
// page; what loads a part is given to it.
import { Answer, Finder } from "./find";
import { Index, Root } from "./index";
import { Scorer } from "./score";

// A Loader brings a part of the index of one publication. "root" is asked for
// with no publication; the texts of every other part come through register.
export type Loader = (name: string, version: string) => Promise<void>;

export class Engine {
	private version = "";
	private index: Index | undefined;
	private scorer: Scorer | undefined;
	private rooted: Promise<void> | undefined;
	private readonly coming = new Map<string, Promise<void>>();

	constructor(private readonly load: Loader) {}

	// register takes in one call of a shard. A part of another publication than
	// the root's is not taken.
	register(version: string, name: string, content: unknown[]): void {
		if (name === "root") {
			this.version = version;
			this.index = new Index(content[0] as Root);
			this.scorer = new Scorer(this.index);
		} else if (version === this.version) {
			this.index?.add(name, content as string[]);
		}
	}

	// kinds returns the kinds of documents, after open.
	kinds(): { kind: string; n: number }[] {
		return this.index?.root.kinds ?? [];
	}

	// open loads the root.
	open(): Promise<void> {
		this.rooted ??= this.load("root", "").then(() => {
			if (!this.index) throw new Error("the index has no root");
		});
		return this.rooted;
	}

	// find answers a query: at once when all parts are there. It fails when one
	// cannot be loaded. early is given the first results, in their order, while the
	// cards of others are still on their way.
	find(text: string, kind: string, limit: number, early?: (answer: Answer) => void): Answer | Promise<Answer> {
		if (!this.index) return this.open().then(() => this.find(text, kind, limit, early));
		const finder = new Finder(this.index, this.scorer!, text, kind, limit);
		return finder.answer() ?? this.finish(finder, early);
	}

	private async finish(finder: Finder, early: ((answer: Answer) => void) | undefined): Promise<Answer> {
		for (;;) {
			await this.fetch([...this.index!.need], () => {
				const first = early && finder.early();
				if (first) early!(first);
			});
			const answer = finder.answer();
			if (answer) return answer;
		}
	}

	// body returns the whole text of a result.
	async body(doc: number): Promise<string> {
		const ix = this.index!;
		ix.need.clear();
		const text = ix.body(doc);
		if (ix.need.size === 0) return text;
		await this.fetch([...ix.need]);
		return ix.body(doc);
	}

	// fetch loads parts; each is called after every one of them.
	private async fetch(names: string[], each = (): void => undefined): Promise<void> {
		const version = this.version;
		await Promise.all(names.map((name) => {
			let one = this.coming.get(name);
			if (!one) {
				one = this.load(name, version).then(() => {
					if (!this.index!.has(name)) throw new Error(`part ${name} is of another publication`);
				});
				this.coming.set(name, one);
				one.catch(() => this.coming.delete(name)); // the next query may try again
			}
			return one.then(each);
		}));
	}
}
