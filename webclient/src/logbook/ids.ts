/** What is this record called? Ids of RFC 9562, made from a time and chance that are handed in. */

/** The one record of the workshop. */
export const WORKSHOP = "00000000-0000-8000-8000-000000000001";

export const hex = (bytes: Uint8Array): string =>
  Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0")).join("");

/** 16 bytes as a lower-case UUID. */
export const written = (bytes: Uint8Array): string =>
  hex(bytes).replace(/^(.{8})(.{4})(.{4})(.{4})/, "$1-$2-$3-$4-");

/** UUIDv7: 48 bits of Unix milliseconds, then version, 12 bits, variant, 62 bits out of `chance` (10 bytes). */
export function uuid7(now_ms: number, chance: Uint8Array): string {
  if (chance.length < 10) throw new RangeError("a UUIDv7 needs ten bytes of chance");
  const bytes = new Uint8Array(16);
  let rest = Math.max(0, Math.floor(now_ms));
  for (let place = 5; place >= 0; place--) {
    bytes[place] = rest % 256;
    rest = Math.floor(rest / 256);
  }
  bytes.set(chance.subarray(0, 10), 6);
  bytes[6] = 0x70 | ((bytes[6] ?? 0) & 0x0f);
  bytes[8] = 0x80 | ((bytes[8] ?? 0) & 0x3f);
  return written(bytes);
}
