/** Asks the browser not to throw away what is written here when the phone runs short of space. */

/** True where it promised to; false where it did not, or cannot be asked (WebKit has no navigator.storage in places). */
export async function keepStorage(): Promise<boolean> {
  try {
    if (!navigator.storage?.persist) return false;
    return (await navigator.storage.persisted()) || (await navigator.storage.persist());
  } catch {
    return false;
  }
}
