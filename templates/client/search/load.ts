// Brings parts of the index into a page: as classic scripts that call
// tankleafShard, since that works from a folder as well as over http.
import { Engine, Loader } from "./engine";

type Register = (version: string, name: string, ...content: unknown[]) => void;

// scripts returns a loader of the scripts in a folder, relative to the page.
function scripts(folder: string): Loader {
	return (name, version) => new Promise((resolve, reject) => {
		const script = document.createElement("script");
		script.src = folder + name + ".js" + (version === "" ? "" : "?v=" + version);
		script.addEventListener("load", () => {
			script.remove();
			resolve();
		});
		script.addEventListener("error", () => {
			script.remove();
			reject(new Error("no script " + name));
		});
		document.head.append(script);
	});
}

// openEngine returns an engine on the index in a folder. There is one a page.
export function openEngine(folder: string): Engine {
	const engine = new Engine(scripts(folder));
	const register: Register = (version, name, ...content) => engine.register(version, name, content);
	(globalThis as { tankleafShard?: Register }).tankleafShard = register;
	return engine;
}
