/** Was there ever anything written on this phone? Kept apart from the store, to notice when that is gone. */

// cookies know no ports: a demo beside the workshop must not be taken for it
const mark = () => `easelside_kept_${location.port}`;
const SECONDS = 400 * 24 * 3600; // the longest that browsers keep a cookie

/** A browser short of space throws the store and localStorage away together, but leaves a cookie. */
export const storageKept = {
  wasThere(): boolean {
    if (typeof document === "undefined") return false;
    return document.cookie.split("; ").includes(`${mark()}=1`);
  },
  mark(): void {
    if (typeof document === "undefined") return;
    // biome-ignore lint/suspicious/noDocumentCookie: the Cookie Store API is missing in WebKit
    document.cookie = `${mark()}=1; path=/; max-age=${SECONDS}; samesite=strict`;
  },
};
