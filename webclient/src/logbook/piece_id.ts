/** What is piece 7 of this session called, on every phone? (Apart from ids.ts: only the bench needs a hash.) */

import { sha256 } from "@noble/hashes/sha2.js";
import { utf8ToBytes } from "@noble/hashes/utils.js";
import { written } from "./ids";

/** UUIDv8 out of any text: the first 16 bytes of its SHA-256, with version and variant set. */
export function uuid8(text: string): string {
  const bytes = sha256(utf8ToBytes(text)).slice(0, 16);
  bytes[6] = 0x80 | ((bytes[6] ?? 0) & 0x0f);
  bytes[8] = 0x80 | ((bytes[8] ?? 0) & 0x3f);
  return written(bytes);
}

/** One machine cuts one piece at a time: the same number in the same session is the same piece on every phone. */
export function pieceId(session: string, number: number): string {
  return uuid8(`piece:${session}:${number}`);
}
