/** What is piece 7 of this session called, on every phone? (Apart from ids.ts: only the bench needs a hash.) */

import { written } from "./ids";
import { whileSame } from "./read";
import { sha256, utf8 } from "./sha256";

/** UUIDv8 out of any text: the first 16 bytes of its SHA-256, with version and variant set. */
export function uuid8(text: string): string {
  const bytes = sha256(utf8(text)).slice(0, 16);
  bytes[6] = 0x80 | ((bytes[6] ?? 0) & 0x0f);
  bytes[8] = 0x80 | ((bytes[8] ?? 0) & 0x3f);
  return written(bytes);
}

/** One machine cuts one piece at a time: the same number in the same session is the same piece on every phone. */
export const pieceId = whileSame((session: string, number: number) => uuid8(`piece:${session}:${number}`));
