// Scripts that are brought in when they are needed. They are classic ones, since
// that works from a folder as well as over http.

/** Runs a script once. */
export function loadScript(src: string): Promise<void> {
  return new Promise((resolve, reject) => {
    const script = document.createElement("script");
    script.src = src;
    script.addEventListener("load", () => {
      script.remove();
      resolve();
    });
    script.addEventListener("error", () => {
      script.remove();
      reject(new Error("no script " + src));
    });
    document.head.append(script);
  });
}
