// The script of every page. What it adds, a page can do without.
import { loadScript } from "./page/script";
import { takeMessages } from "./page/words";
import { startOffline } from "./page/offline";
import { startBox } from "./search/box";

declare global {
	interface Window {
		tankleafWords: (all: Record<string, string>) => void;
	}
}

const script = document.currentScript as HTMLScriptElement;
let coming: Promise<void> | undefined;

// words brings what the script says, when it has something to say. A second try
// follows a failure.
function words(): Promise<void> {
	window.tankleafWords = takeMessages;
	coming ??= loadScript(new URL(script.dataset["words"] ?? "", location.href).href).catch((e: unknown) => {
		coming = undefined;
		throw e;
	});
	return coming;
}

const root = new URL(".", script.src).href;
const index = `${root}find/${document.documentElement.lang}/`;
for (const place of document.querySelectorAll<HTMLElement>(".seek")) startBox(place, index, words);
startOffline(root, words);
