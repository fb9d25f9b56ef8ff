// A button that copies an address. What came of it stands on the button.

import { h } from "./dom";

export interface CopyOptions {
  label: string;
  copied: string;
  byHand: string; // where the browser does not let a page copy
  address: () => string;
  tell?: (words: string) => void; // to readers by ear
}

export function copyButton(o: CopyOptions): HTMLButtonElement {
  const say = (words: string): void => {
    button.textContent = words;
    o.tell?.(words);
  };
  const copy = async (): Promise<void> => {
    try {
      await navigator.clipboard.writeText(o.address());
      say(o.copied);
    } catch {
      say(o.byHand);
    }
  };
  const button = h("button", { type: "button", class: "act", click: () => void copy() }, o.label);
  return button;
}
