// What a reader entered, in the address of its page: after "#", as KEY=VALUE joined
// by "&". So it can be shared and marked, and outlasts a reload, over http and from a
// folder, and nothing of it is sent. An address from elsewhere is read as far as it
// can be; what is not understood is handed back as it stands, never guessed at.

/** The most characters of one text in an address: more than any field is asked for, and little enough to show. */
const longest = 2000;

/** One part of an address. */
export function pair(key: string, value: string): string {
  return key + "=" + encode(value);
}

/**
 * Offers each part of an address to take, and returns those that it does not take or
 * that cannot be read.
 */
export function readPairs(hash: string, take: (key: string, value: string) => boolean): string[] {
  const lost: string[] = [];
  for (const piece of hash.replace(/^#/, "").split("&")) {
    if (piece === "") continue;
    const cut = piece.indexOf("=");
    const value = cut < 0 ? undefined : decode(piece.slice(cut + 1));
    if (value === undefined || value.length > longest || !take(piece.slice(0, cut), value)) lost.push(decode(piece) ?? piece);
  }
  return lost;
}

/** Percent-encodes what an address cannot hold, and leaves readable what it can. */
function encode(s: string): string {
  return encodeURIComponent(s).replace(/%20/g, "+").replace(/%2F/g, "/").replace(/%3A/g, ":").replace(/%2C/g, ",");
}

/** A "%" that begins no escape stands for itself, as in a rate that was written by hand. */
function decode(s: string): string | undefined {
  try {
    return decodeURIComponent(s.replace(/\+/g, " ").replace(/%(?![0-9a-f]{2})/gi, "%25"));
  } catch {
    return undefined;
  }
}

/** Whether what stands after "#" is what was entered, and not the way to a part of the page. */
export function isState(hash: string): boolean {
  return hash === "" || hash.includes("=");
}

/** Keeps what was entered and the address of the page in step. */
export class Address {
  private kept = ""; // as it was read or written last

  /**
   * opened is called when another address comes in its place, leaving before the page
   * is left. The page in another language is opened with the same.
   */
  constructor(
    private readonly opened: () => void,
    leaving: () => void,
  ) {
    window.addEventListener("hashchange", () => this.moved());
    window.addEventListener("pagehide", leaving);
    for (const a of document.querySelectorAll<HTMLAnchorElement>(".tongues a")) {
      a.addEventListener("click", () => {
        leaving();
        a.hash = location.hash;
      });
    }
  }

  /** What was entered, as it stands in the address. */
  read(): string {
    const now = standing();
    this.kept = isState(now) ? now : "";
    return this.kept;
  }

  /** Writes what was entered into the address, without a step for the way back. */
  write(address: string): void {
    this.kept = address;
    if (standing() !== address) history.replaceState(null, "", address === "" ? location.pathname + location.search : "#" + address);
  }

  /** A leap to a part of the page is no other address: what was entered goes back into it. */
  private moved(): void {
    const now = standing();
    if (now === this.kept) return;
    if (isState(now)) this.opened();
    else this.write(this.kept);
  }
}

const standing = (): string => location.hash.replace(/^#/, "");
