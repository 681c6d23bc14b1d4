/** SHA-256 of FIPS 180-4, at once: the browser's own only answers later, and only over https. */

const FIRST_PRIMES = 64;
const WORD = 2 ** 32;

/** The first 32 bits behind the point of a root of each of the first primes. */
function roots(power: number, count: number): Uint32Array {
  const words = new Uint32Array(count);
  let found = 0;
  for (let number = 2; found < count; number++) {
    let divisor = 2;
    while (divisor * divisor <= number && number % divisor !== 0) divisor++;
    if (divisor * divisor <= number) continue;
    words[found++] = (number ** power % 1) * WORD;
  }
  return words;
}

const K = roots(1 / 3, FIRST_PRIMES);
const START = roots(1 / 2, 8);

const turned = (word: number, by: number) => (word >>> by) | (word << (32 - by));

function padded(bytes: Uint8Array): DataView {
  const view = new DataView(new ArrayBuffer(Math.ceil((bytes.length + 9) / 64) * 64));
  new Uint8Array(view.buffer).set(bytes);
  view.setUint8(bytes.length, 0x80);
  view.setUint32(view.byteLength - 8, (bytes.length * 8) / WORD);
  view.setUint32(view.byteLength - 4, bytes.length * 8);
  return view;
}

/** 32 bytes. */
export function sha256(bytes: Uint8Array): Uint8Array {
  const view = padded(bytes);
  const sum = START.slice();
  const w = new Uint32Array(64);
  const at = (index: number) => w[index] as number;
  for (let block = 0; block < view.byteLength; block += 64) {
    for (let i = 0; i < 64; i++) {
      if (i < 16) w[i] = view.getUint32(block + i * 4);
      else {
        const [x, y] = [at(i - 15), at(i - 2)];
        const before = turned(x, 7) ^ turned(x, 18) ^ (x >>> 3);
        const after = turned(y, 17) ^ turned(y, 19) ^ (y >>> 10);
        w[i] = at(i - 16) + before + at(i - 7) + after;
      }
    }
    let [a, b, c, d, e, f, g, h] = sum as unknown as [
      number,
      number,
      number,
      number,
      number,
      number,
      number,
      number,
    ];
    for (let i = 0; i < 64; i++) {
      const one =
        h + (turned(e, 6) ^ turned(e, 11) ^ turned(e, 25)) + ((e & f) ^ (~e & g)) + (K[i] as number) + at(i);
      const two = (turned(a, 2) ^ turned(a, 13) ^ turned(a, 22)) + ((a & b) ^ (a & c) ^ (b & c));
      [h, g, f, e, d, c, b, a] = [g, f, e, (d + one) | 0, c, b, a, (one + two) | 0];
    }
    for (const [i, word] of [a, b, c, d, e, f, g, h].entries()) sum[i] = (sum[i] as number) + word;
  }
  const out = new DataView(new ArrayBuffer(32));
  for (const [i, word] of sum.entries()) out.setUint32(i * 4, word);
  return new Uint8Array(out.buffer);
}

// a part of the language wherever this runs, though TypeScript keeps it with the DOM
declare const TextEncoder: new () => { encode(text: string): Uint8Array };

/** UTF-8; a lone surrogate becomes U+FFFD. */
export const utf8 = (text: string): Uint8Array => new TextEncoder().encode(text);
