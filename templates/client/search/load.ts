// Brings parts of the index into a page: scripts that call shard.
import { loadScript } from "../page/script";
import { Engine, Loader } from "./engine";

type Register = (version: string, name: string, ...content: unknown[]) => void;

// scripts returns a loader of the scripts in a folder. Each part is asked for
// with its publication, and the root of a second try with a word that no cache
// knows: so a copy on the way never answers with another publication's.
function scripts(folder: string, again: string): Loader {
	return (name, version) => {
		const v = version || again;
		return loadScript(folder + name + ".js" + (v && "?v=" + v));
	};
}

// openEngine returns an engine on the index in a folder. There is one a page;
// again is empty for the first.
export function openEngine(folder: string, again = ""): Engine {
	const engine = new Engine(scripts(folder, again));
	const register: Register = (version, name, ...content) => engine.register(version, name, content);
	(globalThis as { shard?: Register }).shard = register;
	return engine;
}
